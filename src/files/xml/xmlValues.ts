import { minutesOfHours, msOf } from '../../units.js';

const DECIMAL = /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)$/;
/** Years of four digits, from 1000 on: none before stands in a ride file. */
const DATE_TIME = /^[1-9]\d{3}-\d\d-\d\dT\d\d:\d\d:\d\d(?:\.\d+)?(?:Z|[+-]\d\d:\d\d)?$/;
const MONTH_DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
const NO_MOMENT = { ms: Number.NaN, zoned: false };

/** Returns the number that an xsd:decimal stands for, NaN where it is malformed: no exponent, no comma. */
export function decimalOf(text: string | undefined): number {
  const trimmed = text?.trim() ?? '';
  return DECIMAL.test(trimmed) ? Number(trimmed) : Number.NaN;
}

/**
 * Returns the moment that an xsd:dateTime stands for; one without a zone is read as UTC.
 * Units: whole milliseconds since 1970 UTC, NaN where it is malformed.
 */
export function dateTimeOf(text: string): { ms: number; zoned: boolean } {
  const stamp = text.trim();
  if (!DATE_TIME.test(stamp)) return NO_MOMENT;
  // Digits are read one by one: groups of a pattern would cost as much as the rest of a track point.
  const year = twoDigits(stamp, 0) * 100 + twoDigits(stamp, 2);
  const month = twoDigits(stamp, 5);
  const day = twoDigits(stamp, 8);
  const hour = twoDigits(stamp, 11);
  const minute = twoDigits(stamp, 14);
  const second = twoDigits(stamp, 17);
  // Hour 24 is the end of a day; second 60 is a leap second, which a receiver may write.
  if (day < 1 || day > daysIn(year, month) || hour > 24 || minute > 59 || second > 60) return NO_MOMENT;
  const zone = zoneOf(stamp);
  const fraction = Number(`0${stamp.slice(19, stamp.length - zone.length)}`);
  const ms = Date.UTC(year, month - 1, day, hour, minute - minutesAhead(zone), second);
  return { ms: ms + Math.round(msOf(fraction)), zoned: zone !== '' };
}

const twoDigits = (text: string, at: number): number =>
  (text.charCodeAt(at) - 48) * 10 + text.charCodeAt(at + 1) - 48;

function zoneOf(stamp: string): string {
  if (stamp.endsWith('Z')) return 'Z';
  return stamp.at(-3) === ':' && stamp.at(-6) !== ':' ? stamp.slice(-6) : '';
}

function minutesAhead(zone: string): number {
  if (zone.length < 6) return 0;
  const minutes = minutesOfHours(twoDigits(zone, 1)) + twoDigits(zone, 4);
  return zone.startsWith('-') ? -minutes : minutes;
}

/** 0 where there is no such month. */
function daysIn(year: number, month: number): number {
  const leap = month === 2 && year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  return (MONTH_DAYS[month - 1] ?? 0) + (leap ? 1 : 0);
}
