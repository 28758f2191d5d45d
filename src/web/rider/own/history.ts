import type { ListRow } from '../../../flow/counter/lists.js';
import { riderTextsFor, wordsFor } from '../../../languages/index.js';

const COLUMNS = ['on', 'what', 'bike', 'unit', 'serviceKind', 'movingHours', 'terrainHours'] as const;

/** Returns a rider's history with headings and kinds in the rider's words; notes of the workshop stay with it. */
export function historyInWords(rows: readonly ListRow[], language: string): ListRow[] {
  const { columns, what } = riderTextsFor(language).own.history;
  const words = wordsFor(language);
  const said = (column: (typeof COLUMNS)[number], row: ListRow): ListRow[string] => {
    const value = row[column];
    if (column === 'what') return what[value as keyof typeof what] ?? value;
    return column === 'serviceKind' && typeof value === 'string' ? words.serviceKind(value) : value;
  };
  return rows.map((row) => Object.fromEntries(COLUMNS.map((column) => [columns[column], said(column, row)])));
}
