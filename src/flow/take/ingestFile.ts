import type { KeptReading, ReadingSaid } from '../../core/ground/samples/reading.js';
import type { BikeRule, FileWay, RiderRule, TakeOutcome, ToldOutcome } from '../../core/tokens.js';
import { ServiceError } from '../../errors.js';
import type { Arrival, FileRow } from '../../ports/files.js';
import type { Decoded, RideReader } from '../../ports/reader.js';
import type { RideRow } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import type { Deps } from '../deps.js';
import { recountBikes } from '../due/refreshDue.js';
import { listNamedBikes } from '../rides/namedBikes.js';
import { listChargedOf, listUnitChanges, RideChanges, type UnitChange } from '../rides/rideChanges.js';
import { settleUncounted } from '../rides/settleReadings.js';

/** What files are taken with. */
export type TakeDeps = Pick<Deps, 'store' | 'clock' | 'originals'> & {
  readonly reader: Pick<RideReader, 'decode'>;
};

/** A file as it was handed over, with what the way it came says of it. */
export interface HandedOver {
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly riderId: string | null;
  readonly bikeId: string | null;
  /** `subfolder` without a bike: a folder that is named like no bike we know. */
  readonly rule: 'chosen' | 'subfolder' | null;
  /** By what the rider is known; left out where none is. */
  readonly riderRule?: RiderRule;
  readonly way?: FileWay;
}

/** What became of a file. */
export interface Taken {
  readonly file: string;
  /** Of its content; null where nothing of it was kept. */
  readonly sha256: string | null;
  readonly outcome: TakeOutcome;
  readonly code: string | null;
  /** What is wrong with the file, as its reader said it. */
  readonly reason: string | null;
  readonly about: TakenAbout | null;
  /** The bikes that it was handed over for, where it is asked which it was on. */
  readonly named: readonly string[];
  readonly rides: readonly string[];
  readonly bikeId: string | null;
  readonly riderRule: RiderRule | null;
  readonly bikeRule: BikeRule | null;
  /** All its rides were indoors: kept, and counted for no unit. */
  readonly indoor: boolean;
  /** By how much what each unit is charged with changed. */
  readonly changed: readonly UnitChange[];
}

/** What else there is to say of a file that was taken. */
export type TakenAbout =
  | 'dismissed'
  | 'indoors'
  | 'no-unit-on-bike'
  | 'no-unit-on-any-bike'
  | 'damaged'
  | 'damaged-and-covered';

/** What people are told of a file: that an indoor ride was taken says nothing of hours. */
export const toldOutcome = ({ outcome, indoor }: Taken): ToldOutcome =>
  indoor && outcome !== 'ask' ? 'indoors' : outcome;

/** A file that was kept and read, without its bytes: many wait for one transaction, and bytes are the most of a file. */
export interface ReadFile extends Omit<HandedOver, 'bytes'> {
  readonly sha256: string;
  /** Units: bytes. */
  readonly size: number;
  /** Null where the content was known already. */
  readonly decoded: Decoded | null;
}

/** Takes one file into the ledger; the same content from the same rider again adds nothing. */
export async function ingestFile(deps: TakeDeps, handed: HandedOver): Promise<Taken> {
  return (await ingestRead(deps, [await keepAndRead(deps, handed)]))[0]!;
}

/** Keeps the original and reads it. Decoding may take long, and no transaction waits for it. */
export async function keepAndRead(
  deps: TakeDeps,
  handed: HandedOver,
  took?: (ms: number) => void,
): Promise<ReadFile> {
  const { bytes, ...rest } = handed;
  const size = bytes.length;
  const sha256 = await deps.originals.keep(bytes);
  const isKnown = (await deps.store.read((tx) => tx.files.list(sha256))).length > 0;
  const file = {
    ...{
      name: handed.name,
      bytes,
      placeKey: deps.store.placeKey,
      owner: handed.riderId ?? handed.bikeId ?? '',
    },
    ...(took && { took }),
  };
  const decoded = isKnown ? null : await deps.reader.decode(file, deps.clock.now());
  return { ...rest, sha256, size, decoded };
}

/** For so long nothing else of this process moves: pages are served and decoders fed in between. */
const BREATH_MS = 5;

/** Takes some files as if one after the other, in one transaction at whose end the hours are counted once. */
export async function ingestRead({ store, clock }: TakeDeps, all: readonly ReadFile[]): Promise<Taken[]> {
  const now = clock.now();
  return store.write(async (tx) => {
    const bikeIds = new Set<string>();
    const taken: Taken[] = [];
    let began = performance.now();
    for (const one of all) {
      if (performance.now() - began > BREATH_MS) {
        await new Promise((resume) => setImmediate(resume));
        began = performance.now();
      }
      const changes = new RideChanges();
      const told = await take(tx, one, { changes, now });
      taken.push({ ...told, sha256: one.sha256, changed: await listUnitChanges(tx, changes, now) });
      for (const bikeId of changes.bikeIds) bikeIds.add(bikeId);
    }
    await recountBikes(tx, bikeIds, now);
    return taken;
  });
}

