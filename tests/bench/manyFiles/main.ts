/**
 * `npm run many-files [-- FEW MANY]`: gives the built program one zip of few and one of many ride files, by `take` and by
 * the drop folder; prints seconds and peak memory, then what refusing bad files takes. Ends with 1 where a file is not
 * accounted for, or the many take more than 1.2 times the memory of the few.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { textTable } from '../evidence/textTable.js';
import { badFiles } from './badFiles.js';
import { type Measured, measureDrop, measureTake, newLedger } from './measure.js';
import { ridesZip } from './ridesZip.js';

const MOST_MEMORY_RATIO = 1.2;

const [few = 500, many = 5000] = process.argv.slice(2).map(Number);
const folder = mkdtempSync(join(tmpdir(), 'stanchion-many-'));
let isFault = false;

const row = (what: string, files: number | string, { seconds, peakMb }: Measured, told: string): string[] => [
  what,
  String(files),
  seconds.toFixed(1),
  peakMb.toFixed(0),
  told,
];
const HEAD = ['what', 'files', 'seconds', 'peak MB', 'told'];
const print = (text: string): boolean => process.stdout.write(`${text}\n`);

try {
  const rows: string[][] = [];
  for (const [way, measure] of [
    ['take', measureTake],
    ['drop folder', measureDrop],
  ] as const) {
    const peaks: number[] = [];
    for (const files of [few, many]) {
      const ledger = await newLedger(folder);
      const measured = await measure(ledger, ridesZip(files), 'rides.zip');
      isFault ||= measured.counted !== files;
      peaks.push(measured.peakMb);
      rows.push(row(way, files, measured, `${measured.counted} counted`));
    }
    const ratio = peaks[1]! / peaks[0]!;
    isFault ||= ratio > MOST_MEMORY_RATIO;
    rows.push([`${way}: memory`, '', '', `× ${ratio.toFixed(2)}`, `at most ${MOST_MEMORY_RATIO}`]);
  }
  print(textTable([HEAD, ...rows]));
  const refused: string[][] = [];
  for await (const bad of badFiles(folder)) {
    const measured = await measureTake(await newLedger(folder), bad.path, bad.name);
    isFault ||= !measured.codes.includes(bad.code);
    refused.push(row(bad.name, 1, measured, measured.codes.join(', ')));
  }
  print(`\n${textTable([HEAD, ...refused])}`);
} finally {
  rmSync(folder, { recursive: true, force: true });
}
process.exitCode = isFault ? 1 : 0;
