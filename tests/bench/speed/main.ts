/**
 * `npm run bench [-- PART...]`: prints what the program takes, each figure as a ratio in this run, and where one is over its
 * limit ends with 1. The parts are reading, storing, forecasts, ledger (with its pages), files, season and commands; a run is added to
 * `tests/bench/speed/history.json`, its figures go to `dist/bench.json`. STANCHION_BENCH_UNITS makes the ledgers
 * smaller than 10 000 units, STANCHION_BENCH_RIDES gives them fewer than a hundred rides each.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { aimsOf, aimsTable } from './aims.js';
import { checkFigures } from './checking.js';
import { commandFigures } from './commands.js';
import { type Figure, figureTable, isFault } from './figure.js';
import { forecastFigures } from './forecasts.js';
import { addToHistory, lastRatios, readHistory } from './history.js';
import { growthFigures, type LedgerCost, ledgerCost, RIDES_A_BIKE } from './ledger.js';
import { fileFigures } from './manyFiles.js';
import { type FilledLedger, pageFigures, pageGrowth } from './pages.js';
import { bulkFigures, decodingFigures, profileLines, readingFigures, samples } from './reading.js';
import { seasonFigures } from './season.js';
import { storingFigures } from './storing.js';

const HISTORY = 'tests/bench/speed/history.json';
const UNITS = Number(process.env.STANCHION_BENCH_UNITS ?? 10_000);
const RIDES = Number(process.env.STANCHION_BENCH_RIDES ?? RIDES_A_BIKE);
/** Of the largest ledger, the smallest first. */
const SIZES = [0.01, 0.1, 1];

const folder = mkdtempSync(join(tmpdir(), 'stanchion-bench-'));
const print = (text: string): void => void process.stdout.write(`${text}\n`);

async function reading(): Promise<Figure[]> {
  const all = samples();
  const figures = [...(await decodingFigures(all)), ...(await readingFigures(folder, all))];
  figures.push(...(await bulkFigures(folder)));
  for (const line of await profileLines(all)) print(`  ${line}`);
  return figures;
}

async function ledger(): Promise<Figure[]> {
  const costs: LedgerCost[] = [];
  const pages: Figure[] = [];
  const kept: FilledLedger[] = [];
  for (const size of SIZES) {
    const path = join(mkdtempSync(join(folder, 'ledger-')), 'stanchion.db');
    const cost = await ledgerCost(path, Math.round(UNITS * size), { ridesABike: RIDES });
    print(
      `  ${JSON.stringify(cost, (_, value) => (typeof value === 'number' ? Math.round(value * 10) / 10 : value))}`,
    );
    costs.push(cost);
    if (size === SIZES[0] || size === 1) {
      pages.splice(0, pages.length, ...(await pageFigures(path, cost.units)));
      kept.push({ path, units: cost.units });
    } else rmSync(path, { force: true });
  }
  const [few, many] = kept;
  return [...growthFigures(costs), ...pages, ...(await pageGrowth(few!, many!))];
}

const PARTS: Readonly<Record<string, () => Promise<Figure[]>>> = {
  reading,
  storing: async () => [...(await storingFigures(folder)), ...(await checkFigures(folder))],
  forecasts: forecastFigures,
  ledger,
  files: () => fileFigures(folder),
  season: () => seasonFigures(folder),
  commands: async () => commandFigures(folder),
};

const wanted = process.argv.slice(2);
const unknown = wanted.filter((part) => !(part in PARTS));
if (unknown.length > 0)
  throw new Error(`There is no part ${unknown.join()}; there are ${Object.keys(PARTS).join(', ')}.`);
const before = lastRatios(readHistory(HISTORY));
const figures: Figure[] = [];
try {
  for (const [name, measure] of Object.entries(PARTS)) {
    if (wanted.length > 0 && !wanted.includes(name)) continue;
    print(`\n${name}`);
    const some = await measure();
    figures.push(...some);
    print(figureTable(some, before));
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
if (aimsOf(figures).length > 0) print(`\naims\n${aimsTable(aimsOf(figures))}`);
const machine = {
  on: new Date().toISOString().slice(0, 10),
  commit: execFileSync('git', ['rev-parse', '--short', 'HEAD'], { encoding: 'utf8' }).trim(),
  node: process.version,
  cores: cpus().length,
};
writeFileSync('dist/bench.json', `${JSON.stringify({ ...machine, figures }, null, 1)}\n`);
if (process.env.STANCHION_BENCH_UNITS === undefined) addToHistory(HISTORY, machine, figures);
if (figures.some(isFault)) process.exitCode = 1;
