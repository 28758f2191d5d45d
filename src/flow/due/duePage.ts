import { STATES, type State } from '../../core/tokens.js';
import type { Tx } from '../../ports/store.js';
import { type Instant, instant } from '../../units.js';
import { byUnit, type DuePart, type DueUnit, getDuePart, listDue } from './listDue.js';
import { isSought, type NamedRow, withNames, withUnitNames } from './namedRows.js';

export const DUE_ROWS_A_PAGE = 60;

/** Which part of the list is asked for. */
export interface DueAsked {
  /** One state; left out, all. */
  readonly state?: State | undefined;
  /** What stands in one of a row's names; empty for all. */
  readonly find: string;
  /** From 1. */
  readonly page: number;
}

/** What a page of the list of what is due shows. */
export interface DuePage extends Pick<DuePart, 'counts' | 'asOf'> {
  /** Those of this page. */
  readonly units: readonly DueUnit<NamedRow>[];
  /** How many fit, on every page. */
  readonly found: number;
}

export async function getDuePage(tx: Tx, { state, find, page }: DueAsked, now: Instant): Promise<DuePage> {
  const from = (page - 1) * DUE_ROWS_A_PAGE;
  const states: readonly State[] = state === undefined ? STATES : [state];
  if (find === '') {
    const part = await getDuePart(tx, now, { states, from, most: DUE_ROWS_A_PAGE });
    const found = states.reduce((sum: number, one) => sum + (part.counts.get(one) ?? 0), 0);
    return { ...part, units: await withUnitNames(tx, part.units), found };
  }
  // Any name may hold what is sought, so every row is looked at.
  const rows = (await withNames(tx, await listDue(tx, now))).filter((row) => isSought(row, find));
  const all = byUnit(rows);
  const units = all.filter(({ first }) => states.includes(first.state));
  const counts = new Map(STATES.map((one) => [one, all.filter(({ first }) => first.state === one).length]));
  const oldest = rows.length === 0 ? null : instant(Math.min(...rows.map((row) => row.asOf)));
  return { units: units.slice(from, from + DUE_ROWS_A_PAGE), counts, asOf: oldest, found: units.length };
}
