import type { Fact, PartFact, UsedPart } from '../../core/ledger/facts.js';
import { jobsOf } from '../../core/ledger/serviceKinds.js';
import { type ServiceKind, UNIT_KINDS, type UnitKind } from '../../core/tokens.js';
import { ServiceError } from '../../errors.js';
import type { Tx } from '../../ports/store.js';
import type { Entry } from '../entry.js';
import { addFact, replaceFact, voidFact } from '../facts/changeFact.js';
import { listAddedKinds } from '../settings.js';

/** A job of a kind of unit; of one model where it is named. */
export interface PartsAddress {
  readonly unitKind: UnitKind;
  readonly serviceKind: ServiceKind;
  readonly model: string | null;
}

/** What the page of one job's parts shows. */
export interface PartsPage extends PartsAddress {
  /** Those of this very address. */
  readonly rows: readonly Fact<'part'>[];
  /** Of units of this kind, in order; those that have parts of their own are told. */
  readonly models: readonly { readonly model: string; readonly isOwn: boolean }[];
  /** Names of all parts that the workshop typed. */
  readonly known: readonly string[];
}

/** Returns what a job takes, as its page shows it. Errors: `not-found`. */
export async function getPartsPage(
  tx: Tx,
  kind: string,
  serviceKind: string,
  model: string | null,
): Promise<PartsPage> {
  const unitKind = UNIT_KINDS.find((one) => one === kind);
  if (unitKind === undefined || !jobsOf({ unitKind }, await listAddedKinds(tx)).includes(serviceKind))
    throw new ServiceError('not-found', 'There is no such job.');
  const all = await tx.facts.list('part');
  const ofJob = all.filter(({ body }) => body.unitKind === unitKind && body.serviceKind === serviceKind);
  const own = new Set(ofJob.map(({ body }) => body.model));
  const models = new Set(
    (await tx.facts.list('unit'))
      .filter(({ body }) => body.unitKind === unitKind)
      .map(({ body }) => body.model),
  );
  return {
    ...{ unitKind, serviceKind, model },
    rows: ofJob.filter(({ body }) => body.model === model),
    models: [...new Set([...models, ...own])]
      .filter((one) => one !== null)
      .sort()
      .map((one) => ({ model: one, isOwn: own.has(one) })),
    known: await listPartNames(tx),
  };
}

/** Returns the name of every part that somebody typed, in order. */
export async function listPartNames(tx: Tx): Promise<string[]> {
  const names = [...(await tx.facts.list('part')), ...(await tx.facts.list('shelf'))].map(
    ({ body }) => body.part,
  );
  return [...new Set(names)].sort();
}

/** A line of the list as a person left it: `factId` of what stood there, `use` null where it was taken away. */
export interface PartLine {
  readonly factId: string | null;
  readonly use: UsedPart | null;
}

/**
 * Puts a list of parts in the place of the one that was seen. Returns whether anything is other.
 * Errors: `already-replaced` where somebody else changed a line meanwhile, `refused`.
 */
export async function setParts(
  tx: Tx,
  address: PartsAddress,
  lines: readonly PartLine[],
  entry: Entry & { readonly why: string },
): Promise<boolean> {
  let isOther = false;
  for (const { factId, use } of lines) {
    const before = await findLine(tx, address, factId);
    if (use === null) {
      if (!before) continue;
      await voidFact(tx, before.id, entry.why, entry);
    } else {
      const body: PartFact = { ...address, ...use };
      if (before && isSame(before.body, body)) continue;
      if (before) await replaceFact(tx, before.id, { kind: 'part', body }, entry);
      else await addFact(tx, { kind: 'part', body }, entry);
    }
    isOther = true;
  }
  return isOther;
}

/** A line of another list is none of this one. */
async function findLine(
  tx: Tx,
  address: PartsAddress,
  factId: string | null,
): Promise<Fact<'part'> | undefined> {
  const fact = factId === null ? undefined : await tx.facts.find(factId);
  if (fact?.kind !== 'part') return undefined;
  const { unitKind, serviceKind, model } = fact.body as PartFact;
  const isHere =
    unitKind === address.unitKind && serviceKind === address.serviceKind && model === address.model;
  return isHere ? (fact as Fact<'part'>) : undefined;
}

const isSame = (a: PartFact, b: PartFact): boolean =>
  a.part === b.part && a.count === b.count && a.measure === b.measure && a.model === b.model;
