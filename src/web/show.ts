import { dayOf } from '../core/days/calendar.js';
import type { Likely } from '../core/ledger/comingUp.js';
import { intervalFor } from '../core/ledger/interval.js';
import type { IntervalRule } from '../core/ledger/ledger.js';
import { BY_COMMAND, riderOf } from '../flow/entry.js';
import type { Limits } from '../flow/facts/intervalsPage.js';
import { dateFormat, listFormat, numberFormat } from '../languages/formats.js';
import {
  type Day,
  day,
  hoursOfSeconds,
  hoursOfThousandths,
  type Instant,
  msOf,
  type Seconds,
  type Thousandths,
} from '../units.js';
import type { Viewer, Voice } from './viewer.js';

/** Before any year that is not told. */
export const LONG_AGO = day('2000-01-01');
const EVERY = { unitId: null, model: null, fleetId: null };
const NO_UNIT = { id: '', tag: '', model: null, serial: null, factor: 1, history: 'new' } as const;

/** Returns the day and the clock time in the workshop's zone. */
export function timeText(
  at: Instant,
  { words, zone, today }: Pick<Viewer, 'words' | 'zone' | 'today'>,
): string {
  return `${words.day(dayOf(at, zone), today)}, ${clockText(at, { words, zone })}`;
}

/** Returns the time of day. */
export const clockText = (at: Instant, { words, zone }: Pick<Viewer, 'words' | 'zone'>): string =>
  dateFormat(words.locale, { hour: '2-digit', minute: '2-digit', timeZone: zone }).format(at);

/** Returns the time of day as a field of a form holds it, whatever the language. */
export const inputTime = (at: Instant, zone: string): string =>
  new Date(at).toLocaleTimeString('en-GB', { timeZone: zone, hour: '2-digit', minute: '2-digit' });

/** Returns a number with two decimals, so that weight times hours can be checked by hand. */
export const twoDecimals = (value: number, { words }: Voice): string =>
  numberFormat(words.locale, { minimumFractionDigits: 2, maximumFractionDigits: 2 }).format(value);

/** Returns the factor that made a ride's moving time its terrain time. */
export const weightText = (
  { movingS, terrainMs }: { readonly movingS: Seconds; readonly terrainMs: Thousandths },
  voice: Voice,
): string => twoDecimals(movingS === 0 ? 0 : terrainMs / msOf(movingS), voice);

/** Whether hours and weight, as they are printed, do not come to the terrain hours as they are printed. */
export function readsOtherwise({
  movingS,
  terrainMs,
}: {
  readonly movingS: Seconds;
  readonly terrainMs: Thousandths;
}): boolean {
  const tenths = (hours: number): number => Math.round(10 * hours);
  const weight = Math.round((100 * terrainMs) / Math.max(1, msOf(movingS))) / 100;
  return tenths((tenths(hoursOfSeconds(movingS)) / 10) * weight) !== tenths(hoursOfThousandths(terrainMs));
}

/** Returns the limits of an interval in words: `50 h or 12 months`. */
export function limitsText(limits: Limits, { words, texts }: Voice): string {
  const parts: string[] = [];
  if (limits.terrainHours !== null) parts.push(words.hours(limits.terrainHours));
  if (limits.months !== null) parts.push(words.counted(limits.months, 'month'));
  if (typeof limits.movingHoursCeiling === 'number')
    parts.push(texts.due.ceiling(words.hours(limits.movingHoursCeiling)));
  if (parts.length === 0) return texts.intervals.none;
  return listFormat(words.locale, { type: 'disjunction' }).format(parts);
}

/** The likely date in words: when it was reached, the one date, or the middle one with its range. */
export interface LikelyText {
  readonly middle: string;
  readonly range: string | null;
}

export function likelyText({ p10, p50, p90 }: Likely, viewer: Viewer): LikelyText {
  const { due } = viewer.texts;
  const say = (on: Day): string => viewer.words.day(on, viewer.today);
  if (p10 === null) return { middle: due.unforeseen, range: null };
  const range = p90 === null ? due.rangeOpen(say(p10)) : due.range(say(p10), say(p90));
  if (p50 === null) return { middle: due.beyond, range };
  const isOneDay = p10 === p50 && p90 === p50;
  const middle = isOneDay && p50 <= viewer.today ? due.reached(say(p50)) : say(p50);
  return { middle, range: isOneDay ? null : range };
}

/** To which day rides are known, and how many terrain hours are expected since. */
export interface KnownTo {
  readonly knownUpTo: Day | null;
  readonly expectedHours: number;
}

/** Returns to which day a unit's rides are known and what is expected since; null where every day is known. */
export function knownText({ knownUpTo, expectedHours }: KnownTo, voice: Voice, today: Day): string | null {
  if (knownUpTo === null || knownUpTo >= today) return null;
  const { knownTo, knownSince } = voice.texts.due;
  const on = voice.words.day(knownUpTo, today);
  if (expectedHours < LEAST_TOLD) return knownTo(on);
  const about = expectedHours < 1 ? expectedHours : Math.round(expectedHours);
  return knownSince(on, voice.words.hours(about));
}

/** Fewer hours are told as none. */
const LEAST_TOLD = 0.05;

/** Returns a day with its year, for what is kept on paper. */
export const datedText = (on: Day, { words }: Voice): string => words.day(on, LONG_AGO);

/** Returns who entered something: an account by its name, the command line and a rider in words. */
export function byText({ texts }: Pick<Voice, 'texts'>, by: string): string {
  if (by === BY_COMMAND) return texts.commandLine;
  return riderOf(by) === null ? by : texts.theRider;
}

/** A telephone number that no line breaks. */
export const unbroken = (phone: string): string => phone.replaceAll(' ', '\u00a0');

/** Returns the text with a capital in front, for the start of a title. */
export const capitalised = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** Returns the ceilings that the usual rule comes to, after the warranty and under it. */
export function usualCeilings(rule: IntervalRule): { after: number | null; under: number | null } {
  const ceiling = (warrantyEnd: Day | null): number | null => {
    const { unitKind, serviceKind } = rule;
    const unit = { ...NO_UNIT, unitKind, warrantyEnd };
    const found = intervalFor(unit, serviceKind, null, [{ ...rule, scope: EVERY }], LONG_AGO, []);
    return found?.movingHoursCeiling ?? null;
  };
  return { after: ceiling(null), under: ceiling(LONG_AGO) };
}
