import type { Stray } from '../../core/fileTold.js';
import type { Bike } from '../../core/ledger/ledger.js';
import type { Tx } from '../../ports/store.js';
import { bikeOf } from '../unitLedger.js';
import type { HandedOver } from './ingestFile.js';

export interface FolderMeaning extends Pick<HandedOver, 'riderId' | 'bikeId' | 'rule'> {
  /** A folder of which nobody is known, which is why there may be a question. */
  readonly stray: Stray | null;
}

/** Years, months and days sort files and name no bike. */
const DATE_LIKE = /^[\d\s._-]+$/;

/**
 * Returns what a path `<rider>/[<bike>/]…` in the drop folder means now; a folder that was there before its rider or bike
 * was called otherwise still means them. A bike goes by its id, or by its name among the rider's own. A fleet's bike
 * has no rider: it stands alone, or in the place of its rider stands the fleet. Of a few paths, given, only what they name
 * is read.
 */
export async function openFolderMeanings(
  tx: Tx,
  paths?: readonly string[],
): Promise<(path: string) => FolderMeaning> {
  const { riders, names, bikes } = paths === undefined ? await allNames(tx) : await namesOn(tx, paths);
  const findBike = (folder: string, riderId: string | null): Bike | undefined => {
    const byHandle = bikes.find((bike) => bike.id === names.get(folder));
    if (byHandle || riderId === null) return byHandle;
    const byName = bikes.filter((bike) => bike.riderId === riderId && isName(bike.name, folder));
    return byName.length === 1 ? byName[0] : undefined;
  };
  return (path) => {
    const [rider, folder, ...below] = path.normalize('NFC').split('/').slice(0, -1);
    const riderId = rider === undefined ? null : (riders.get(rider) ?? null);
    const ofFleet = bikes.find((bike) => bike.fleetId !== null && bike.id === names.get(rider ?? ''));
    if (riderId === null && ofFleet) return { riderId, bikeId: ofFleet.id, rule: 'subfolder', stray: null };
    const stray: Stray | null =
      rider === undefined || riderId !== null ? null : { folder: rider, kind: 'rider' };
    if (folder === undefined) return { riderId, bikeId: null, rule: null, stray };
    const bikeId = findBike(folder, riderId)?.id ?? null;
    if (bikeId === null && isPacking(folder, below)) return { riderId, bikeId, rule: null, stray };
    const strayBike: Stray | null = bikeId === null ? { folder, kind: 'bike' } : null;
    return { riderId, bikeId, rule: 'subfolder', stray: stray ?? strayBike };
  };
}

interface Names {
  readonly riders: ReadonlyMap<string, string>;
  readonly names: ReadonlyMap<string, string>;
  readonly bikes: readonly Bike[];
}

const allNames = async (tx: Tx): Promise<Names> => ({
  riders: sameForm(await tx.handles.names('rider')),
  names: sameForm(await tx.handles.names('bike')),
  bikes: (await tx.facts.list('bike')).map(bikeOf),
});

async function namesOn(tx: Tx, paths: readonly string[]): Promise<Names> {
  const folders = new Set(paths.flatMap((path) => path.split('/').slice(0, 2)));
  const called = async (kind: 'rider' | 'bike'): Promise<ReadonlyMap<string, string>> => {
    const found = new Map<string, string>();
    for (const folder of folders)
      for (const name of new Set([folder, folder.normalize('NFC'), folder.normalize('NFD')])) {
        const id = await tx.handles.find(kind, name);
        if (id !== undefined) found.set(name, id);
      }
    return sameForm(found);
  };
  const [riders, names] = [await called('rider'), await called('bike')];
  const bikes = [
    ...(await tx.facts.listMany('bike', [...names.values()])),
    ...(await tx.facts.listTouching('bike', [...riders.values()])),
  ];
  return { riders, names, bikes: [...new Map(bikes.map((one) => [one.entityId, bikeOf(one)])).values()] };
}

/** What folders say of a file. */
export type FolderSays = Pick<HandedOver, 'riderId' | 'bikeId' | 'rule' | 'riderRule'>;

/** Files with files in them, by their names. */
export const ARCHIVE = /\.(zip|gz|tgz)$/i;

/**
 * Returns what the folders around a file say, those inside an archive too where they are called like a rider or a bike:
 * others are how an export packs its files. Shape: a path with slashes, archives among its folders.
 */
export function sayingOf(meaningOf: (path: string) => FolderMeaning, path: string): FolderSays {
  const parts = path.split('/');
  const at = parts.findIndex((part) => ARCHIVE.test(part));
  const outer = meaningOf((at < 0 ? parts : parts.slice(0, at + 1)).join('/'));
  if (at < 0 || outer.bikeId !== null) return saidBy(outer);
  const inner = meaningOf(parts.filter((part, i) => i === parts.length - 1 || !ARCHIVE.test(part)).join('/'));
  const isOfAnother = outer.riderId !== null && inner.riderId !== outer.riderId;
  if (isOfAnother || (inner.riderId === null && inner.bikeId === null)) return saidBy(outer);
  return saidBy(inner.bikeId === null ? { ...inner, rule: null } : inner);
}

const saidBy = ({ riderId, bikeId, rule }: FolderMeaning): FolderSays => ({
  ...{ riderId, bikeId, rule },
  ...(riderId !== null && { riderRule: 'folder' as const }),
});

/** Folders with folders of other names in them come from a recorder or an export: theirs are not bikes' names. */
const isPacking = (folder: string, below: readonly string[]): boolean =>
  DATE_LIKE.test(folder) || below.some((name) => !DATE_LIKE.test(name));

const isName = (name: string, folder: string): boolean =>
  name.normalize('NFC').trim().toLowerCase() === folder.trim().toLowerCase();

/** One letter may be written as one sign or as two, and each system has its own way. Source: Unicode Annex 15. */
const sameForm = (ids: ReadonlyMap<string, string>): ReadonlyMap<string, string> =>
  new Map([...ids].map(([handle, id]) => [handle.normalize('NFC'), id]));