interface Counting {
  readonly changes: RideChanges;
  readonly now: Instant;
}

/** What became of a file, but for what that changed. */
type TakenSoFar = Omit<Taken, 'changed' | 'sha256'>;

async function take(tx: Tx, handed: ReadFile, counting: Counting): Promise<TakenSoFar> {
  const { sha256, decoded } = handed;
  const copies = await tx.files.list(sha256);
  const own = await copiesMeant(tx, copies, handed);
  if (own.length > 0) return takeAgain(tx, own, handed, counting);
  const [other] = copies;
  if (other) return takeCopy(tx, other, handed, counting);
  if (decoded === null) {
    throw new ServiceError('refused', `${handed.name} was forgotten while it was taken.`, {
      hint: 'Hand it over again, if that is wanted.',
    });
  }
  return takeFirst(tx, decoded, handed, counting);
}

/** One content may come from several riders of a group: each has a copy of it, and what is nobody's goes to all. */
async function copiesMeant(tx: Tx, copies: readonly FileRow[], handed: ReadFile): Promise<FileRow[]> {
  const riderId = await riderOf(tx, handed);
  if (riderId === null) return [...copies];
  const nobodys: FileRow[] = [];
  for (const copy of copies) {
    const riderIds = await ridersOf(tx, copy);
    if (riderIds.has(riderId)) return [copy];
    if (riderIds.size === 0) nobodys.push(copy);
  }
  return nobodys;
}

type Word = Pick<Arrival, 'riderId' | 'bikeId'>;

async function riderOf(tx: Tx, { riderId, bikeId }: Word): Promise<string | null> {
  if (riderId !== null || bikeId === null) return riderId;
  return (await tx.facts.current('bike', bikeId))?.body.riderId ?? null;
}

/** Everybody whose file it is, by where it lay or by an answer. */
async function ridersOf(tx: Tx, file: FileRow): Promise<Set<string>> {
  const readings = await tx.readings.listOfFile(file.id);
  const answers = await tx.facts.listMany(
    'answer',
    readings.map((row) => row.id),
  );
  const words: Word[] = [
    ...(await tx.files.listArrivals([file.id])),
    ...answers.map(({ body: { riderId = null, bikeId = null } }) => ({ riderId, bikeId })),
  ];
  const riderIds = new Set<string>();
  for (const word of words) {
    const riderId = await riderOf(tx, word);
    if (riderId !== null) riderIds.add(riderId);
  }
  return riderIds;
}

async function takeFirst(
  tx: Tx,
  { readings, outcome, problem }: Decoded,
  handed: ReadFile,
  counting: Counting,
): Promise<TakenSoFar> {
  const file = await tx.files.add({
    sha256: handed.sha256,
    bytes: handed.size,
    riderId: handed.riderId,
    outcome,
    code: problem?.code ?? null,
    reason: problem?.message ?? null,
  });
  return settleNew(tx, file, readings, handed, counting);
}

/** Takes another rider's copy of a file that is known, with what was said of it for nobody in particular. */
async function takeCopy(tx: Tx, other: FileRow, handed: ReadFile, counting: Counting): Promise<TakenSoFar> {
  const { id: otherId, ...content } = other;
  const file = await tx.files.add({ ...content, riderId: handed.riderId });
  for (const arrival of await tx.files.listArrivals([otherId]))
    if ((await riderOf(tx, arrival)) === null) await tx.files.addArrival({ ...arrival, fileId: file.id });
  const rows = await tx.readings.listOfFile(otherId);
  const marks = await tx.readings.listMarks(rows.map((row) => row.id));
  const profiles = await tx.readings.listProfiles(rows.map((row) => row.id));
  const readings = rows.map(({ id, reading }): KeptReading => {
    const marked = marks.get(id);
    return { ...reading, profile: profiles.get(id)!, ...(marked && { marks: marked }) };
  });
  return settleNew(tx, file, readings, handed, counting);
}

async function settleNew(
  tx: Tx,
  file: FileRow,
  readings: readonly KeptReading[],
  handed: ReadFile,
  counting: Counting,
): Promise<TakenSoFar> {
  await tx.files.addArrival(await arrivalOf(tx, file.id, handed, counting.now));
  if (readings.length === 0) return notTaken(file, handed.name);
  const ids: string[] = [];
  for (const [part, reading] of readings.entries())
    ids.push((await tx.readings.add(file.id, part, reading)).id);
  const rides = await settleUncounted(tx, ids, counting.changes);
  const settled = (ride: RideRow): TakeOutcome =>
    ride.readingIds.some((id) => !ids.includes(id)) ? 'joined' : 'counted';
  return takenOf(tx, handed, { rides, readings, settled, now: counting.now });
}

