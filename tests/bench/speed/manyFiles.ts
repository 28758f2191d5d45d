/**
 * The built program is given zips of few and of many ride files, by `take` and by the drop folder; files of few and of many
 * points; and files that it must refuse. Linux only: what memory was held is read from /proc.
 */
import { gpxText, straightTrack, textBytes } from '../../fixtures/gpxFile.js';
import { badFiles } from './badFiles.js';
import type { Figure } from './figure.js';
import { type Measured, measureDrop, measureTake, newLedger } from './measure.js';
import { ridesZip } from './ridesZip.js';

const MOST_MEMORY = 1.2;
const FEW_FILES = 500;
const MANY_FILES = 5000;
const FEW_POINTS = 50_000;
const MANY_POINTS = 500_000;
const MOST_FOR_POINTS_MB = 200;

/** Returns the figures. Errors: where a file is not accounted for. */
export async function fileFigures(folder: string): Promise<Figure[]> {
  const figures: Figure[] = [];
  for (const [way, measure] of [
    ['take', measureTake],
    ['drop folder', measureDrop],
  ] as const) {
    const measured: Measured[] = [];
    for (const files of [FEW_FILES, MANY_FILES]) {
      const one = await measure(await newLedger(folder), ridesZip(files), 'rides.zip');
      if (one.counted !== files) throw new Error(`${way}: ${one.counted} of ${files} counted`);
      measured.push(one);
    }
    figures.push(...grown(`${way}, ${MANY_FILES} files`, `${FEW_FILES} files`, measured, MOST_MEMORY));
  }
  const measured: Measured[] = [];
  for (const points of [FEW_POINTS, MANY_POINTS]) measured.push(await takePoints(folder, points));
  figures.push(...grown(`take, ${MANY_POINTS} points`, `${FEW_POINTS} points`, measured), {
    what: `take, ${MANY_POINTS} points: memory`,
    ...{ ours: measured[1]!.peakMb, against: 'aim', other: MOST_FOR_POINTS_MB, unit: 'MB', aim: 1 },
  });
  return [...figures, ...(await refusals(folder))];
}

function grown(what: string, against: string, [few, many]: readonly Measured[], most?: number): Figure[] {
  const memory = { what: `${what}: memory`, ours: many!.peakMb, against, other: few!.peakMb };
  return [
    { ...memory, unit: 'MB', ...(most === undefined ? {} : { most }) },
    { what: `${what}: time`, ours: many!.seconds, against, other: few!.seconds, unit: 's' },
  ];
}

async function takePoints(folder: string, points: number): Promise<Measured> {
  const track = straightTrack(Date.UTC(2025, 4, 1), points);
  const bytes = textBytes(gpxText([{ type: 'cycling', segments: [track] }]));
  const one = await measureTake(await newLedger(folder), bytes, 'long.gpx');
  if (one.counted !== 1) throw new Error(`${points} points: ${one.codes.join()}`);
  return one;
}

/** Against a start that takes nothing. */
async function refusals(folder: string): Promise<Figure[]> {
  const ledger = await newLedger(folder);
  const nothing = await measureTake(ledger, textBytes('no ride'), 'note.txt');
  const figures: Figure[] = [];
  for await (const bad of badFiles(folder)) {
    const { codes, peakMb } = await measureTake(ledger, bad.path, bad.name);
    if (!codes.includes(bad.code)) throw new Error(`${bad.name}: ${codes.join()}, not ${bad.code}`);
    figures.push({
      what: `${bad.name} (${bad.code}): memory`,
      ours: peakMb,
      against: 'a note.txt',
      other: nothing.peakMb,
      unit: 'MB',
    });
  }
  return figures;
}
