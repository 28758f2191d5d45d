/** The whole chain from a file to stored hours against what other decoders take for the file alone. */
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { extname, join } from 'node:path';
import { Decoder, Stream } from '@garmin/fitsdk';
import FitParser from 'fit-file-parser';
import { SaxesParser } from 'saxes';
import { readContent } from '../../../src/files/readFile.js';
import { marksUnder } from '../../../src/files/threads/marks.js';
import { decodeFile } from '../../../src/flow/take/decodeFile.js';
import { ingestFile } from '../../../src/flow/take/ingestFile.js';
import { takeMembers } from '../../../src/flow/take/takePath.js';
import type { Stanchion } from '../../../src/main.js';
import { DAY_MS } from '../../../src/units.js';
import { gpxText, straightTrack, textBytes } from '../../fixtures/gpxFile.js';
import { openMade } from '../../fixtures/openMade.js';
import { zipFile } from '../../fixtures/zipFile.js';
import { bareGpx } from './bareGpx.js';
import type { Figure } from './figure.js';
import { GpxParser } from './gpxParser.js';
import { NOW, newLedger } from './ledgers.js';
import { sharesOf } from './profile.js';
import { ridesZip } from './ridesZip.js';
import { inTurns, timed, timeOf } from './timing.js';

const RUNS = 5;
const WARM_UPS = 3;
const FIT_FILES = 300;
const GPX_FILES = 40;
/** The whole way takes at most so many times as long as its decoder alone; GPX does not, see DEVELOPERS.md. */
const MOST_OF_FIT = 1.3;
const LEAST_BYTES = 300_000;
/** It takes a second and 90 MB a megabyte. */
const MOST_FOR_GPXPARSER = 1_000_000;
const GENERATED_POINTS = 110_000;

