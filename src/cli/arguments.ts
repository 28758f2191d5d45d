/** What is typed behind a command, read before anything of it is loaded. */
import { InvalidArgumentError } from 'commander';
import { parseDay } from '../core/days/dayNumber.js';
import { monthsIn } from '../core/days/monthList.js';
import { plainTime } from '../core/days/plainTime.js';
import type { HandleKind } from '../ports/handles.js';
import type { Day, Instant } from '../units.js';

export function dayArgument(text: string): Day {
  const day = parseDay(text);
  if (day === null) throw new InvalidArgumentError('It must be a day, YYYY-MM-DD.');
  return day;
}

/** Months as `4-10` or `4,5`. */
export function monthsArgument(text: string): readonly number[] {
  const months = monthsIn(text);
  if (months === null)
    throw new InvalidArgumentError('It must be months from 1 to 12, such as 4-10 or 11,12.');
  return months;
}

/** Returns the clock of a call; as it was typed where the workshop’s zone, which is not known yet, says what is meant. */
export function timeArgument(text: string): Instant | string {
  const at = plainTime(text);
  if (at !== null) return at;
  if (parseDay(text) !== null || plainTime(`${text}Z`) !== null) return text;
  throw new InvalidArgumentError(
    'It must be a time in ISO 8601, such as 2025-05-20T08:00:00Z, or 2025-05-20T08:00 on the workshop’s clocks.',
  );
}

/** Returns a day or a time as it was typed; what it means without a zone is for the workshop's to say. */
export function momentArgument(text: string): string {
  if (parseDay(text) !== null || plainTime(text) !== null || plainTime(`${text}Z`) !== null) return text;
  throw new InvalidArgumentError(
    'It must be a day, such as 2025-06-12, or a time, such as 2025-06-12T08:00 on the workshop’s clocks, or 2025-06-12T08:00:00Z.',
  );
}

/** Which climbs were ridden, by the numbers that the tray gives them. */
export function climbsArgument(text: string): 'all' | 'none' | number[] {
  if (text === 'all' || text === 'none') return text;
  const numbers = text.split(',').map((one) => Number(one));
  if (text === '' || !numbers.every((one) => Number.isInteger(one) && one > 0))
    throw new InvalidArgumentError('It must be all, none, or numbers such as 1,3,4.');
  return numbers;
}

export function minutesArgument(text: string): number {
  const minutes = Number(text);
  if (!(minutes > 0 && minutes <= 1440))
    throw new InvalidArgumentError('It must be minutes, from more than 0 to 1440.');
  return minutes;
}

export function percentArgument(text: string): number {
  const percent = Number(text);
  if (!(percent > 0 && percent < 100))
    throw new InvalidArgumentError('It must be percent of all riding, such as 10.');
  return percent;
}

export function numberArgument(text: string): number {
  const value = Number(text);
  if (text.trim() === '' || !Number.isFinite(value)) throw new InvalidArgumentError('It must be a number.');
  return value;
}

export const MOST_WEEKS = 26;

export function weeksArgument(text: string): number {
  const weeks = Number(text);
  if (Number.isInteger(weeks) && weeks >= 1 && weeks <= MOST_WEEKS) return weeks;
  throw new InvalidArgumentError(`It must be a whole number from 1 to ${MOST_WEEKS}.`);
}

export const NAMED = ['unit', 'bike', 'rider', 'fleet', 'race'] as const satisfies readonly HandleKind[];

export function kindArgument(text: string): HandleKind {
  const kind = NAMED.find((one) => one === text);
  if (kind === undefined) throw new InvalidArgumentError(`It must be one of: ${NAMED.join(', ')}.`);
  return kind;
}

export const listArgument = (text: string): string[] =>
  text === 'none' ? [] : text.split(',').map((part) => part.trim());