async function takeAgain(
  tx: Tx,
  own: readonly FileRow[],
  handed: ReadFile,
  counting: Counting,
): Promise<TakenSoFar> {
  const readings = [];
  let isNews = false;
  for (const file of own) {
    readings.push(...(await tx.readings.listOfFile(file.id)));
    const arrival = await arrivalOf(tx, file.id, handed, counting.now);
    const known = await tx.files.listArrivals([file.id]);
    if (known.some((one) => isSameWord(one, arrival))) continue;
    isNews = true;
    await tx.files.addArrival(arrival);
  }
  if (readings.length === 0) return notTaken(own[0]!, handed.name);
  const ids = readings.map((row) => row.id);
  // The file is kept again.
  await tx.rereads.retry(readings.filter(({ leftAs }) => leftAs === 'kept').map(({ id }) => id));
  const before = await tx.rides.listOfReadings(ids);
  const charged = await listChargedOf(tx, before, counting.now);
  const rides = isNews ? await settleUncounted(tx, ids, counting.changes) : before;
  const said = readings.map((row) => row.reading);
  const settled = ({ readingIds, bikeId }: RideRow): TakeOutcome => {
    const old = before.filter((ride) => ride.readingIds.some((id) => readingIds.includes(id)));
    if (!old.some((ride) => charged.has(ride.id))) return 'counts-now';
    return old.some((ride) => ride.bikeId !== null && ride.bikeId !== bikeId) ? 'moved' : 'counted-already';
  };
  return takenOf(tx, handed, { rides, readings: said, settled, now: counting.now });
}

const arrivalOf = async (tx: Tx, fileId: string, handed: ReadFile, at: Instant): Promise<Arrival> => ({
  fileId,
  name: handed.name,
  riderId: handed.riderId,
  bikeId: handed.bikeId,
  rule: handed.bikeId === null ? handed.rule : (handed.rule ?? 'chosen'),
  way: handed.way ?? null,
  at,
  afterFact: await tx.facts.lastSeq(),
});

const isSameWord = (a: Arrival, b: Arrival): boolean =>
  a.riderId === b.riderId && a.bikeId === b.bikeId && a.rule === b.rule;

const notTaken = (file: FileRow, name: string): TakenSoFar =>
  untaken(name, { ...file, outcome: file.outcome === 'no-ride' ? 'no-ride' : 'set-aside' });

/** Returns what is told of a file in which there is no ride. */
export const untaken = (
  name: string,
  { outcome, code, reason }: Pick<Taken, 'outcome' | 'code' | 'reason'>,
): TakenSoFar => ({
  file: name,
  ...{ outcome, code, reason },
  about: null,
  named: [],
  rides: [],
  bikeId: null,
  riderRule: null,
  bikeRule: null,
  indoor: false,
});

interface Settled {
  readonly rides: readonly RideRow[];
  readonly readings: readonly ReadingSaid[];
  /** What is said of a ride that is charged to a unit. */
  readonly settled: (ride: RideRow) => TakeOutcome;
  readonly now: Instant;
}

/** A file with several rides is told by the least settled of them. */
async function takenOf(
  tx: Tx,
  handed: ReadFile,
  { rides, readings, settled, now }: Settled,
): Promise<TakenSoFar> {
  const kept = rides.filter((ride) => !ride.dismissed);
  const asking = kept.find((ride) => ride.question !== null);
  const charged = await listChargedOf(tx, kept, now);
  const one = asking ?? kept.find((ride) => charged.has(ride.id)) ?? kept[0] ?? rides[0]!;
  const indoor = kept.length > 0 && kept.every((ride) => ride.indoor);
  const { bikeId, bikeRule } = one;
  const told = {
    ...{ file: handed.name, rides: rides.map((ride) => ride.id), bikeId, bikeRule, indoor },
    ...{ riderRule: riderRuleOf(handed, one), reason: null, about: null, named: [] },
  };
  if (asking)
    return { ...told, outcome: 'ask', code: asking.question, named: await bikesNamedFor(tx, asking) };
  if (one.dismissed) return { ...told, outcome: 'no-ride', code: 'dismissed', about: 'dismissed' };
  const damage = readings.find((reading) => reading.damage !== null)?.damage ?? null;
  if (!charged.has(one.id)) return { ...told, outcome: 'kept-only', code: damage, about: keptAbout(one) };
  const about = damage === null ? null : one.damage === null ? 'damaged-and-covered' : 'damaged';
  return { ...told, outcome: settled(one), code: damage, about };
}

/** By what its rider is known: by what came with the file, else by a bike that somebody chose. */
const riderRuleOf = (
  { riderRule }: ReadFile,
  { riderId, bikeRule, riderRule: byRecorder }: RideRow,
): RiderRule | null =>
  riderId === null ? null : (riderRule ?? byRecorder ?? (bikeRule === 'subfolder' ? 'folder' : 'chosen'));

const keptAbout = ({ indoor, bikeId }: RideRow): TakenAbout =>
  indoor ? 'indoors' : bikeId === null ? 'no-unit-on-any-bike' : 'no-unit-on-bike';

async function bikesNamedFor(tx: Tx, ride: RideRow): Promise<string[]> {
  if (ride.question !== 'which-bike') return [];
  const bikeIds = (await listNamedBikes(tx, [ride])).get(ride.id) ?? [];
  const handles = await tx.handles.listOf('bike', bikeIds);
  return bikeIds.map((id) => handles.get(id) ?? id).sort();
}
