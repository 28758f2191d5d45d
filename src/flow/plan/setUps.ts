/** How units were set: as they came, as they left, and sets that are kept for a rider or a track. */
import { dayOf } from '../../core/days/calendar.js';
import type { Fact, SetUpFact } from '../../core/ledger/facts.js';
import type { Unit } from '../../core/ledger/ledger.js';
import type { Tx } from '../../ports/store.js';
import type { Entry } from '../entry.js';
import { addFact } from '../facts/changeFact.js';
import { getIdOf } from '../names.js';
import { refuse } from '../refuse.js';
import { getWorkshop } from '../settings.js';
import { getUnit } from '../unitLedger.js';

export interface SetUps {
  /** As it came for the stay that has not ended, else as it last came; null where nobody read it. */
  readonly came: Fact<'setUp'> | null;
  /** As it was handed over last. */
  readonly left: Fact<'setUp'> | null;
  /** The latest of each name, the newest first. */
  readonly kept: readonly Fact<'setUp'>[];
}

/** Returns how a unit was set. */
export async function listSetUps(tx: Tx, unitId: string): Promise<SetUps> {
  const facts = await tx.facts.list('setUp', { subject: unitId });
  const last = (stage: SetUpFact['stage']): Fact<'setUp'> | null =>
    facts.filter(({ body }) => body.stage === stage).at(-1) ?? null;
  const named = new Map(
    facts.flatMap((fact) => (fact.body.name === null ? [] : [[fact.body.name.toLowerCase(), fact] as const])),
  );
  return { came: last('came'), left: last('left'), kept: [...named.values()].reverse() };
}

/** All that the page of a unit's set-up shows. */
export interface SetUpPage extends SetUps {
  readonly unit: Unit;
}

/** Errors: `not-found`. */
export async function getSetUpPage(tx: Tx, tag: string): Promise<SetUpPage> {
  const unitId = await getIdOf(tx, 'unit', tag);
  return { unit: await getUnit(tx, unitId), ...(await listSetUps(tx, unitId)) };
}

/** Writes down how a unit is set. Returns the fact's id. */
export async function addSetUp(tx: Tx, body: Omit<SetUpFact, 'on'>, entry: Entry): Promise<string> {
  const on = dayOf(entry.at, (await getWorkshop(tx)).timeZone);
  return (await addFact(tx, { kind: 'setUp', body: { ...body, on } }, entry)).id;
}

/** Says that a unit was set back as it came, or to a set that is kept. Errors: `refused` where there is none such. */
export async function setBackTo(tx: Tx, unitId: string, factId: string, entry: Entry): Promise<string> {
  const fact = (await tx.facts.list('setUp', { subject: unitId })).find(({ id }) => id === factId);
  if (!fact) return refuse('same-already');
  const { name, values } = fact.body;
  return addSetUp(tx, { unitId, stage: 'left', name, values }, entry);
}