interface Sample {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** Returns the recordings of 300 KB and more under names that say nothing of them, and a generated GPX of 10 MB. */
export function samples(): Sample[] {
  const recordings = process.env.STANCHION_RECORDINGS;
  const folders = recordings === undefined ? [] : ['rides', 'tracks'].map((one) => join(recordings, one));
  const points = straightTrack(Date.parse('2026-05-01T08:00:00Z'), GENERATED_POINTS);
  return [...large(folders), { name: 'generated.gpx', bytes: textBytes(gpxText([{ segments: [points] }])) }];
}

const large = (folders: readonly string[]): Sample[] =>
  folders
    .flatMap((folder) => readdirSync(folder).map((file) => join(folder, file)))
    .filter((path) => statSync(path).size >= LEAST_BYTES && ['.fit', '.gpx'].includes(extname(path)))
    .map((path, i) => ({ name: `recording ${i + 1}${extname(path)}`, bytes: readFileSync(path) }));

const fitParser = (bytes: Uint8Array): Promise<unknown> =>
  new Promise((done) => {
    new FitParser({ mode: 'list', force: true }).parse(Buffer.from(bytes), (_, data) => done(data));
  });
const fitSdk = (bytes: Uint8Array): unknown => new Decoder(Stream.fromBuffer(Buffer.from(bytes))).read();
function saxes(bytes: Uint8Array): void {
  const parser = new SaxesParser();
  parser.on('error', () => undefined);
  parser.write(new TextDecoder().decode(bytes)).close();
}
/** Its types say it is a module; it is the class itself. */
const OtherGpx = GpxParser as unknown as new () => { parse(text: string): void };
const gpxParser = (bytes: Uint8Array): void => new OtherGpx().parse(new TextDecoder().decode(bytes));

const othersFor = ({ name, bytes }: Sample): Record<string, (bytes: Uint8Array) => unknown> => {
  if (name.endsWith('.fit')) return { 'fit-file-parser': fitParser, 'FIT SDK': fitSdk };
  const gpx = { saxes, 'a search for its numbers': bareGpx };
  return bytes.length > MOST_FOR_GPXPARSER ? gpx : { ...gpx, gpxparser: gpxParser };
};

/**
 * Returns what each file takes: ours with a thread to decode, an original that is kept, and a transaction that is on disk.
 * What is no bicycle ride is left out.
 */
export async function readingFigures(folder: string, all: readonly Sample[], runs = RUNS): Promise<Figure[]> {
  const figures: Figure[] = [];
  for (const sample of all) {
    const oursMs = await chainMs(folder, sample, runs);
    if (oursMs === null) continue;
    for (const [name, read] of Object.entries(othersFor(sample)))
      figures.push({
        what: `${sample.name} (${(sample.bytes.length / 1e6).toFixed(1)} MB) to stored hours`,
        ours: oursMs,
        against: `${name} alone`,
        other: await timed(runs, () => read(sample.bytes), WARM_UPS),
        unit: 'ms',
        ...(name === 'fit-file-parser' ? { most: MOST_OF_FIT } : {}),
      });
  }
  return figures;
}

/** So many times what a parser takes for the file alone. */
const AIMS = { saxes: 1, 'fit-file-parser': 0.15 } as const;

/**
 * Returns what each file takes from its bytes to a reading, without a thread and without storing, beside a parser that
 * only reads the file. By the processor, in turns. What is no bicycle ride is left out.
 */
export async function decodingFigures(all: readonly Sample[], runs = RUNS): Promise<Figure[]> {
  const figures: Figure[] = [];
  for (const { name, bytes } of all) {
    const read = () => decodeFile(readContent, { name, bytes }, NOW, marksUnder('bench'));
    if (read().readings.length === 0) continue;
    const against = name.endsWith('.fit') ? 'fit-file-parser' : 'saxes';
    const other = against === 'saxes' ? saxes : fitParser;
    const [ours, theirs] = await inTurns(runs, ...several(bytes, read, () => other(bytes)));
    figures.push({
      what: `${name} (${(bytes.length / 1e6).toFixed(1)} MB) to a reading`,
      ...{ ours, against: `${against} alone`, other: theirs, unit: 'ms' },
      aim: AIMS[against],
    });
  }
  return figures;
}

/** What takes a millisecond is done so often that the system's clock of the processor tells it. */
const TELLING_BYTES = 4_000_000;

function several(bytes: Uint8Array, ...works: (() => unknown)[]): [() => unknown, () => unknown] {
  const times = Math.max(1, Math.round(TELLING_BYTES / bytes.length));
  const [ours, other] = works.map((work) => async () => {
    for (let i = 0; i < times; i += 1) await work();
  });
  return [ours!, other!];
}

/** A ledger takes a file once, so each run has one of its own; the thread is one, warm as in a program that has run a while. */
async function chainMs(folder: string, sample: Sample, runs: number): Promise<number | null> {
  const ledgers: Stanchion[] = [];
  for (let run = 0; run < runs + WARM_UPS; run += 1) ledgers.push(await newLedger(folder));
  let rides = 0;
  const ms = await timed(
    runs,
    async (run) => {
      const handed = { ...sample, riderId: null, bikeId: null, rule: null };
      rides += (await ingestFile(ledgers[run]!, handed)).rides.length;
    },
    WARM_UPS,
  );
  for (const ledger of ledgers) await ledger.store.close();
  return rides === 0 ? null : ms;
}

/** Returns how many cores are at work while many rides are taken, as processor seconds against seconds. */
export async function bulkFigures(
  folder: string,
  { fit = FIT_FILES, gpx = GPX_FILES } = {},
): Promise<Figure[]> {
  const figures: Figure[] = [];
  for (const [what, zip] of [
    [`a zip of ${fit} FIT rides`, ridesZip(fit)],
    [`a zip of ${gpx} GPX rides`, gpxZip(gpx)],
  ] as const) {
    const ledger = await newLedger(folder);
    const bikeId = await ledger.store.read(async (tx) => (await tx.handles.find('bike', 'b1'))!);
    const members = openMade(zip, 'rides.zip');
    const before = process.cpuUsage();
    const ms = await timeOf(async () => {
      for await (const taken of takeMembers(ledger, members, () => ({
        riderId: null,
        bikeId,
        rule: 'chosen',
      })))
        if (taken.outcome !== 'counted') throw new Error(`${taken.outcome}: ${taken.reason}`);
    });
    const { user, system } = process.cpuUsage(before);
    await ledger.store.close();
    figures.push({
      ...{ what: `${what}: processor`, ours: (user + system) / 1e6 },
      ...{ against: 'by the clock', other: ms / 1000, unit: 's' },
    });
  }
  return figures;
}

/** Two hours each, a point a second. */
const gpxZip = (files: number): Uint8Array =>
  zipFile(
    Array.from({ length: files }, (_, i) => {
      const track = straightTrack(Date.parse('2026-05-01T08:00:00Z') - i * DAY_MS, 7200);
      return { name: `${i}.gpx`, bytes: textBytes(gpxText([{ type: 'cycling', segments: [track] }])) };
    }),
  );

/** So many bytes are read in a profile, or a small file would be lost in what the profiler itself does. */
const PROFILED_BYTES = 20_000_000;

/** Returns where the time goes, a line a file: from bytes to a reading, in this thread, once it is warm. */
export async function profileLines(all: readonly Sample[]): Promise<string[]> {
  const lines: string[] = [];
  for (const { name, bytes } of all) {
    const read = (): void => {
      for (let done = 0; done < PROFILED_BYTES; done += bytes.length)
        decodeFile(readContent, { name, bytes }, NOW);
    };
    decodeFile(readContent, { name, bytes }, NOW);
    const shares = await sharesOf(read);
    lines.push(
      `${name}: ${shares.map(([part, share]) => `${part} ${(share * 100).toFixed(0)} %`).join(', ')}`,
    );
  }
  return lines;
}
