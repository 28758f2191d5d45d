import { html } from 'hono/html';
import { parseDay } from '../../core/days/dayNumber.js';
import { monthsIn } from '../../core/days/monthList.js';
import { ALL_MONTHS, MOST_HOURS_A_WEEK } from '../../core/forecast/declared.js';
import { warmMonths } from '../../core/forecast/hemisphere.js';
import type { DeclaredFact } from '../../core/ledger/facts.js';
import { GROUNDS } from '../../core/tokens.js';
import type { Day } from '../../units.js';
import { field, type Markup } from '../markup.js';
import type { Fields } from '../taken.js';
import type { Voice } from '../viewer.js';
import { taps } from './taps.js';

interface Asker extends Voice {
  readonly today: Day;
  readonly zone: string;
}

/** Returns what somebody declared, in words. */
export function declaredText({ words, texts }: Voice, { hoursAWeek, ground, months }: DeclaredFact): string {
  return texts.declared.said(words.hours(hoursAWeek), words.ground[ground], words.months(months));
}

/** Two questions, how much and when; the rest has answers that suit most. */
export function declaredFields({ words, texts, today, zone }: Asker, fields: Fields): Markup {
  const { declared: says } = texts;
  const warm = warmMonths(zone, today);
  return html`
${field({ name: 'hoursAWeek', label: says.hours, value: fields.hoursAWeek, hint: says.hoursHint, inputmode: 'decimal', isShort: true, isRequired: true })}
${taps(
  'ridesOn',
  says.ground,
  fields.ridesOn ?? 'typical',
  GROUNDS.map((one) => [one, words.ground[one]]),
)}
${taps('season', says.when, fields.season ?? 'all', [
  ['all', words.allYear],
  ['warm', words.months(warm)],
  ['these', says.these],
])}
<div class="row">${field({ name: 'months', label: says.months, value: fields.months, hint: says.monthsHint, isShort: true })}
${field({ name: 'declaredFrom', label: says.from, type: 'date', value: fields.declaredFrom ?? today, isRequired: true })}</div>`;
}

/** Returns what was typed into these fields, or which words say what is wrong. */
export function declaredIn(
  { texts, today, zone }: Asker,
  fields: Fields,
): Omit<DeclaredFact, 'bikeId'> | { readonly wrong: string } {
  const { declared: says } = texts;
  const typedHours = (fields.hoursAWeek ?? '').trim().replace(',', '.');
  const hoursAWeek = Number(typedHours);
  const from = parseDay(fields.declaredFrom ?? '');
  const isMeant = typedHours !== '' && hoursAWeek >= 0 && hoursAWeek <= MOST_HOURS_A_WEEK;
  if (!isMeant || from === null || from > today) return { wrong: says.need };
  const isTyped = fields.season === 'these';
  if (isTyped && (fields.months ?? '').trim() === '') return { wrong: says.needMonths };
  const typed = isTyped ? monthsIn(fields.months ?? '') : null;
  if (isTyped && typed === null) return { wrong: says.needMonths };
  const months = typed ?? (fields.season === 'warm' ? warmMonths(zone, today) : ALL_MONTHS);
  const ground = GROUNDS.find((one) => one === fields.ridesOn) ?? 'typical';
  return { hoursAWeek, ground, months, from, to: null };
}

/** Returns how much of some hours is declared, in words; null where nothing is. */
export function declaredPart(
  { words, texts }: Voice,
  declaredHours: number,
  allHours: number,
): string | null {
  if (declaredHours <= 0) return null;
  return declaredHours >= allHours ? texts.declared.all : texts.declared.part(words.measured(declaredHours));
}
