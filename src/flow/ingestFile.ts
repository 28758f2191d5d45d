import type { Reading } from '../core/reading.js';
import { readRecording } from '../core/readRecording.js';
import type { BikeRule } from '../core/tokens.js';
import type { Arrival, FileRow, RideRow, Tx } from '../ports.js';
import type { Problem } from '../problems.js';
import type { Instant } from '../units.js';
import type { Deps } from './deps.js';
import { QUESTIONS } from './questions.js';
import { settleReadings } from './settleReadings.js';

/** A file as it was handed over, with what the way it came says of it. */
export interface HandedOver {
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly riderId: string | null;
  readonly bikeId: string | null;
  readonly rule: 'chosen' | 'subfolder' | null;
}

export type TakeOutcome = 'counted' | 'counted-already' | 'joined' | 'ask' | 'no-ride' | 'set-aside';

/** What became of a file. */
export interface Taken {
  readonly file: string;
  readonly outcome: TakeOutcome;
  readonly code: string | null;
  readonly reason: string | null;
  readonly rides: readonly string[];
  readonly bikeId: string | null;
  readonly bikeRule: BikeRule | null;
}

/** Takes one file into the ledger; the same content from the same rider again adds nothing. */
export async function ingestFile(deps: Deps, handed: HandedOver): Promise<Taken> {
  const now = deps.clock.now();
  const sha256 = await deps.originals.keep(handed.bytes);
  const known = await deps.store.read((tx) => tx.files.find(sha256, handed.riderId));
  const read = known ? null : readFile(deps, handed, now);
  return deps.store.write(async (tx) => {
    const file = await tx.files.find(sha256, handed.riderId);
    if (file) return takeAgain(tx, file, handed, now);
    return takeFirst(tx, sha256, handed, read ?? readFile(deps, handed, now), now);
  });
}

interface FileRead {
  readonly readings: readonly Reading[];
  readonly outcome: FileRow['outcome'];
  readonly problem: Problem | null;
}

/** Decodes a file outside any transaction. Of several recordings those that are no rides drop out. */
function readFile({ reader }: Pick<Deps, 'reader'>, handed: HandedOver, now: Instant): FileRead {
  const content = reader.read(handed.bytes, handed.name);
  if ('problem' in content) return { readings: [], outcome: content.outcome, problem: content.problem };
  const read = content.recordings.map((recording) => readRecording(recording, { now }));
  const readings = read.flatMap((one) => ('reading' in one ? [one.reading] : []));
  if (readings.length > 0) return { readings, outcome: 'ride', problem: null };
  const failed = read.find((one) => 'problem' in one);
  return failed && 'problem' in failed
    ? { readings, outcome: failed.outcome, problem: { ...failed.problem, source: handed.name } }
    : {
        readings,
        outcome: 'no-ride',
        problem: { code: 'no-track', message: NOTHING_IN_IT, source: handed.name },
      };
}

const NOTHING_IN_IT = 'There is no recorded track in this file.';

const arrivalOf = (fileId: string, handed: HandedOver, at: Instant): Arrival => ({
  fileId,
  name: handed.name,
  riderId: handed.riderId,
  bikeId: handed.bikeId,
  rule: handed.bikeId === null ? null : (handed.rule ?? 'chosen'),
  at,
});

async function takeFirst(
  tx: Tx,
  sha256: string,
  handed: HandedOver,
  { readings, outcome, problem }: FileRead,
  now: Instant,
): Promise<Taken> {
  const file = await tx.files.add({
    sha256,
    bytes: handed.bytes.length,
    riderId: handed.riderId,
    outcome,
    code: problem?.code ?? null,
    reason: problem?.message ?? null,
  });
  await tx.files.addArrival(arrivalOf(file.id, handed, now));
  if (readings.length === 0) return notTaken(file, handed.name);
  const ids: string[] = [];
  for (const [part, reading] of readings.entries())
    ids.push((await tx.readings.add(file.id, part, reading)).id);
  const rides = await settleReadings(tx, ids, now);
  return takenOf(handed.name, rides, (ride) =>
    ride.readingIds.some((id) => !ids.includes(id)) ? 'joined' : 'counted',
  );
}

async function takeAgain(tx: Tx, file: FileRow, handed: HandedOver, now: Instant): Promise<Taken> {
  const ids = (await tx.readings.listOfFile(file.id)).map((row) => row.id);
  const before = await tx.files.listArrivals([file.id]);
  const arrival = arrivalOf(file.id, handed, now);
  const isNews = !before.some(
    (one) => one.riderId === arrival.riderId && one.bikeId === arrival.bikeId && one.rule === arrival.rule,
  );
  if (isNews) await tx.files.addArrival(arrival);
  if (ids.length === 0) return notTaken(file, handed.name);
  const rides = isNews ? await settleReadings(tx, ids, now) : await tx.rides.listOfReadings(ids);
  return takenOf(handed.name, rides, () => 'counted-already');
}

const notTaken = (file: FileRow, name: string): Taken => ({
  file: name,
  outcome: file.outcome === 'no-ride' ? 'no-ride' : 'set-aside',
  code: file.code,
  reason: file.reason,
  rides: [],
  bikeId: null,
  bikeRule: null,
});

/** A file with several rides is told by the least settled of them. */
function takenOf(file: string, rides: readonly RideRow[], settled: (ride: RideRow) => TakeOutcome): Taken {
  const asking = rides.find((ride) => ride.question !== null && !ride.dismissed);
  const one = asking ?? rides.find((ride) => !ride.dismissed) ?? rides[0]!;
  const told = { file, rides: rides.map((ride) => ride.id), bikeId: one.bikeId, bikeRule: one.bikeRule };
  if (asking) return { ...told, outcome: 'ask', code: asking.question, reason: QUESTIONS[asking.question!] };
  if (one.dismissed)
    return { ...told, outcome: 'no-ride', code: 'dismissed', reason: 'Somebody said that this is no ride.' };
  return { ...told, outcome: settled(one), ...damageOf(one) };
}

function damageOf(ride: RideRow): Pick<Taken, 'code' | 'reason'> {
  return ride.damage === null
    ? { code: null, reason: null }
    : {
        code: 'cut-off',
        reason: 'The file is damaged: only a part of the ride could be read, and it counts.',
      };
}
