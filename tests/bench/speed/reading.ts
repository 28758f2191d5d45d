/** The whole chain from a file to stored hours against what other decoders take for the file alone. */
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { extname, join } from 'node:path';
import { Decoder, Stream } from '@garmin/fitsdk';
import FitParser from 'fit-file-parser';
import GpxParser from 'gpxparser';
import { SaxesParser } from 'saxes';
import { ingestFile } from '../../../src/flow/ingestFile.js';
import type { Stanchion } from '../../../src/main.js';
import { gpxText, straightTrack, textBytes } from '../../fixtures/gpxFile.js';
import { newLedger } from './ledgers.js';
import { timed } from './timing.js';

const RUNS = 5;
const LEAST_BYTES = 300_000;
/** It takes a second and 90 MB a megabyte. */
const MOST_FOR_GPXPARSER = 1_000_000;
const GENERATED_POINTS = 110_000;

export interface Read {
  readonly file: string;
  readonly mb: number;
  readonly oursMs: number;
  /** By decoder. */
  readonly othersMs: Readonly<Record<string, number>>;
}

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
  return bytes.length > MOST_FOR_GPXPARSER ? { saxes } : { saxes, gpxparser: gpxParser };
};

/**
 * Returns what each file takes: ours with a thread to decode, an original that is kept, and a transaction that is on disk.
 * What is no bicycle ride is left out.
 */
export async function readingFigures(folder: string, all: readonly Sample[], runs = RUNS): Promise<Read[]> {
  const figures: Read[] = [];
  for (const sample of all) {
    const oursMs = await chainMs(folder, sample, runs);
    if (oursMs === null) continue;
    const othersMs: Record<string, number> = {};
    for (const [name, read] of Object.entries(othersFor(sample)))
      othersMs[name] = await timed(runs, () => read(sample.bytes));
    figures.push({ file: sample.name, mb: sample.bytes.length / 1e6, oursMs, othersMs });
  }
  return figures;
}

/** A ledger takes a file once, so each run has one of its own. */
async function chainMs(folder: string, sample: Sample, runs: number): Promise<number | null> {
  const ledgers: Stanchion[] = [];
  for (let run = -1; run < runs; run += 1) ledgers.push(await newLedger(folder));
  let rides = 0;
  const ms = await timed(runs, async (run) => {
    const handed = { ...sample, riderId: null, bikeId: null, rule: null };
    rides += (await ingestFile(ledgers[run + 1]!, handed)).rides.length;
  });
  for (const ledger of ledgers) await ledger.store.close();
  return rides === 0 ? null : ms;
}
