import { canonical } from '../../core/canonical.js';
import type { Fact } from '../../core/ledger/facts.js';
import { ServiceError } from '../../errors.js';
import type { Tx } from '../../ports/store.js';
import type { Entry } from '../entry.js';
import { calledNow, giveName } from '../names.js';
import { refuse, refuseCommand } from '../refuse.js';
import { getFact, replaceFact } from './changeFact.js';
import { bodyOfRow, handlesIn, isRowKind, type Resolve, rowOfBody } from './factRows.js';
import type { RowKind, Rows } from './ledgerDocument.js';
import { putRider } from './putRider.js';

/** A fact as the row that an import file would have for it. */
export interface FactRow {
  readonly kind: RowKind;
  readonly row: Readonly<Record<string, unknown>>;
}

/** Errors: `not-found`. */
export async function getFactRow(tx: Tx, factId: string): Promise<FactRow> {
  const fact = await getFact(tx, factId);
  if (isRowKind(fact.kind)) {
    const row = rowOfBody(fact.kind, fact.body as never, await handlesIn(tx, [fact]));
    return { kind: fact.kind, row: row as unknown as FactRow['row'] };
  }
  if (fact.kind !== 'rider') throw new ServiceError('wrong-use', `Fact ${factId} is the program’s own.`);
  const name = (await calledNow(tx, 'rider', fact.entityId)) ?? fact.entityId;
  return { kind: 'rider', row: await riderRow(tx, fact.entityId, name) };
}

async function riderRow(tx: Tx, riderId: string, id: string): Promise<Rows['rider']> {
  const contact = await tx.contacts.find(riderId);
  return {
    id,
    name: contact?.name ?? id,
    email: contact?.email ?? null,
    phone: contact?.phone ?? null,
    language: contact?.language ?? 'en',
    addressConfirmed: contact?.confirmedAt != null,
  };
}

/**
 * Returns the row with what is to change; null takes back what was said. A service of another kind restarts what that
 * kind does, unless the change says otherwise.
 */
export function changedRow({ kind, row }: FactRow, changes: Readonly<Record<string, unknown>>): object {
  const isOtherJob =
    kind === 'service' && changes.serviceKind !== undefined && changes.serviceKind !== row.serviceKind;
  const changed = { ...row, ...(isOtherJob ? { restarts: null } : {}), ...changes };
  return Object.fromEntries(Object.entries(changed).filter(([, value]) => value !== null));
}

/**
 * Puts a row in the place of a fact; everything derived follows. Returns the new fact's id.
 * Errors: `refused` naming the conflict, `already-replaced` naming who was first, `not-found`.
 */
export async function correctFact<K extends RowKind>(
  tx: Tx,
  factId: string,
  { kind, row }: { readonly kind: K; readonly row: Rows[K] },
  entry: Entry & { readonly why: string },
): Promise<string> {
  const old = await getFact(tx, factId);
  if (old.kind !== kind) throw new ServiceError('wrong-use', `Fact ${factId} is a ${old.kind}.`);
  if (!isRowKind(old.kind)) return correctRider(tx, old as Fact<'rider'>, row as Rows['rider'], entry);
  const body = await bodyOfRow(tx, old.kind, row as never, resolverOf(tx), old.body as never);
  if (!old.isVoid && canonical(body) === canonical(old.body)) refuse('same-already');
  return (await replaceFact(tx, factId, { kind: old.kind, body }, entry)).id;
}

/** How to reach a rider is kept outside the facts, so that it can be forgotten; that it changed, who and why stays. */
async function correctRider(
  tx: Tx,
  old: Fact<'rider'>,
  row: Rows['rider'],
  entry: Entry & { readonly why: string },
): Promise<string> {
  const fact = await replaceFact(tx, old.id, { kind: 'rider', body: {} }, entry);
  await giveName(tx, 'rider', fact, row.id);
  await putRider(tx, row, entry);
  return fact.id;
}

const resolverOf =
  (tx: Tx): Resolve =>
  async (kind, handle, key) => {
    const id = await tx.handles.find(kind, handle);
    const isThere = id !== undefined && (await tx.facts.current(kind, id)) !== undefined;
    return isThere ? id : refuseCommand(`${key}: there is no ${kind} "${handle}".`);
  };
