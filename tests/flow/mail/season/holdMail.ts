/** Holds a mail against the pencil, whatever its kind. */
import { expect } from 'vitest';
import { UNCONFIRMED } from './cast.js';
import { holdDigest } from './holdDigest.js';
import { holdReminder } from './holdReminder.js';
import { daysFrom, type Look } from './look.js';
import { dayIn } from './readMail.js';

export function holdMail(look: Look, to: string, subject: string, text: string): Promise<void> {
  return look.tell(`${to} “${subject}”`, () => holdOne(look, to, subject, text));
}

function holdOne(look: Look, to: string, subject: string, text: string): void {
  const n = Number(/^r(\d+)@/.exec(to)?.[1] ?? 0);
  if (n === 0 && subject.startsWith('Services, ')) holdDigest(look, text);
  else if (/^(Do not ride|Stop riding)/.test(subject)) holdStop(look, n, text);
  else if (n === UNCONFIRMED) expect(text).not.toMatch(/\d h\b|Bike number/);
  else if (subject.startsWith('Nothing since ')) holdSilence(look, n, text);
  else holdReminder(look, n, subject, text);
}

function holdStop(look: Look, n: number, text: string): void {
  look.held.stops += 1;
  const [before = ''] = text.split('\n-- ');
  expect(before).not.toMatch(/\d h\b|likely|about|Ask for a day|Stop these/);
  const about = [...look.play.marked].filter(([tag]) => before.includes(tag));
  expect(about).toHaveLength(1);
  const [[tag, why]] = about as [[string, string]];
  expect(before).toContain(why);
  if (n > 0) expect(Number(tag.slice(2))).toBe(n);
}

function holdSilence(look: Look, n: number, text: string): void {
  look.held.silences += 1;
  const last = look.play.pencil.known(n, look.play.at).at(-1)!;
  const [, since = ''] =
    /The last ride that reached us is from (.+?)\./.exec(text.replace(/\s+/g, ' ')) ?? [];
  expect(dayIn(since, look.play.today)).toBe(last.day);
  expect(daysFrom(last.day, look.play.today)).toBeGreaterThanOrEqual(21);
  look.reminded.push(`r${n} ${look.play.today}`);
  expect(look.silent.has(`${n} ${last.day}`), 'asked twice').toBe(false);
  look.silent.add(`${n} ${last.day}`);
}
