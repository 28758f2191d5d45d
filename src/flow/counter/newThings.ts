/** What comes new to a workshop: riders, bikes and units, each with a name that the workshop may change later. */
import type { Fact, UnitFact } from '../../core/ledger/facts.js';
import type { BikeType, Spring, UnitKind } from '../../core/tokens.js';
import type { HandleKind } from '../../ports/handles.js';
import type { Tx } from '../../ports/store.js';
import type { Day } from '../../units.js';
import type { Entry } from '../entry.js';
import { addFact } from '../facts/changeFact.js';
import type { Touched } from '../facts/touched.js';
import { giveName } from '../names.js';

export interface NewBike {
  readonly riderId: string | null;
  readonly fleetId: string | null;
  readonly name: string;
  readonly type: BikeType;
}

export interface NewUnit {
  readonly unitKind: UnitKind;
  /** Of a fork. */
  readonly spring?: Spring;
  readonly model: string | null;
  readonly serial: string | null;
  readonly history: 'new' | 'unknown';
  /** Whose it is while it is on no bike. */
  readonly riderId?: string;
}

/** Of forks, air shocks and coil shocks, before a number of four digits or more. */
const TAGS: Readonly<Record<UnitKind, string>> = { fork: 'F-', 'air-shock': 'A-', 'coil-shock': 'C-' };

/** Returns the number after the highest that follows the prefix in any name ever given. */
export async function nextNumber(tx: Tx, kind: HandleKind, prefix: string, atLeast = 1): Promise<number> {
  let next = atLeast;
  for (const name of (await tx.handles.names(kind)).keys()) {
    const digits = name.startsWith(prefix) ? name.slice(prefix.length) : '';
    if (/^\d{1,9}$/.test(digits)) next = Math.max(next, Number(digits) + 1);
  }
  return next;
}

/**
 * Returns the name of a new rider. A folder of rides may still be called as a forgotten rider was, so the number goes on
 * from all riders that there ever were.
 */
export const newRiderHandle = async (tx: Tx): Promise<string> =>
  `r${await nextNumber(tx, 'rider', 'r', (await tx.facts.versions('rider')).length + 1)}`;

/** Adds a bike with a name of its own for files and folders. Errors: `refused`. */
export async function addBike(tx: Tx, bike: NewBike, entry: Entry, touched: Touched): Promise<Fact<'bike'>> {
  const handle = `b${await nextNumber(tx, 'bike', 'b')}`;
  const fact = await addFact(tx, { kind: 'bike', body: { handle, ...bike } }, entry, touched);
  await giveName(tx, 'bike', fact, handle);
  return fact;
}

/** Adds a unit with the next tag of its kind. Errors: `refused`. */
export async function addUnit(
  tx: Tx,
  { unitKind, spring, ...rest }: NewUnit,
  entry: Entry,
  touched: Touched,
): Promise<Fact<'unit'>> {
  const prefix = TAGS[unitKind];
  const tag = `${prefix}${String(await nextNumber(tx, 'unit', prefix)).padStart(4, '0')}`;
  const body: UnitFact = {
    tag,
    unitKind,
    ...rest,
    warrantyEnd: null,
    factor: 1,
    ...springOf(unitKind, spring),
  };
  const fact = await addFact(tx, { kind: 'unit', body }, entry, touched);
  await giveName(tx, 'unit', fact, tag);
  return fact;
}

/** Air is what a fork has where nothing is said. */
export const springOf = (unitKind: UnitKind, spring: Spring | undefined): Pick<UnitFact, 'spring'> =>
  unitKind === 'fork' && spring === 'coil' ? { spring } : {};

/** Adds units and puts them on a bike from the start of a day. Errors: `refused`. */
export async function addUnitsOn(
  tx: Tx,
  {
    bikeId,
    since,
    units,
  }: { readonly bikeId: string; readonly since: Day; readonly units: readonly NewUnit[] },
  entry: Entry,
  touched: Touched,
): Promise<Fact<'unit'>[]> {
  const added: Fact<'unit'>[] = [];
  for (const unit of units) {
    const fact = await addUnit(tx, unit, entry, touched);
    const body = { unitId: fact.entityId, bikeId, from: since, to: null };
    await addFact(tx, { kind: 'fitting', body }, entry, touched);
    added.push(fact);
  }
  return added;
}
