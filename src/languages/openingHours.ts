import { oneLine } from '../core/lines.js';
import { WEEKDAYS, type Weekday } from '../core/tokens.js';
import { DAY_MS } from '../units.js';
import { languageOf, type Words } from './index.js';

/** A Monday. */
const MONDAY_MS = Date.UTC(2024, 0, 1);

const TIME = /\b([01]?\d|2[0-3])(?:[:.h]([0-5]\d))?\b/g;

/** When a workshop is open, as it typed it, in its language; and its open days, for readers of another. */
interface OpeningTimes {
  readonly openingHours: string | null;
  readonly language?: string;
  readonly openDays?: readonly Weekday[];
}

const nameOf = (day: Weekday, { locale }: Words): string =>
  new Intl.DateTimeFormat(locale, { weekday: 'long', timeZone: 'UTC' }).format(
    MONDAY_MS + WEEKDAYS.indexOf(day) * DAY_MS,
  );

/** Returns the one time from which and the one until which it is open; null where more is typed than two times. */
function hoursIn(typed: string): string | null {
  const times = [...typed.matchAll(TIME)].map(([, hour, minutes]) =>
    minutes ? `${hour}:${minutes}` : `${hour}`,
  );
  return times.length === 2 ? times.join('–') : null;
}

/**
 * Returns when the workshop is open, for a reader of a language: as typed in its own, else its open days in words and
 * the times where two were typed.
 */
export function openingHoursFor(workshop: OpeningTimes, words: Words): string[] {
  const { openingHours, openDays, language } = workshop;
  const typed = (openingHours ?? '')
    .split(/[\r\n]+/)
    .map(oneLine)
    .filter((line) => line !== '');
  const isOwn = language === undefined || languageOf(language) === words.language;
  if (typed.length === 0 || isOwn || !openDays || openDays.length === 0) return typed;
  const days = words.list(openDays.map((day) => nameOf(day, words)));
  const hours = hoursIn(typed.join(' '));
  return [hours === null ? days : `${days}, ${hours}`];
}
