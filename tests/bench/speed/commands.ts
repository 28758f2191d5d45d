/** What a command costs before it does anything: the look at one small file, against Node alone. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { gpxText, straightTrack } from '../../fixtures/gpxFile.js';
import type { Figure } from './figure.js';
import { median } from './timing.js';

const PROGRAM = resolve('dist/src/cli/main.js');
/** Prints the processor time of all its threads as its last word. Units: microseconds. */
const TELL_TIME = `data:text/javascript,process.on('exit',()=>{const {user,system}=process.cpuUsage();process.stderr.write('\\ntook '+(user+system)+'\\n')})`;
const RUNS = 9;
/** Node itself is most of it: whatever else is loaded shows. */
const MOST = 4;

/** Returns what Node takes with these arguments. Units: milliseconds of processor time. */
function processorMs(args: readonly string[]): number {
  const { stderr } = spawnSync(process.execPath, ['--import', TELL_TIME, ...args], { encoding: 'utf8' });
  const took = /^took (\d+)$/m.exec(stderr)?.[1];
  if (took === undefined) throw new Error(stderr);
  return Number(took) / 1000;
}

/** In turns, so that what else the machine does meets both. */
export function commandFigures(folder: string, runs = RUNS): Figure[] {
  const file = join(mkdtempSync(join(folder, 'look-')), 'ride.gpx');
  writeFileSync(file, gpxText([{ segments: [straightTrack(Date.UTC(2025, 5, 1), 200)] }]));
  const [ours, bare]: [number[], number[]] = [[], []];
  for (let run = 0; run < runs; run += 1) {
    ours.push(processorMs([PROGRAM, 'look', file]));
    bare.push(processorMs(['-e', '0']));
  }
  return [
    {
      what: 'look at a small file',
      ours: median(ours),
      against: 'Node alone',
      other: median(bare),
      unit: 'ms',
      most: MOST,
      aim: MOST,
    },
  ];
}
