import type { Day } from '../../units.js';
import { coverOf, type Spread, spreadOf, totalsOf } from '../chance/poissonBinomial.js';
import { addDays } from '../days/calendar.js';
import type { Measure, PartFact, ShelfFact } from '../ledger/facts.js';
import type { ServiceKind, UnitKind } from '../tokens.js';
import { type BenchJob, comingIn, type Week } from './benchWeeks.js';
import { lastOpenDay, type OpenDays, openDaysIn } from './openDays.js';

/** A part with how many of it, or how much. */
export interface PartUse {
  readonly part: string;
  readonly count: number;
  readonly measure: Measure;
}

/** The name of what a service takes where the workshop typed nothing: one set. No source; an oil is never assumed. */
export const setNameOf = (unitKind: UnitKind, serviceKind: ServiceKind): string =>
  `${unitKind} ${serviceKind} set`;

/** Returns what a service takes: as typed for the model, else for the kind of unit, else one set. */
export function partsFor(
  rows: readonly PartFact[],
  { unitKind, model }: { readonly unitKind: UnitKind; readonly model: string | null },
  serviceKind: ServiceKind,
): PartUse[] {
  const ofKind = rows.filter((row) => row.unitKind === unitKind && row.serviceKind === serviceKind);
  const ofModel = ofKind.filter((row) => row.model !== null && row.model === model);
  const typed = ofModel.length > 0 ? ofModel : ofKind.filter((row) => row.model === null);
  if (typed.length === 0) return [{ part: setNameOf(unitKind, serviceKind), count: 1, measure: 'pieces' }];
  return typed.map(({ part, count, measure }) => ({ part, count, measure }));
}

/** Returns the uses added up by part, in order of name. */
export function addUp(uses: readonly PartUse[]): PartUse[] {
  const sums = new Map<string, PartUse>();
  for (const use of uses) {
    const key = `${use.measure} ${use.part}`;
    sums.set(key, { ...use, count: use.count + (sums.get(key)?.count ?? 0) });
  }
  return [...sums.values()].sort((a, b) => (a.part < b.part ? -1 : 1));
}

/** A job with what it takes. */
export type PartsJob = Pick<BenchJob, 'dueBy' | 'response'> & { readonly parts: readonly PartUse[] };

/** What lies there now: what was counted, less what services took since. */
export type Shelf = Pick<ShelfFact, 'part' | 'deliveryDays' | 'countedOn'> & { readonly left: number };

export interface PartPlan {
  readonly part: string;
  readonly measure: Measure;
  /** Null where nobody counted it. */
  readonly left: number | null;
  readonly deliveryDays: number | null;
  /** What each week takes; `p90` covers nine of ten. */
  readonly weeks: readonly Spread[];
  /** What all the weeks take together. */
  readonly total: Spread;
  /** The first open day of the week in which nine of ten are no longer covered; null where all weeks are. */
  readonly shortOn: Day | null;
  /** The last open day on which an order still comes in time, or today where that has passed. */
  readonly orderBy: Day | null;
  readonly isLate: boolean;
  /** How much to order, so that nine of ten are covered in all the weeks. */
  readonly orderCount: number;
}

export interface PartsInput {
  readonly jobs: readonly PartsJob[];
  readonly shelf: readonly Shelf[];
  readonly weeks: readonly Week[];
  readonly open: OpenDays;
  readonly today: Day;
}

const COVERED = 0.9;

/** What is not to be ordered comes after every date. */
const urgency = ({ orderBy, part }: PartPlan): string => `${orderBy ?? 'later'} ${part}`;

/** Returns what each part needs in the weeks to come, those to be ordered first. */
export function planParts(input: PartsInput): PartPlan[] {
  const used = addUp(input.jobs.flatMap((job) => job.parts));
  const counted = input.shelf
    .filter((row) => !used.some((use) => use.part === row.part))
    .map((row): PartUse => ({ part: row.part, count: 0, measure: 'pieces' }));
  return [...used, ...counted]
    .map((use) => planPart(use, input))
    .sort((a, b) => (urgency(a) < urgency(b) ? -1 : 1));
}

function planPart({ part, measure }: PartUse, { jobs, shelf, weeks, open, today }: PartsInput): PartPlan {
  const rows = jobs
    .map(({ parts, ...job }) => ({ ...job, size: sizeOf(parts, part, measure) }))
    .filter(({ size }) => size > 0);
  const inWeek = weeks.map((_, at) =>
    totalsOf(rows.map((job) => ({ chance: comingIn(job, at), size: job.size }))),
  );
  const byWeek = weeks.map((_, at) =>
    totalsOf(rows.map(({ dueBy, response, size }) => ({ chance: response * dueBy[at]!, size }))),
  );
  const row = shelf.find((one) => one.part === part);
  const short = row ? byWeek.findIndex((totals) => coverOf(totals, COVERED) > row.left) : -1;
  const total = spreadOf(byWeek.at(-1) ?? totalsOf([]));
  return {
    part,
    measure,
    left: row?.left ?? null,
    deliveryDays: row?.deliveryDays ?? null,
    weeks: inWeek.map(spreadOf),
    total,
    ...(row && short >= 0 ? orderOf(weeks[short]!, row.deliveryDays, open, today) : NO_ORDER),
    orderCount: row ? Math.max(0, total.p90 - row.left) : 0,
  };
}

const sizeOf = (parts: readonly PartUse[], part: string, measure: Measure): number =>
  parts.reduce((sum, use) => sum + (use.part === part && use.measure === measure ? use.count : 0), 0);

const NO_ORDER = { shortOn: null, orderBy: null, isLate: false };

function orderOf(week: Week, deliveryDays: number, open: OpenDays, today: Day) {
  const shortOn = openDaysIn(open, week.from, week.to)[0] ?? week.from;
  const latest = lastOpenDay(open, addDays(shortOn, -deliveryDays));
  const isLate = latest === null || latest < today;
  return { shortOn, orderBy: isLate ? today : latest, isLate };
}
