import type { HoursForecast } from '../core/forecast/forecast.js';
import type { KeptForecast } from '../core/forecast/standings.js';
import type { Standing } from '../core/ledger/due.js';
import type { ServiceKind, State } from '../core/tokens.js';
import type { Day, Instant } from '../units.js';

/** A standing as lists show it. */
export interface ShownStanding extends Standing {
  /** Facts changed since the forecast was made. */
  readonly stale: boolean;
}

export interface StandingRow extends ShownStanding {
  /** Until when the hours alone will be reached; the months stand in `likely`. */
  readonly forecast: KeptForecast & Partial<HoursForecast>;
}

export interface StandingTable {
  list(): Promise<readonly StandingRow[]>;
  listOf(unitId: string): Promise<readonly StandingRow[]>;
  listOfMany(unitIds: readonly string[]): Promise<readonly StandingRow[]>;
  /** The same without what they are foretold from, in any order. */
  listShown(unitIds: readonly string[] | 'all'): Promise<readonly ShownStanding[]>;
  /** The units of which anything is in one of these states. */
  listUnitsIn(states: readonly State[]): Promise<readonly string[]>;
  /**
   * The units in the order of a list of what is due, by the standing that comes first: pressing states, then likely date,
   * hours left and tag; a part of them.
   */
  page(of: {
    readonly states: readonly State[];
    readonly from: number;
    readonly most: number;
  }): Promise<readonly string[]>;
  /** Of each unit the standing that is likely first, where that is in a time: by day, so many after so many. */
  listFirstLikely(of: {
    readonly from: Day;
    readonly to: Day;
    readonly most: number;
    readonly after: number;
  }): Promise<readonly { readonly unitId: string; readonly serviceKind: ServiceKind; readonly day: Day }[]>;
  /** How many units are in each state, by the standing that comes first, and as of when the oldest is. */
  summary(): Promise<{ readonly counts: ReadonlyMap<State, number>; readonly asOf: Instant | null }>;
  /** The first units in order of their tags, and how many there are in all. */
  listUnits(most: number): Promise<{ readonly count: number; readonly unitIds: readonly string[] }>;
  /** Replaces all of a unit. */
  put(unitId: string, standings: readonly StandingRow[]): Promise<void>;
  /** Units whose forecast is stale, or not of the day between the two moments; at most so many. */
  listUnitsToRefresh(dayStart: Instant, dayEnd: Instant, most: number): Promise<readonly string[]>;
  /** Marks forecasts as no longer true. */
  markStale(unitIds: readonly string[]): Promise<void>;
}
