/**
 * `npm run bench [-- UNITS FILE]`: prints what the program takes, each figure as a ratio in this run, and writes the figures
 * as JSON to FILE. Ledgers of a hundredth, a tenth and all of so many units (10 000) with a hundred rides each are made.
 */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { textTable } from '../evidence/textTable.js';
import { growthFigures } from './growth.js';
import { readingFigures, samples } from './reading.js';

const [units = '10000', file] = process.argv.slice(2);
const folder = mkdtempSync(join(tmpdir(), 'stanchion-bench-'));
const rows = [['what', 'size', 'ms', 'against', 'ms', 'ratio']];
const row = (what: string, size: string, ms: number, against: string, otherMs: number): void => {
  rows.push([what, size, ms.toFixed(1), against, otherMs.toFixed(1), (ms / otherMs).toFixed(2)]);
};
try {
  const reading = await readingFigures(folder, samples());
  for (const { file: name, mb, oursMs, othersMs } of reading)
    for (const [other, ms] of Object.entries(othersMs))
      row(`${name} to stored hours`, `${mb.toFixed(1)} MB`, oursMs, `${other} alone`, ms);
  const growth = [];
  for (const part of [100, 10, 1]) growth.push(await growthFigures(folder, Number(units) / part));
  const [first] = growth;
  for (const { rides, newMs, lateMs } of growth.slice(1)) {
    row('a new ride', `${rides} rides`, newMs, `in ${first!.rides}`, first!.newMs);
    row('a late ride', `${rides} rides`, lateMs, `in ${first!.rides}`, first!.lateMs);
  }
  process.stdout.write(`${textTable(rows)}\n`);
  const machine = { node: process.version, cores: cpus().length };
  if (file !== undefined)
    writeFileSync(file, `${JSON.stringify({ ...machine, reading, growth }, null, 1)}\n`);
} finally {
  rmSync(folder, { recursive: true, force: true });
}
