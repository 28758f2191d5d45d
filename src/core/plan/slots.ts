import type { Day } from '../../units.js';
import { addDays, earlierDay, nextOpenDays, weekdayOf } from '../days/calendar.js';
import { dayNumber } from '../days/dayNumber.js';
import type { BenchPerson } from '../ledger/facts.js';
import { isOpen, type OpenDays } from './openDays.js';

/** What the bench can take. */
export interface Bench extends OpenDays {
  /** Services that may be booked in a week from Monday to Sunday; null for no bound but the minutes. */
  readonly placesAWeek: number | null;
  /** On an open day, while nobody is named who works at the bench. */
  readonly minutesADay: number;
  /** Left out or nobody: the same minutes on each open day. */
  readonly people?: readonly BenchPerson[];
}

/** Work on the bench on a day: taken already, or only expected then. */
export interface BenchWork {
  readonly day: Day;
  readonly minutes: number;
}

export interface BenchLoad {
  readonly taken: readonly BenchWork[];
  readonly expected: readonly BenchWork[];
}

/** *Defaults*: the rest is for what comes in by itself; common practice, no source. */
export const USED_SHARE = 0.8;
export const MINUTES_A_DAY = 480;
/** How far ahead days are offered. */
export const AHEAD_DAYS = 42;

/** Weeks begin on Monday; day 0 was a Thursday. */
const weekOf = (day: Day): number => Math.floor((dayNumber(day) + 3) / 7);

const minutesOf = (work: readonly BenchWork[]): number => work.reduce((sum, { minutes }) => sum + minutes, 0);

/** Returns the bench minutes of a day: of those who work on it, all together; none while the workshop is closed. */
export function minutesOn(bench: Bench, day: Day): number {
  if (!isOpen(bench, day)) return 0;
  const { people = [], minutesADay } = bench;
  if (people.length === 0) return minutesADay;
  return people
    .filter(({ days, off }) => days.includes(weekdayOf(day)) && !off.includes(day))
    .reduce((sum, person) => sum + person.minutesADay, 0);
}

/** Returns the minutes of a day that may be planned; the rest is for what comes in by itself. */
export const usableMinutesOn = (bench: Bench, day: Day): number =>
  Math.round(minutesOn(bench, day) * USED_SHARE);

/** A job that is longer than a day's share still fits an empty day on which somebody works. */
function hasTime(bench: Bench, onDay: readonly BenchWork[], day: Day, jobMinutes: number): boolean {
  const minutes = minutesOn(bench, day);
  return minutes > 0 && (onDay.length === 0 || minutesOf(onDay) + jobMinutes <= minutes * USED_SHARE);
}

/**
 * Returns whether a job finds a place on a day: the workshop is open, somebody works, and week and day have room.
 */
export function isFree(bench: Bench, taken: readonly BenchWork[], day: Day, jobMinutes: number): boolean {
  if (!isOpen(bench, day)) return false;
  const inWeek = taken.filter((work) => weekOf(work.day) === weekOf(day));
  if (bench.placesAWeek !== null && inWeek.length >= bench.placesAWeek) return false;
  const onDay = inWeek.filter((work) => work.day === day);
  return hasTime(bench, onDay, day, jobMinutes);
}

/** Returns every day with a place for a job, from tomorrow on for six weeks. */
export function freeDays(bench: Bench, taken: readonly BenchWork[], today: Day, jobMinutes: number): Day[] {
  const last = addDays(today, AHEAD_DAYS);
  return nextOpenDays(addDays(today, 1), AHEAD_DAYS, bench.openDays, bench.closedDays).filter(
    (day) => day <= last && isFree(bench, taken, day, jobMinutes),
  );
}

/** Returns the Mondays of the weeks from tomorrow to a day, no further ahead than days are offered. */
export function mondaysAhead(today: Day, until: Day): Day[] {
  const last = weekOf(earlierDay(until, addDays(today, AHEAD_DAYS))!);
  const first = weekOf(addDays(today, 1));
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => mondayOf(first + i));
}

const mondayOf = (week: number): Day => addDays('1970-01-01' as Day, week * 7 - 3);

/** A week is crowded when what is taken and what is expected in it fill all that may be booked. */
export function isCrowded(bench: Bench, { taken, expected }: BenchLoad, monday: Day): boolean {
  const week = weekOf(monday);
  const work = [...taken, ...expected].filter((one) => weekOf(one.day) === week);
  if (bench.placesAWeek !== null && work.length >= bench.placesAWeek) return true;
  const minutes = [0, 1, 2, 3, 4, 5, 6]
    .map((i) => minutesOn(bench, addDays(monday, i)))
    .reduce((sum, one) => sum + one, 0);
  return minutesOf(work) >= minutes * USED_SHARE;
}

export interface SlotWish {
  readonly today: Day;
  readonly jobMinutes: number;
  /** When the service is likely due; null, or a day that has come, for as soon as can be. */
  readonly likely: Day | null;
  readonly count: number;
}

/**
 * Returns the days to offer, in order: as soon as can be where the service is due. Else near its likely day and not
 * after it, in an earlier and quieter week where that one is crowded, so that quiet weeks fill.
 */
export function offeredDays(bench: Bench, load: BenchLoad, wish: SlotWish): Day[] {
  const free = freeDays(bench, load.taken, wish.today, wish.jobMinutes);
  const { likely, count } = wish;
  if (likely === null || likely <= addDays(wish.today, 1)) return free.slice(0, count);
  const crowded = new Map<number, boolean>();
  for (const week of new Set(free.map(weekOf))) crowded.set(week, isCrowded(bench, load, mondayOf(week)));
  const rank = (day: Day): number => (crowded.get(weekOf(day)) ? 1 : 0);
  const before = free
    .filter((day) => day <= likely)
    .sort((a, b) => rank(a) - rank(b) || weekOf(b) - weekOf(a) || (a < b ? -1 : 1));
  return [...before, ...free.filter((day) => day > likely)].slice(0, count).sort();
}
