/** Holds a mail against the pencil, whatever its kind. */
import { expect } from 'vitest';
import type { MailKind } from '../../../../src/core/notices/notice/notice.js';
import type { OutgoingMail } from '../../../../src/ports/mailer.js';
import { UNCONFIRMED } from './cast.js';
import { holdDigest } from './holdDigest.js';
import { holdReminder } from './holdReminder.js';
import { daysFrom, type Look } from './look.js';
import { dayIn } from './readMail.js';

/** Goes by what the store calls the mail, so that none is taken for another; answers to a rider's own act are no reminders. */
export function holdMail(look: Look, kind: MailKind, { to, subject, text }: OutgoingMail): Promise<void> {
  const n = Number(/^r(\d+)@/.exec(to.address)?.[1] ?? 0);
  return look.tell(`${to.address} “${subject}”`, () => {
    if (kind === 'digest') holdDigest(look, text);
    else if (kind === 'stop-riding') holdStop(look, n, text);
    else if (kind === 'silence') holdSilence(look, n, text);
    else if (kind === 'reminder') holdReminder(look, n, subject, text);
    if (n === UNCONFIRMED) expect(text).not.toMatch(/\d h\b|Bike number/);
  });
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
