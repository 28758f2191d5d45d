/** Files that an earlier reader read are read again by this one, some at a time; what was said of their rides stays. */
import { canonical } from '../../core/canonical.js';
import { type KeptReading, READER_VERSION, type ReadingSaid } from '../../core/ground/samples/reading.js';
import type { RereadChange } from '../../core/ledger/facts.js';
import type { Turn } from '../../ports/loops.js';
import type { KeptOriginals } from '../../ports/originals.js';
import type { Decoded } from '../../ports/reader.js';
import type { ReadingRow } from '../../ports/readings.js';
import type { StandingRow } from '../../ports/standings.js';
import type { Tx } from '../../ports/store.js';
import { type Instant, seconds, thousandths } from '../../units.js';
import type { Deps } from '../deps.js';
import { recountBikes } from '../due/refreshDue.js';
import { addFact } from '../facts/changeFact.js';
import { RideChanges } from '../rides/rideChanges.js';
import { settleUncounted } from '../rides/settleReadings.js';
import { WHOLE_TURN } from '../turn.js';

export interface RereadDeps extends Pick<Deps, 'store' | 'clock' | 'log'> {
  readonly reader: Pick<Deps['reader'], 'decode'>;
  readonly originals: Pick<KeptOriginals, 'read'>;
}

/** After so many it is said how many are left. */
const FILES_A_STEP = 20;
const BY_ITSELF = 'stanchion';

/**
 * Reads some files again, if any were read by an earlier reader; true where more are left. Once none is, what changed is
 * one fact. The only place that compares a reading's version.
 */
export async function rereadOnce(
  deps: RereadDeps,
  { version = READER_VERSION, turn = WHOLE_TURN }: { readonly version?: number; readonly turn?: Turn } = {},
): Promise<boolean> {
  const { store, clock, log } = deps;
  for (let files = 0; files < FILES_A_STEP && !turn.isOver(); files += 1) {
    const file = await store.read((tx) => tx.rereads.next(version));
    if (!file) return finish(deps, version);
    turn.doing('reading a kept file again');
    const bytes = await deps.originals.read(file.sha256);
    const arrived = await store.read((tx) => tx.files.listArrivals([file.id]));
    // What lay in the future when it came was asked then, and is answered.
    const then = arrived[0]?.at ?? clock.now();
    const name = arrived[0]?.name ?? file.sha256;
    const asked = { bytes, name, owner: BY_ITSELF, placeKey: store.placeKey };
    const decoded = bytes && (await deps.reader.decode({ ...asked, bytes }, then));
    await store.write((tx) => takeAgain(tx, file.id, decoded, version, clock.now()));
  }
  const left = await store.read((tx) => tx.rereads.count(version));
  if (left > 0) log.info({ left, version }, 'kept files are read again');
  return left > 0;
}

/** Returns how many readings are still those of an earlier reader. */
export const countToReread = (tx: Tx, version = READER_VERSION): Promise<number> => tx.rereads.count(version);

/** Writes down what changed, if anything was read again. */
async function finish({ store, clock, log }: RereadDeps, version: number): Promise<false> {
  const sum = await store.write(async (tx) => {
    const read = await tx.rereads.takeSum();
    if (read.files > 0)
      await addFact(tx, { kind: 'reread', body: { version, ...read } }, { by: BY_ITSELF, at: clock.now() });
    return read;
  });
  const { files, lost, kept, changes } = sum;
  if (files > 0)
    log.info({ version, files, lost, kept, changed: changes.length }, 'kept files were read again');
  return false;
}

async function takeAgain(
  tx: Tx,
  fileId: string,
  decoded: Decoded | null,
  version: number,
  at: Instant,
): Promise<void> {
  const old = await tx.readings.listOfFile(fileId);
  const profiles = await tx.readings.listProfiles(old.map(({ id }) => id));
  // What could not be read counts for nothing against what was read once.
  const isRead = decoded !== null && decoded.outcome !== 'set-aside';
  const { pairs, others } = isRead ? matched(old, decoded.readings) : { pairs: [], others: [] };
  const changed: string[] = [];
  let [lost, kept] = [0, 0];
  for (const row of old) {
    const reading = pairs.find((pair) => pair.row === row)?.reading;
    const isMarkedAnew = await markAgain(tx, row.id, reading);
    if (!isRead) {
      await tx.rereads.put(row.id, version, { outcome: 'kept' }, at);
      kept += 1;
    } else if (reading === undefined) {
      await tx.rereads.put(row.id, version, { outcome: 'lost' }, at);
      lost += 1;
    } else if (row.leftAs === null && isSame({ ...row.reading, profile: profiles.get(row.id)! }, reading)) {
      await tx.rereads.put(row.id, version, { outcome: 'same' }, at);
      if (!isMarkedAnew) continue;
    } else {
      const { marks: _, ...rest } = reading;
      const whole = { ...rest, sensors: sensorsOf(row.reading, reading) };
      await tx.rereads.put(row.id, version, { outcome: 'read', reading: whole }, at);
    }
    changed.push(row.id);
  }
  const parts = old.map(({ part }) => part);
  for (const [i, reading] of others.entries())
    changed.push(
      (await tx.readings.add(fileId, Math.max(...parts) + 1 + i, { ...reading, readerVersion: version })).id,
    );
  const changes = changed.length === 0 ? [] : await settleAgain(tx, changed, at);
  await tx.rereads.addUp({ files: 1, lost, kept, changes });
}

