/** The facts that hours are derived from, as the core sees them. Ids are random and stay through corrections. */
import type { Day, Instant, Seconds, Thousandths } from '../../units.js';
import type { BikeType, DoneBy, ServiceKind, Spring, UnitKind } from '../tokens.js';
import type { FormerFleet } from './bikeFleet.js';

/** A factor on an hour by severity: at 0.3, at 1 and at 2, straight between them in logarithms, level outside. */
export interface Weights {
  readonly smooth: number;
  readonly typical: number;
  readonly rough: number;
  /** Terrain seconds for each second in the air; LANDING_WEIGHT where left out. */
  readonly landing?: number;
}

export interface Bike {
  readonly id: string;
  readonly handle: string;
  readonly riderId: string | null;
  readonly fleetId: string | null;
  /** Fleets that it was of before, oldest first; left out: none. */
  readonly formerFleets?: readonly FormerFleet[];
  readonly name: string;
  readonly type: BikeType;
  /** Whether a motor helps; left out: no. */
  readonly motor?: boolean;
  /** The day on which its rider sold it; left out or null: it is there. */
  readonly sold?: Day | null;
  /** From this day on its rider's rides are on it, where nothing else tells; left out or null: no. */
  readonly usual?: Day | null;
}

/** What was known when the unit came: nothing run yet, nothing known, or so much in every service period on a day. */
export type UnitHistory =
  | 'new'
  | 'unknown'
  | { readonly terrainHours: number; readonly movingHours: number; readonly asOf: Day };

export interface Unit {
  readonly id: string;
  readonly tag: string;
  readonly unitKind: UnitKind;
  /** Of a fork; left out: air. */
  readonly spring?: Spring;
  readonly model: string | null;
  readonly serial: string | null;
  readonly warrantyEnd: Day | null;
  /** On every hour of this unit, for instance for a heavy rider. */
  readonly factor: number;
  readonly history: UnitHistory;
  /** Clocks that a later version brought: they begin on that day, whatever the history. */
  readonly broughtClocks?: { readonly on: Day; readonly kinds: readonly ServiceKind[] };
}

/** A unit on a bike from one moment to another, half open; `to` null while it is on. */
export interface Fitting {
  readonly id: string;
  readonly unitId: string;
  readonly bikeId: string;
  readonly from: Instant;
  readonly to: Instant | null;
  /**
   * From when on people see it so, left out where that is the moment itself. What somebody says was done after a day's
   * last ride is done when they say it. Yet all rides of that day are of before.
   */
  readonly seenFrom?: Instant;
  readonly seenTo?: Instant;
}

/** Returns the fitting that a ride which starts at a moment goes to. */
export const fittingAt = (fittings: readonly Fitting[], at: Instant): Fitting | undefined =>
  fittings.find(({ from, to }) => from <= at && (to === null || at < to));

/** Returns the fitting that is on now, as people see it. */
export const fittingNow = (fittings: readonly Fitting[], now: Instant): Fitting | undefined =>
  fittings.find(
    ({ from, to, seenFrom = from, seenTo = to }) => seenFrom <= now && (seenTo === null || now < seenTo),
  );

/** Dated by day only: that day's rides count in the new service period. */
export interface Service {
  readonly id: string;
  readonly unitId: string;
  readonly serviceKind: ServiceKind;
  readonly on: Day;
  /** The clocks that it restarts. */
  readonly restarts: readonly ServiceKind[];
  /** Where it was done, and what was seen. */
  readonly by?: DoneBy;
  readonly findings?: Readonly<Record<string, string>> | null;
  /** When it was entered, and in which order, to tell which of two services of one day came last. */
  readonly recordedAt: Instant;
  readonly seq: number;
}

/** When a service kind falls due; a null limit does not apply. `rule` says whose rule it is. */
export interface IntervalRule {
  readonly unitKind: UnitKind;
  readonly serviceKind: ServiceKind;
  readonly scope: {
    readonly fleetId: string | null;
    readonly model: string | null;
    readonly unitId: string | null;
  };
  readonly terrainHours: number | null;
  readonly months: number | null;
  /** Undefined takes the default (1.0 × the hours under warranty, else 1.5 ×); null means no ceiling. */
  readonly movingHoursCeiling?: number | null;
}

/** What a ride gives to the units on its bike. Derived from its readings, or entered by hand. */
export interface CountedRide {
  readonly id: string;
  readonly bikeId: string;
  readonly start: Instant;
  readonly movingS: Seconds;
  /** Moving time by the weight of its ground, before a unit's factor and any bounds. */
  readonly groundMs: Thousandths;
  /** A day's part of what its rider declared: nobody recorded it. */
  readonly isDeclared?: true;
}
