/**
 * How long foam rings and wipers have been in a unit: put back they go on, new they begin. Source: common practice.
 */
import type { Day, Instant } from '../../units.js';
import { startOfDay } from '../days/calendar.js';
import type { UnitKind } from '../tokens.js';
import type { Fitting, Service, Unit } from './ledger.js';
import { inOrder } from './period.js';

export const AGED_PARTS = ['foamRings', 'wipers'] as const;
export type AgedPart = (typeof AGED_PARTS)[number];

/** Why an age is unknown: nobody said *new* since the unit came, or a service after that said neither word. */
export type AgeGap = 'never-new' | 'not-said';

/** The time of a part from one service that opened the unit to the next. */
export interface PartStay {
  /** From when its age runs: the last *new*; null where that is unknown, or nothing was ridden yet. */
  readonly from: Instant | null;
  readonly gap: AgeGap | null;
  /** 1 for the first time in, 2 once put back. */
  readonly round: number;
  readonly to: Instant | null;
  /** The service that ended it; null while it runs. */
  readonly endedBy: Service | null;
}

export interface PartInput {
  readonly unit: Unit;
  readonly fittings: readonly Fitting[];
  readonly services: readonly Service[];
  readonly part: AgedPart;
  readonly today: Day;
  readonly zone: string;
}

/** The job that opens a unit where its rings and wipers lie. */
const OPENED_BY: Readonly<Record<UnitKind, string>> = {
  fork: 'lower-leg',
  'air-shock': 'air-sleeve',
  'coil-shock': 'full',
};

const isOpened = ({ unitKind }: Unit, { restarts, findings }: Service, part: AgedPart): boolean =>
  restarts.includes(OPENED_BY[unitKind]) ||
  findings?.[part] !== undefined ||
  findings?.[`${part}Now`] !== undefined;

/** What became of the part; a full service done here renews it unless it says otherwise. Null where nobody knows. */
function saidOf({ serviceKind, by, findings }: Service, part: AgedPart): 'new' | 'put-back' | null {
  const said = findings?.[`${part}Now`];
  if (said === 'new' || said === 'put-back') return said;
  if (part === 'wipers' && findings?.wipers === 'new') return 'new';
  return serviceKind === 'full' && by === 'here' ? 'new' : null;
}

/** Returns the stays of a part, oldest first; the last one is running. */
export function partStays({ unit, fittings, services, part, today, zone }: PartInput): PartStay[] {
  const first = fittings.length === 0 ? null : (Math.min(...fittings.map(({ from }) => from)) as Instant);
  const opened = services.filter((one) => one.on <= today && isOpened(unit, one, part)).sort(inOrder);
  let stay: PartStay = {
    from: unit.history === 'new' ? first : null,
    gap: unit.history === 'new' ? null : 'never-new',
    round: 1,
    to: null,
    endedBy: null,
  };
  const stays: PartStay[] = [];
  for (const service of opened) {
    const at = startOfDay(service.on, zone);
    stays.push({ ...stay, to: at, endedBy: service });
    const said = saidOf(service, part);
    if (said === 'new') stay = { ...stay, from: at, gap: null, round: 1 };
    else if (said === 'put-back') stay = { ...stay, round: stay.round + 1 };
    else stay = { ...stay, from: null, gap: stay.gap ?? 'not-said', round: 1 };
  }
  return [...stays, stay];
}
