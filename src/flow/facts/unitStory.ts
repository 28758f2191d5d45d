import { dayOf } from '../../core/days/calendar.js';
import { groupBy } from '../../core/groupBy.js';
import type { Fact, FactBodies } from '../../core/ledger/facts.js';
import { momentOf } from '../../core/ledger/moment.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import { getWorkshop } from '../settings.js';
import { type FactRowKind, handlesIn, isRowKind, rowOfBody } from './factRows.js';
import type { Rows } from './ledgerDocument.js';

/** One version of one fact in a unit's service book. */
export type StoryLine = {
  readonly [K in FactRowKind]: {
    readonly fact: string;
    readonly kind: K;
    /** The day that it tells of. */
    readonly on: Day;
    /** As an import file would have it. */
    readonly row: Rows[K];
    readonly by: string;
    readonly at: Instant;
    readonly why: string | null;
    readonly replaces: string | null;
    readonly replacedBy: string | null;
    readonly isVoid: boolean;
    /** Neither void nor replaced. */
    readonly isInForce: boolean;
  };
}[FactRowKind];

/**
 * Returns the unit's service book: every fact that ever touched it, what was corrected before what is in force, in the
 * order of the days that they tell of; first what the unit is.
 */
export async function listUnitStory(tx: Tx, unitId: string): Promise<StoryLine[]> {
  const { timeZone } = await getWorkshop(tx);
  const facts = await tx.facts.history(unitId);
  const handles = await handlesIn(tx, facts);
  const replacedBy = new Map(facts.map((fact) => [fact.replacesId, fact.id]));
  const chapters = groupBy(facts, ({ entityId }) => entityId);
  const lines = [...chapters.values()].map((versions) =>
    versions.flatMap((fact) => {
      if (!isRowKind(fact.kind)) return [];
      const later = replacedBy.get(fact.id) ?? null;
      const line = {
        fact: fact.id,
        kind: fact.kind,
        on: dayTold(fact, timeZone),
        row: rowOfBody(fact.kind, fact.body as never, handles),
        by: fact.recordedBy,
        at: fact.recordedAt,
        why: fact.why,
        replaces: fact.replacesId,
        replacedBy: later,
        isVoid: fact.isVoid,
        isInForce: !fact.isVoid && later === null,
      };
      return [line as unknown as StoryLine];
    }),
  );
  const dayNow = (versions: readonly StoryLine[]): string => {
    const last = versions.at(-1);
    return last === undefined || last.kind === 'unit' ? '' : last.on;
  };
  return lines.sort((a, b) => (dayNow(a) < dayNow(b) ? -1 : dayNow(a) > dayNow(b) ? 1 : 0)).flat();
}

function dayTold({ kind, body, since }: Fact, zone: string): Day {
  if (kind === 'service' || kind === 'inspection' || kind === 'gone')
    return (body as FactBodies['service' | 'inspection' | 'gone']).on;
  if (kind === 'claim') return (body as FactBodies['claim']).openedOn;
  if (kind === 'membership') return (body as FactBodies['membership']).from ?? dayOf(since, zone);
  if (kind !== 'fitting') return dayOf(since, zone);
  const from = momentOf((body as FactBodies['fitting']).from, zone);
  return dayOf(from ?? since, zone);
}
