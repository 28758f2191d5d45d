import { canonical } from '../../core/canonical.js';
import type { Fact, RaceFact } from '../../core/ledger/facts.js';
import type { Tx } from '../../ports/store.js';
import type { Entry } from '../entry.js';
import { addFact, getFact, replaceFact, voidFact } from '../facts/changeFact.js';
import { nothingTouched } from '../facts/touched.js';
import { giveName } from '../names.js';
import { refuseCommand } from '../refuse.js';
import { nextNumber } from './newThings.js';

/** A bike that may be entered for a race, with the fleet that it belongs to. */
export interface RaceBike {
  readonly id: string;
  readonly name: string;
  readonly fleet: string | null;
}

/** What the form of a race shows. */
export interface RaceForm {
  /** Undefined for a new one. */
  readonly fact: Fact<'race'> | undefined;
  /** In order of fleets, then of names. */
  readonly bikes: readonly RaceBike[];
}

/**
 * Returns a race with the bikes to choose from: those of all fleets and those that it has already; of one fleet alone
 * where it is named.
 */
export async function getRaceForm(tx: Tx, handle: string | null, fleetId: string | null): Promise<RaceForm> {
  const raceId = handle === null ? undefined : await tx.handles.find('race', handle);
  const fact = raceId === undefined ? undefined : await tx.facts.current('race', raceId);
  const fleets = new Map((await tx.facts.list('fleet')).map(({ entityId, body }) => [entityId, body.name]));
  const own = (await tx.facts.listFleetBikes()).filter(
    ({ body }) => fleetId === null || body.fleetId === fleetId,
  );
  const known = new Set(own.map(({ entityId }) => entityId));
  const others = fleetId === null ? (fact?.body.bikeIds ?? []).filter((id) => !known.has(id)) : [];
  const bikes = [...own, ...(await tx.facts.listMany('bike', others))].map(
    ({ entityId, body }): RaceBike => ({
      id: entityId,
      name: body.name,
      fleet: body.fleetId === null ? null : (fleets.get(body.fleetId) ?? null),
    }),
  );
  const key = ({ fleet, name }: RaceBike): string => `${fleet ?? '\uffff'} ${name}`;
  return { fact, bikes: bikes.sort((a, b) => key(a).localeCompare(key(b), 'en', { numeric: true })) };
}

export type RaceWords = Omit<RaceFact, 'handle'>;

/** Adds a race with a name of its own for files. Returns its handle. */
export async function addRace(tx: Tx, words: RaceWords, entry: Entry): Promise<string> {
  const handle = `x${await nextNumber(tx, 'race', 'x')}`;
  const fact = await addFact(tx, { kind: 'race', body: { handle, ...words } }, entry, nothingTouched());
  await giveName(tx, 'race', fact, handle);
  return handle;
}

/**
 * Puts other words about a race in the place of those that a person saw, named by the fact. Returns whether anything is
 * other.
 * Errors: `already-replaced`, `not-found`, `refused`.
 */
export async function changeRace(tx: Tx, factId: string, words: RaceWords, entry: Entry): Promise<boolean> {
  const fact = await getRaceFact(tx, factId);
  const body = { ...fact.body, ...words };
  if (canonical(body) === canonical(fact.body)) return false;
  await replaceFact(tx, factId, { kind: 'race', body }, entry);
  return true;
}

/** Takes a race back. Errors: as of `changeRace`. */
export async function removeRace(tx: Tx, factId: string, why: string, entry: Entry): Promise<void> {
  await voidFact(tx, (await getRaceFact(tx, factId)).id, why, entry);
}

async function getRaceFact(tx: Tx, factId: string): Promise<Fact<'race'>> {
  const fact = await getFact(tx, factId);
  return fact.kind === 'race' ? (fact as Fact<'race'>) : refuseCommand('That is no fact about a race.');
}
