/** What a year at the bench looked like, and whether units come in better since the workshop reminds. */
import type { Day } from '../../units.js';
import { type Counted, type ShareRange, shareDifference, shareRange } from '../chance/shares.js';
import { addMonths } from '../days/calendar.js';
import type { ServiceKind } from '../tokens.js';

/** One clock of a unit on the day on which a service restarted it. */
export interface ClockRead {
  readonly serviceKind: ServiceKind;
  readonly terrainHours: number;
  readonly movingHours: number;
  /** The hours of its interval, of the limit of which the larger share was used. */
  readonly limit: 'terrain-hours' | 'moving-hours';
  readonly limitHours: number;
  /** Used of it: 1 is the whole interval. */
  readonly share: number;
}

/** All that was done here on one day on one unit. */
export interface ServicedUnit {
  readonly unitId: string;
  readonly on: Day;
  readonly serviceKinds: readonly ServiceKind[];
  /** Of the clocks that it restarted the one that had used most; null where nobody counted its hours. */
  readonly clock: ClockRead | null;
  /** Whether it was known since when the clocks ran: the unit came new, or was serviced before. */
  readonly isKnown: boolean;
  /** Whether a clock had used all its hours when reminders began. */
  readonly wasUp: boolean;
  /** Null where nobody said how the foam rings looked. */
  readonly isDark: boolean | null;
}

/**
 * `before` and `since` reminders began are compared. Apart stand units whose hours were up already on that day, which no
 * reminder could help, and those of which nobody knew the last service.
 */
export const VISIT_GROUPS = ['before', 'since', 'up-already', 'not-known'] as const;
export type VisitGroup = (typeof VISIT_GROUPS)[number];

/** As far past its hours as the state *over interval* begins. */
export const OVER = 1.25;
export const isOver = ({ share }: ClockRead): boolean => share >= OVER;

/** Returns where a visit belongs. `begunOn` is null where reminders have not begun. */
export function groupOf({ on, isKnown, wasUp }: ServicedUnit, begunOn: Day | null): VisitGroup {
  if (!isKnown) return 'not-known';
  if (begunOn === null || on < begunOn) return 'before';
  return wasUp ? 'up-already' : 'since';
}

/** Of a group of visits. */
export interface GroupSums {
  readonly visits: number;
  /** How many came over their interval, of those whose hours were counted. */
  readonly over: Counted;
  /** How many had dark rings, of those at which somebody looked. */
  readonly dark: Counted;
  /** Of the interval, in the middle of those whose hours were counted; null where none were. */
  readonly middleShare: number | null;
}

export function sumsOf(visits: readonly ServicedUnit[]): GroupSums {
  const clocks = visits.flatMap(({ clock }) => (clock === null ? [] : [clock]));
  const looks = visits.filter(({ isDark }) => isDark !== null);
  const shares = clocks.map(({ share }) => share).sort((a, b) => a - b);
  return {
    visits: visits.length,
    over: { hits: clocks.filter(isOver).length, of: clocks.length },
    dark: { hits: looks.filter(({ isDark }) => isDark).length, of: looks.length },
    middleShare: shares[Math.floor(shares.length / 2)] ?? null,
  };
}

/** Fewer on either side say nothing. */
export const LEAST_EACH = 20;

export interface Compared {
  readonly before: ShareRange;
  readonly since: ShareRange;
  /** Since, less before. */
  readonly change: ShareRange;
  readonly verdict: 'rarer' | 'more-often' | 'undecided';
}

/** How many more are needed on each side. */
export interface TooFew {
  readonly missing: { readonly before: number; readonly since: number };
}

/** Returns whether something became rarer; where too few were seen, how many more are needed. */
export function compared(before: Counted, since: Counted): Compared | TooFew {
  if (before.of < LEAST_EACH || since.of < LEAST_EACH)
    return {
      missing: { before: Math.max(0, LEAST_EACH - before.of), since: Math.max(0, LEAST_EACH - since.of) },
    };
  const change = shareDifference(since, before);
  return {
    before: shareRange(before),
    since: shareRange(since),
    change,
    verdict: change.high < 0 ? 'rarer' : change.low > 0 ? 'more-often' : 'undecided',
  };
}

export interface MonthVisits {
  /** Its first day. */
  readonly from: Day;
  readonly visits: number;
  readonly over: number;
}

const monthOf = (day: Day): string => day.slice(0, 7);

/** Returns the visits of each of twelve months, the last of which is that of `today`. */
export function lastMonths(visits: readonly ServicedUnit[], today: Day): MonthVisits[] {
  const first = `${monthOf(today)}-01` as Day;
  return Array.from({ length: 12 }, (_, i) => {
    const from = addMonths(first, i - 11);
    const own = visits.filter(({ on }) => monthOf(on) === monthOf(from));
    const over = own.filter(({ clock }) => clock !== null && isOver(clock)).length;
    return { from, visits: own.length, over };
  });
}
