import { dayOf } from '../core/days/calendar.js';
import { momentOf } from '../core/ledger/moment.js';
import type { RefusalCode, RefusalValues, Told } from '../core/refusals.js';
import type { Day } from '../units.js';
import { refusalEn } from './en/refusals.js';
import { refusals as refusalsPt } from './pt/refusals.js';
import type { Words } from './words.js';

/** What the words of a language need beside the values. */
export interface Around {
  readonly words: Words;
  readonly today: Day;
  readonly zone: string;
}

/** Every code has words: one that is missing does not compile. */
export type RefusalWords = {
  readonly [C in RefusalCode]: (around: Around, ...values: RefusalValues<C>) => Told;
};

/** Returns why something was refused in the reader's language, with what to do about it. */
export function refusalText(code: RefusalCode, values: readonly unknown[], around: Around): string {
  const told =
    around.words.language === 'pt'
      ? (refusalsPt[code] as (around: Around, ...values: unknown[]) => Told)(around, ...values)
      : refusalEn(code, values, around);
  return typeof told === 'string' ? told : told.join(' ');
}

/** A day or a moment as people say it. */
export function dayText(text: string, { words, today, zone }: Around): string {
  const at = momentOf(text, zone);
  return at === null ? text : words.day(dayOf(at, zone), today);
}

/** A day at the bench, with its weekday. */
export function weekdayText(text: string, { words, today, zone }: Around): string {
  const at = momentOf(text, zone);
  return at === null ? text : words.weekday(dayOf(at, zone), today);
}
