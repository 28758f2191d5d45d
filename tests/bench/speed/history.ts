import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { type Figure, nameOf, ratioOf } from './figure.js';

/** So many runs are kept. */
const MOST_RUNS = 8;

/** One run, of everything or of a part. Shape: ratios by the names of their figures. */
export interface Run {
  readonly on: string;
  readonly commit: string;
  readonly node: string;
  readonly cores: number;
  readonly ratios: Readonly<Record<string, number>>;
}

/** Returns the runs that are kept, the latest last. */
export const readHistory = (path: string): readonly Run[] =>
  existsSync(path) ? (JSON.parse(readFileSync(path, 'utf8')) as Run[]) : [];

/** Returns the ratio that each figure had last. */
export const lastRatios = (runs: readonly Run[]): Readonly<Record<string, number>> =>
  Object.assign({}, ...runs.map(({ ratios }) => ratios));

/** Adds a run and lets the oldest go. */
export function addToHistory(path: string, run: Omit<Run, 'ratios'>, figures: readonly Figure[]): void {
  const ratios = Object.fromEntries(
    figures.map((figure) => [nameOf(figure), Number(ratioOf(figure).toFixed(3))]),
  );
  const runs = [...readHistory(path), { ...run, ratios }].slice(-MOST_RUNS);
  writeFileSync(path, `${JSON.stringify(runs, null, 2)}\n`);
}
