/** Figures on every page of the table of routes and behind riders’ links, in both languages: at the right, and a column with one number of decimals. */
import { expect, it } from 'vitest';
import { addressOf, guarded, idsIn } from './everyRoute.js';
import { listOwnPages } from './ownPages.js';
import { teamWorld } from './teamWorld.js';

interface Column {
  readonly label: string;
  readonly isFigure: boolean;
  /** What stands first in each cell: the lines below it are notes. */
  readonly cells: string[];
}

const bare = (markup: string): string =>
  markup
    .replace(/<small>.*?<\/small>/gs, '')
    .replace(/<[^>]+>/g, '')
    .replaceAll('\u00a0', ' ')
    .trim();

const cellsIn = (row: string): { isFigure: boolean; text: string }[] =>
  [...row.matchAll(/<t[hd]\b([^>]*)>(.*?)<\/t[hd]>/gs)].map(([, attributes, body]) => ({
    isFigure: attributes!.includes('class="figure"'),
    text: bare(body!),
  }));

/** Returns the columns of the tables of a page; the foot of a table is a row like others. */
function columnsOn(page: string): Column[] {
  return [...page.matchAll(/<table\b.*?<\/table>/gs)].flatMap(([table]) => {
    const [head, ...rows] = [...table.matchAll(/<tr\b.*?<\/tr>/gs)].map(([row]) => cellsIn(row));
    return (head ?? []).map(({ text }, at) => ({
      label: text,
      isFigure: rows.every((row) => row[at]!.isFigure),
      cells: rows.map((row) => row[at]!.text).filter((cell) => cell !== ''),
    }));
  });
}

/** A number, with a unit or with what it is a part of. */
const FIGURE = /^[−+-]?\d[\d.,\s]*( ?(h|min|%|km|m|ml))?( (of|de) [\d.,\s]+( ?h)?)?$/;

const decimalsOf = (cell: string, mark: '.' | ','): number => {
  const [number = ''] = /\d[\d.,]*/.exec(cell) ?? [];
  return number.includes(mark) ? number.length - number.lastIndexOf(mark) - 1 : 0;
};

it.each([
  ['en', '.'],
  ['pt', ','],
] as const)(
  'figures stand at the right, and a column has one number of decimals, in %s',
  { timeout: 120_000 },
  async (language, mark) => {
    const world = await teamWorld(language);
    const ids = await idsIn(world);
    const owner = await world.as('owner');
    const seen = new Set<string>();
    const wrong: string[] = [];
    const look = (path: string, markup: string): void => {
      for (const { label, isFigure, cells } of columnsOn(markup)) {
        const where = `${path}: ${label}: ${cells.slice(0, 6).join(' | ')}`;
        const figures = cells.filter((cell) => FIGURE.test(cell));
        if (!isFigure && cells.length > 0 && figures.length === cells.length) wrong.push(`left ${where}`);
        if (!isFigure) continue;
        if (new Set(figures.map((cell) => decimalsOf(cell, mark))).size > 1) wrong.push(`mixed ${where}`);
        seen.add(`${path}: ${label}`);
      }
    };
    for (const entry of guarded.filter(({ method }) => method === 'GET')) {
      for (const some of [ids.shop, ids.oak]) {
        const answer = await owner.get(addressOf(entry, some));
        if (!(answer.headers.get('content-type') ?? '').includes('html')) continue;
        look(entry.key, await answer.text());
      }
    }
    const ofWorkshop = seen.size;
    for (const { path, markup } of await listOwnPages(language)) look(path, markup);
    expect(wrong).toEqual([]);
    expect(ofWorkshop).toBeGreaterThan(20);
    // Rides, a unit's services, and what is held of the rider.
    expect(seen.size - ofWorkshop).toBeGreaterThanOrEqual(4);
  },
);
