import type {
  AnswerFact,
  ClaimFact,
  ClocksFact,
  DeclaredFact,
  FittingFact,
  FleetFact,
  GoneFact,
  HireFact,
  HoursFact,
  InspectionFact,
  IntervalFact,
  JobFact,
  MarkFact,
  MembershipFact,
  PartFact,
  RaceFact,
  ServiceFact,
  ServiceKindFact,
  SheetFact,
  ShelfFact,
  UnitFact,
  UnrecordedFact,
  WorkshopFact,
} from '../../core/ledger/facts.js';
import type { Weights } from '../../core/ledger/ledger.js';
import type { BikeType, ServiceKind } from '../../core/tokens.js';
import type { Copied, CopiedRow } from '../../ports/copies.js';
import type { Day, Moment } from '../../units.js';

/** A row of each kind as files have it: what belongs together is named by handles. */
export interface Rows {
  workshop: Omit<WorkshopFact, 'handle'> & { readonly id: string };
  weights: Weights;
  fleet: Omit<FleetFact, 'handle'> & { readonly id: string };
  rider: {
    readonly id: string;
    readonly name: string;
    readonly email: string | null;
    readonly phone: string | null;
    readonly language: string;
    readonly addressConfirmed: boolean;
  };
  bike: {
    readonly id: string;
    readonly rider: string | null;
    readonly fleet: string | null;
    readonly formerFleets?: readonly { readonly fleet: string | null; readonly until: Moment }[];
    readonly name: string;
    readonly type: BikeType;
    readonly motor?: boolean;
    readonly sold?: Day | null;
    readonly usual?: Day | null;
  };
  unit: Omit<UnitFact, 'riderId'> & { readonly rider?: string };
  sheet: Omit<SheetFact, 'scope'> & {
    readonly scope: {
      readonly model: string | null;
      readonly modelYear: number | null;
      readonly unit: string | null;
    };
  };
  serviceKind: ServiceKindFact;
  clocks: ClocksFact;
  interval: Omit<IntervalFact, 'scope'> & {
    readonly scope: {
      readonly fleet: string | null;
      readonly model: string | null;
      readonly unit: string | null;
    };
  };
  fitting: Omit<FittingFact, 'unitId' | 'bikeId'> & { readonly unit: string; readonly bike: string };
  membership: Omit<MembershipFact, 'unitId' | 'fleetId'> & {
    readonly unit: string;
    readonly fleet: string | null;
  };
  gone: Omit<GoneFact, 'unitId'> & { readonly unit: string };
  service: Omit<ServiceFact, 'unitId' | 'restarts'> & {
    readonly unit: string;
    /** Null for what the kind restarts by default. */
    readonly restarts: readonly ServiceKind[] | null;
  };
  hours: Omit<HoursFact, 'bikeId'> & { readonly bike: string };
  hire: Omit<HireFact, 'bikeId'> & { readonly bike: string };
  unrecorded: Omit<UnrecordedFact, 'bikeId'> & { readonly bike: string };
  declared: Omit<DeclaredFact, 'bikeId'> & { readonly bike: string };
  race: Omit<RaceFact, 'handle' | 'bikeIds'> & { readonly id: string; readonly bikes: readonly string[] };
  part: PartFact;
  shelf: ShelfFact;
  mark: Omit<MarkFact, 'unitId'> & { readonly unit: string };
  inspection: Omit<InspectionFact, 'unitId'> & { readonly unit: string };
  bench: { readonly unit: string; readonly in: boolean };
  job: Omit<JobFact, 'unitId'> & { readonly unit: string };
  claim: Omit<ClaimFact, 'unitId'> & { readonly unit: string };
  /** A person's word on a recording; null where nothing was said. */
  answer: {
    readonly rider: string | null;
    readonly bike: string | null;
    readonly ride: Readonly<Record<string, boolean>> | null;
    readonly on: string | null;
    readonly minutes: number | null;
    readonly wet?: boolean;
    readonly climbs?: AnswerFact['climbs'];
  };
}

export type RowKind = keyof Rows;

/** Where a row stands: `units[3]` of a JSON file, `row 4` of a CSV file. */
export interface DocumentRow {
  readonly at: string;
}

/** The keys of an import file by the kind of their rows, each after those that it refers to. */
export const DOCUMENT_KEYS = {
  fleet: 'fleets',
  rider: 'riders',
  bike: 'bikes',
  serviceKind: 'serviceKinds',
  unit: 'units',
  sheet: 'sheets',
  interval: 'intervals',
  fitting: 'fittings',
  membership: 'memberships',
  gone: 'gone',
  service: 'services',
  hours: 'hours',
  unrecorded: 'unrecorded',
  declared: 'declared',
  race: 'races',
  part: 'parts',
  shelf: 'shelf',
} as const;
export type DocumentRowKind = keyof typeof DOCUMENT_KEYS;

/** What a row without an id is told by, where it has it. */
const TELLING = ['unit', 'bike', 'unitKind', 'serviceKind', 'name', 'model', 'part', 'on', 'from'];

/** Returns what people know a row by: its id or tag, else what it speaks of and when. Shape: as somebody wrote it. */
export function nameOfRow(row: unknown): string {
  if (row === null || typeof row !== 'object') return '';
  const { id, tag, scope, ...rest } = row as Readonly<Record<string, unknown>>;
  const own = id ?? tag;
  if (typeof own === 'string') return own;
  const told = [...TELLING.map((key) => rest[key]), ...Object.values(scope ?? {})];
  return told.filter((value) => typeof value === 'string').join(' ');
}

/** An import file with its defaults filled in. */
export type ImportDocument = {
  readonly [K in DocumentRowKind as (typeof DOCUMENT_KEYS)[K]]: readonly (DocumentRow & Rows[K])[];
} & {
  readonly workshop: (DocumentRow & Rows['workshop']) | null;
  readonly weights: (DocumentRow & Rows['weights']) | null;
  /** What an export adds: the ledger as it was stored, with its history. */
  readonly ledger: CopiedLedger | null;
};

export interface CopiedLedger {
  /** The schema that the rows have. */
  readonly schema: string;
  readonly rows: Readonly<Record<Copied, readonly CopiedRow[]>>;
}
