import { describe, expect, it } from 'vitest';
import { TOLD_STATES } from '../../src/core/states.js';
import { mails as en } from '../../src/languages/en/mails.js';
import { mailTextsFor } from '../../src/languages/index.js';
import type { MailTexts } from '../../src/languages/mailTexts.js';
import { mails as pt } from '../../src/languages/pt/mails.js';

/** Words that a page or mail avoids, in both languages; common practice, no source. */
const AVOIDED =
  /\b(segments?|gears?|garages?|activit(y|ies)|efforts?|segmentos?|garagem|garagens|atividades?|esforços?)\b/i;

const about = { bike: '‹bike›', unit: '‹unit›', job: '‹job›', likely: '‹likely›', reason: '‹reason›' };

/** Returns every text, functions called with marks in place of words, by its path. */
const spoken = (value: unknown, path = ''): [path: string, text: string, marks: number][] => {
  if (typeof value === 'string') return [[path, value, 0]];
  if (typeof value === 'function') {
    const takesAbout = /headline|reminder\.subject|(booking|dayAsked|dayWithdrawn|dayMoved)\.said/.test(path);
    const marks = Array.from({ length: value.length }, (_, i) => (takesAbout && i === 0 ? about : `‹${i}›`));
    return [[path, String(value(...marks)), takesAbout ? 0 : value.length]];
  }
  return Object.entries(value as object).flatMap(([key, part]) =>
    spoken(part, path === '' ? key : `${path}.${key}`),
  );
};

describe.each([
  ['en', en],
  ['pt', pt],
] as const)('the texts of %s', (language, texts: MailTexts) => {
  it('avoid the words that mails avoid, and say no torque, oil or pressure', () => {
    for (const [, text] of spoken(texts)) {
      expect(text).not.toMatch(AVOIDED);
      expect(text).not.toMatch(/\d+\s*(Nm|bar|psi|ml|cc|cSt)\b/i);
    }
  });

  it('use every word they are given', () => {
    for (const [path, text, marks] of spoken(texts))
      for (let i = 0; i < marks; i += 1) expect(`${path}: ${text}`).toContain(`‹${i}›`);
  });

  it('name the bike in every headline and subject, and the job or the unit', () => {
    for (const state of TOLD_STATES.filter((one) => one !== 'stop-riding'))
      for (const text of [texts.reminder.headline[state](about), texts.reminder.subject[state](about)]) {
        expect(text).toContain('‹bike›');
        expect(text).toMatch(/‹job›|‹unit›/);
      }
  });

  it('belong to the language that is asked for', () => {
    expect(mailTextsFor(language)).toBe(texts);
  });
});

it('say the same things in both languages, in other words', () => {
  const [english, portuguese] = [spoken(en), spoken(pt)];
  expect(portuguese.map(([path]) => path)).toEqual(english.map(([path]) => path));
  const alike = english.filter(
    ([, text], i) => text === portuguese[i]?.[1] && /\p{L}{2}/u.test(text.replace(/‹\w+›/g, '')),
  );
  expect(alike.map(([path]) => path)).toEqual([]);
});

// What somebody who opens a unit must be told; the wording follows bicycle owners' manuals and a published incident
// demonstration (excerpts read), eye protection from memory.
it.each([
  [
    en,
    [
      /pressure out first, slowly/,
      /stays compressed goes to a workshop unopened/,
      /eye protection/,
      /maker's manual/,
      /torque wrench/,
      /single-use washers/,
      /off the brakes/,
      /in doubt/,
      /qualified technician/,
      /do not ride: a crack, a bend, a loose crown or steerer/,
      /in doubt do not ride: a scratch, a weep of oil, a new noise, small play/,
      /certifies that it is safe/,
    ],
  ],
  [
    pt,
    [
      /tire a pressão, devagar/,
      /fica comprimida vai à oficina sem ser aberta/,
      /proteção nos olhos/,
      /manual do fabricante/,
      /chave dinamométrica/,
      /anilhas de uso único/,
      /óleo aos travões/,
      /na dúvida/,
      /técnico qualificado/,
      /não ande: uma fissura, um empeno, coroa/,
      /na dúvida, não ande: um risco, um pouco de óleo, um ruído novo, uma folga pequena/,
      /certifica que é segura/,
    ],
  ],
] as const)('the cautions leave nothing out', (texts, wanted) => {
  const all = texts.cautions.items.join(' ');
  for (const each of wanted) expect(all).toMatch(new RegExp(each.source, 'i'));
});
