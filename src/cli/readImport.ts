import { readFile } from 'node:fs/promises';
import { parse } from 'csv-parse/sync';
import type { ImportDocument } from '../flow/importDocument.js';
import { type Problem, problem } from '../problems.js';
import { DOCUMENT_KINDS, type DocumentKind, readDocument, type Wrong } from './importSchema.js';

export type ReadImport = { readonly document: ImportDocument } | { readonly problems: readonly Problem[] };

/** `units[3].history.asOf`, as the JSON file has it. */
const pathOf = (path: readonly PropertyKey[]): string =>
  path.reduce<string>(
    (text, key) =>
      typeof key === 'number' ? `${text}[${key}]` : text === '' ? String(key) : `${text}.${String(key)}`,
    '',
  );

/** Returns the document in a JSON file, or every problem with its place in the file. */
export async function readJsonImport(file: string): Promise<ReadImport> {
  let content: unknown;
  try {
    content = JSON.parse(await readFile(file, 'utf8'));
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error;
    return { problems: [problem('not-json', `This is no JSON file: ${error.message}.`, file)] };
  }
  const read = readDocument(content);
  if ('document' in read) return read;
  return {
    problems: read.wrong.map(({ path, message }) => problem('wrong-value', message, pathOf(path) || file)),
  };
}

const NUMBERS = new Set([
  'factor',
  'terrainHours',
  'movingHours',
  'months',
  'movingHoursCeiling',
  'minutes',
  'practiceHours',
  'raceHours',
  'count',
  'deliveryDays',
  'digestHour',
  'noticeDays',
]);
const LISTS = new Set(['restarts', 'bikes', 'openDays']);
const FLAGS = new Set(['addressConfirmed', 'elsewhere']);

/** A cell by the name of its column: an empty one is left out; lists are parted by semicolons. */
function cellOf(column: string, text: string): unknown {
  const key = column.slice(column.lastIndexOf('.') + 1);
  if (NUMBERS.has(key) && /^-?\d+(\.\d+)?$/.test(text)) return Number(text);
  if (LISTS.has(key)) return text.split(';').map((part) => part.trim());
  if (FLAGS.has(key) && /^(true|false|yes|no)$/i.test(text)) return /^(true|yes)$/i.test(text);
  return text;
}

function rowOf(columns: readonly string[], cells: readonly string[]): object {
  const row: Record<string, unknown> = {};
  for (const [i, column] of columns.entries()) {
    const text = (cells[i] ?? '').trim();
    if (text === '') continue;
    const keys = column.split('.');
    let at = row;
    for (const key of keys.slice(0, -1)) {
      if (typeof at[key] !== 'object') at[key] = {};
      at = at[key] as Record<string, unknown>;
    }
    at[keys.at(-1)!] = cellOf(column, text);
  }
  return row;
}

/** Returns the document in a CSV file of one kind, or every problem with its row and column. */
export async function readCsvImport(kind: string, file: string): Promise<ReadImport> {
  if (!DOCUMENT_KINDS.includes(kind as DocumentKind)) {
    return {
      problems: [
        problem('unknown-kind', `There is no kind "${kind}". There are: ${DOCUMENT_KINDS.join(', ')}.`, file),
      ],
    };
  }
  let lines: string[][];
  try {
    lines = parse(await readFile(file), { bom: true, skip_empty_lines: true, relax_column_count: true });
  } catch (error) {
    if (!(error instanceof Error) || !('code' in error) || !String(error.code).startsWith('CSV_'))
      throw error;
    return { problems: [problem('not-csv', `This is no CSV file: ${error.message}.`, file)] };
  }
  const [columns = [], ...rows] = lines;
  const place = ({ path }: Wrong): string => {
    const [, row, ...column] = path;
    return typeof row === 'number'
      ? `row ${row + 2}, column ${column.map(String).join('.') || '(whole row)'}`
      : file;
  };
  const read = readDocument({ [kind]: rows.map((cells) => rowOf(columns, cells)) });
  if ('wrong' in read) {
    return { problems: read.wrong.map((wrong) => problem('wrong-value', wrong.message, place(wrong))) };
  }
  const inRows = read.document[kind as DocumentKind].map((row, i) => ({ ...row, at: `row ${i + 2}` }));
  return { document: { ...read.document, [kind]: inRows } };
}
