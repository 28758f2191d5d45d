import type {
  Findings,
  FittingFact,
  HoursFact,
  IntervalFact,
  PartFact,
  ShelfFact,
  WorkshopFact,
} from '../core/facts.js';
import type { UnitHistory } from '../core/ledger.js';
import type { BikeType, ServiceKind, UnitKind } from '../core/tokens.js';
import type { Day } from '../units.js';

/** An import file with its defaults filled in; what belongs together is named by handles. `at` is where a row stands. */
export interface ImportDocument {
  readonly workshop: (WorkshopFact & Row) | null;
  readonly fleets: readonly (Row & { readonly id: string; readonly name: string })[];
  readonly riders: readonly (Row & {
    readonly id: string;
    readonly name: string;
    readonly email: string | null;
    readonly phone: string | null;
    readonly language: string;
    readonly addressConfirmed: boolean;
  })[];
  readonly bikes: readonly (Row & {
    readonly id: string;
    readonly rider: string | null;
    readonly fleet: string | null;
    readonly name: string;
    readonly type: BikeType;
  })[];
  readonly units: readonly (Row & {
    readonly tag: string;
    readonly unitKind: UnitKind;
    readonly model: string | null;
    readonly serial: string | null;
    readonly warrantyEnd: Day | null;
    readonly factor: number;
    readonly history: UnitHistory;
  })[];
  readonly fittings: readonly (Row & { readonly unit: string; readonly bike: string } & Pick<
      FittingFact,
      'from' | 'to'
    >)[];
  readonly services: readonly (Row & {
    readonly unit: string;
    readonly serviceKind: ServiceKind;
    readonly on: Day;
    readonly restarts: readonly ServiceKind[] | null;
    readonly elsewhere: boolean;
    readonly findings: Findings | null;
    readonly note: string | null;
  })[];
  readonly intervals: readonly (Row &
    Omit<IntervalFact, 'scope'> & {
      readonly scope: {
        readonly fleet: string | null;
        readonly model: string | null;
        readonly unit: string | null;
      };
    })[];
  readonly hours: readonly (Row & { readonly bike: string } & Omit<HoursFact, 'bikeId'>)[];
  readonly races: readonly (Row & {
    readonly id: string;
    readonly name: string;
    readonly on: Day;
    readonly bikes: readonly string[];
    readonly practiceHours: number;
    readonly raceHours: number;
  })[];
  readonly parts: readonly (Row & PartFact)[];
  readonly shelf: readonly (Row & ShelfFact)[];
}

export interface Row {
  readonly at: string;
}
