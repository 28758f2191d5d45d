import type { Day } from '../../units.js';
import { chanceDueBy, type ForeseenChance, isForeseeable } from '../forecast/dueChance.js';
import { offersFor } from '../ledger/offer.js';
import type { ServiceKind } from '../tokens.js';

/** One job that a unit may come to the bench for. */
export interface ExpectedJob {
  readonly serviceKind: ServiceKind;
  /** The service kinds whose limits call for it; the job may be larger than any of them. */
  readonly wanted: readonly ServiceKind[];
  /** The chance that it has fallen due by the end of each week. */
  readonly dueBy: readonly number[];
}

export interface JobsInput {
  /** All that is foreseen of one unit. */
  readonly foreseen: readonly ForeseenChance[];
  /** The last day of each week, in order. */
  readonly weekEnds: readonly Day[];
  readonly today: Day;
  readonly zone: string;
}

/** From this chance on a service is planned with, and joined with others of its unit into one job. */
const LIKELY = 0.5;

/**
 * Returns the jobs that a unit may come for in the weeks to come, each counted once. Services that likely fall due in
 * them are joined as they would be offered: a larger job takes the place of a smaller one. A joined job falls due with
 * the first of its services; all of a unit's clocks run on the same rides, so that is the likeliest of them.
 */
export function expectedJobs({ foreseen, weekEnds, today, zone }: JobsInput): ExpectedJob[] {
  const open = foreseen.filter(isForeseeable).map((one) => ({
    ...one,
    kind: one.standing.serviceKind,
    dueBy: weekEnds.map((end) => chanceDueBy(one, end, zone)),
  }));
  const offers = offersFor(
    open.map(({ standing, restarts, dueBy }) => ({
      standing: { ...standing, state: (dueBy.at(-1) ?? 0) >= LIKELY ? 'coming-up' : 'in-time' },
      restarts,
    })),
    today,
  );
  const planned = offers.map(({ serviceKind, includes: wanted }): ExpectedJob => {
    const rows = open.filter(({ kind }) => wanted.includes(kind)).map(({ dueBy }) => dueBy);
    return {
      serviceKind,
      wanted,
      dueBy: weekEnds.map((_, week) => Math.max(...rows.map((row) => row[week]!))),
    };
  });
  const covered = new Set(
    open
      .filter(({ kind }) => offers.some(({ serviceKind }) => serviceKind === kind))
      .flatMap(({ kind, restarts }) => [kind, ...restarts]),
  );
  const rest = open
    .filter(({ kind, dueBy }) => !covered.has(kind) && (dueBy.at(-1) ?? 0) > 0)
    .map(({ kind, dueBy }): ExpectedJob => ({ serviceKind: kind, wanted: [kind], dueBy }));
  return [...planned, ...rest];
}
