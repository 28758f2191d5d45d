/** The import document as the command `import` takes it; a key left out takes its default. */
import type { BenchPerson } from '../src/core/ledger/facts.js';
import type { BikeType, DoneBy, Ground, ServiceKind, UnitKind, Weekday } from '../src/core/tokens.js';
import type { Day } from '../src/units.js';

export interface ImportFile {
  readonly workshop: {
    readonly id: string;
    readonly name: string;
    readonly timeZone: string;
    readonly openDays: readonly Weekday[];
    readonly email: string;
    readonly phone: string;
    readonly address: string;
    readonly openingHours: string;
    readonly remindersFrom: string;
    readonly closedDays: readonly Day[];
    readonly people: readonly BenchPerson[];
  };
  /** Of the workshop's own. */
  readonly serviceKinds: readonly {
    readonly unitKind: UnitKind;
    readonly name: string;
    readonly benchMinutes: number;
  }[];
  readonly fleets: readonly { readonly id: string; readonly name: string }[];
  readonly riders: readonly {
    readonly id: string;
    readonly name: string;
    readonly email: string;
    readonly phone: string;
    readonly language: string;
    readonly addressConfirmed: boolean;
  }[];
  readonly bikes: readonly {
    readonly id: string;
    readonly rider: string | null;
    readonly fleet: string | null;
    readonly name: string;
    readonly type: BikeType;
  }[];
  readonly units: readonly ImportUnit[];
  readonly fittings: readonly {
    readonly unit: string;
    readonly bike: string;
    readonly from: string;
    readonly to: string | null;
  }[];
  readonly services: readonly ImportService[];
  readonly intervals: readonly ImportInterval[];
  readonly hours: readonly {
    readonly bike: string;
    readonly on: string;
    readonly minutes: number;
    readonly ground: Ground;
  }[];
  readonly unrecorded: readonly {
    readonly bike: string;
    readonly from: string;
    readonly to: string | null;
    readonly share: number;
    readonly note: string;
  }[];
  readonly declared: readonly {
    readonly bike: string;
    readonly hoursAWeek: number;
    readonly ground: Ground;
    readonly months: readonly number[];
    readonly from: string;
    readonly to: null;
    readonly saidOn: string;
  }[];
  readonly races: readonly {
    readonly id: string;
    readonly name: string;
    readonly on: string;
    readonly bikes: readonly string[];
    readonly practiceHours: number;
    readonly raceHours: number;
  }[];
  readonly parts: readonly {
    readonly unitKind: UnitKind;
    readonly serviceKind: ServiceKind;
    readonly model: string | null;
    readonly part: string;
    readonly count: number;
    readonly measure: 'pieces' | 'ml';
  }[];
  readonly shelf: readonly {
    readonly part: string;
    readonly count: number;
    readonly deliveryDays: number;
    readonly countedOn: string;
  }[];
}

export interface ImportUnit {
  readonly tag: string;
  readonly unitKind: UnitKind;
  readonly model: string;
  readonly serial: string;
  readonly warrantyEnd: string | null;
  readonly factor: number;
  readonly history:
    | 'new'
    | 'unknown'
    | { readonly terrainHours: number; readonly movingHours: number; readonly asOf: string };
}

export interface ImportService {
  readonly unit: string;
  readonly serviceKind: ServiceKind;
  readonly on: string;
  readonly restarts: readonly ServiceKind[];
  readonly by: DoneBy;
  readonly findings?: {
    readonly foamRings: 'pale' | 'honey' | 'dark';
    readonly foamRingsNow: 'put-back' | 'new';
  };
}

export interface ImportInterval {
  readonly unitKind: UnitKind;
  readonly serviceKind: ServiceKind;
  readonly scope: {
    readonly fleet: string | null;
    readonly model: string | null;
    readonly unit: string | null;
  };
  readonly terrainHours: number | null;
  readonly months: number | null;
  readonly movingHoursCeiling: number | null;
}
