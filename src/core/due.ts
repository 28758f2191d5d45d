import type { Day, Instant, Seconds, Thousandths } from '../units.js';
import type { IntervalRuleName, Limit, ServiceKind, State } from './tokens.js';

/** The days by which the interval is reached with 10, 50 and 90 % likelihood; null where nothing can be foretold. */
export interface Likely {
  readonly p10: Day | null;
  readonly p50: Day | null;
  readonly p90: Day | null;
}

/** The interval that applies to one unit and service kind, its ceiling worked out. */
export interface Interval {
  readonly terrainHours: number | null;
  readonly months: number | null;
  readonly movingHoursCeiling: number | null;
  readonly rule: IntervalRuleName;
}

/** Where one service period of a unit stands: what `due` shows and notices are decided from. */
export interface Standing {
  readonly unitId: string;
  readonly serviceKind: ServiceKind;
  /** The service that began the period, or `start` for the first one; the same through corrections of its date. */
  readonly periodId: string;
  readonly periodStart: Day | null;
  readonly movingS: Seconds;
  readonly terrainMs: Thousandths;
  readonly interval: Interval;
  /** Null when the history is unknown or no hours apply. */
  readonly hoursLeft: number | null;
  readonly state: State;
  /** Which limit comes first. */
  readonly limit: Limit;
  readonly likely: Likely;
  readonly asOf: Instant;
}