/** Keeps where a reading was; true where that was not known before. */
async function markAgain(tx: Tx, readingId: string, reading: KeptReading | undefined): Promise<boolean> {
  if (reading?.marks === undefined) return false;
  const known = await tx.readings.listMarks([readingId]);
  await tx.readings.putMarks(readingId, reading.marks);
  return known.size === 0;
}

const isSame = (old: KeptReading, { readerVersion, marks: _, ...said }: KeptReading): boolean =>
  canonical(whole({ ...said, readerVersion })) === canonical(whole({ ...old, readerVersion }));

const whole = (reading: KeptReading): object => ({ ...reading, profile: JSON.parse(reading.profile) });

/** What a person taught of a sensor stands, also where a later reader no longer tells of it. */
const sensorsOf = (old: ReadingSaid, { sensors }: ReadingSaid): ReadingSaid['sensors'] => [
  ...sensors,
  ...old.sensors.filter((one) => !sensors.some(({ id }) => id === one.id)),
];

interface Pair {
  readonly row: ReadingRow;
  readonly reading: KeptReading;
}

/** Which of the readings of now is which of before: by their start, else by the time that they share. */
function matched(
  old: readonly ReadingRow[],
  readings: readonly KeptReading[],
): { readonly pairs: Pair[]; readonly others: KeptReading[] } {
  const open = new Set(readings);
  const pairs: Pair[] = [];
  const take = (row: ReadingRow, reading: KeptReading | undefined): void => {
    if (reading === undefined) return;
    open.delete(reading);
    pairs.push({ row, reading });
  };
  for (const row of old)
    take(
      row,
      [...open].find(({ start }) => start === row.reading.start),
    );
  const isOpen = (row: ReadingRow): boolean => !pairs.some((pair) => pair.row === row);
  for (const row of old.filter(isOpen)) {
    const shared = (reading: KeptReading): number => sharedMs(row.reading, reading);
    const best = [...open].sort((a, b) => shared(b) - shared(a))[0];
    take(row, best !== undefined && shared(best) > 0 ? best : undefined);
  }
  return { pairs, others: [...open] };
}

const sharedMs = (a: ReadingSaid, b: ReadingSaid): number =>
  a.start === null || b.start === null || a.end === null || b.end === null
    ? 0
    : Math.min(a.end, b.end) - Math.max(a.start, b.start);

/** Settles the rides of these readings, counts their units again, and returns whose hours changed. */
async function settleAgain(tx: Tx, readingIds: readonly string[], at: Instant): Promise<RereadChange[]> {
  const rideChanges = new RideChanges();
  await settleUncounted(tx, readingIds, rideChanges);
  const { bikeIds } = rideChanges;
  const unitIds = new Set<string>();
  for (const bikeId of bikeIds)
    for (const { body } of await tx.facts.list('fitting', { object: bikeId })) unitIds.add(body.unitId);
  const before = await tx.standings.listOfMany([...unitIds]);
  await recountBikes(tx, bikeIds, at);
  const after = new Map((await tx.standings.listOfMany([...unitIds])).map((row) => [keyOf(row), row]));
  return before.flatMap((was) => {
    const now = after.get(keyOf(was));
    if (!now || (was.movingS === now.movingS && was.terrainMs === now.terrainMs)) return [];
    const { unitId, serviceKind } = was;
    return [{ unitId, serviceKind, before: hoursOf(was), after: hoursOf(now) }];
  });
}

const keyOf = ({ unitId, serviceKind }: StandingRow): string => `${unitId} ${serviceKind}`;
const hoursOf = ({ movingS, terrainMs }: StandingRow): RereadChange['before'] => ({
  movingS: seconds(movingS),
  terrainMs: thousandths(terrainMs),
});
