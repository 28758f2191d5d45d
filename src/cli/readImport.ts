import { readFile, stat } from 'node:fs/promises';
import { basename, extname } from 'node:path';
import { CsvError, parse } from 'csv-parse/sync';
import { type ImportDocument, nameOfRow } from '../flow/facts/ledgerDocument.js';
import { type Problem, problem } from '../problems.js';
import {
  columnNames,
  columnsOf,
  DOCUMENT_KINDS,
  type DocumentKind,
  readDocument,
  type WrongPart,
} from './importSchema.js';

export type ReadImport = { readonly document: ImportDocument } | { readonly problems: readonly Problem[] };

/** `units[3].history.asOf`, as the JSON file has it. */
const pathOf = (path: readonly PropertyKey[]): string =>
  path.reduce<string>(
    (text, key) =>
      typeof key === 'number' ? `${text}[${key}]` : text === '' ? String(key) : `${text}.${String(key)}`,
    '',
  );

/** A text in memory can hold little more. */
const MOST_BYTES = 500_000_000;

/** Returns the text of a file, or null where its bytes are of another encoding, which would break names without a word. */
async function readText(file: string): Promise<string | null> {
  const bytes = await readFile(file);
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch (error) {
    if (error instanceof TypeError) return null;
    throw error;
  }
}

/** Returns the document in a JSON file, or every problem with its place in the file. */
export async function readJsonImport(file: string): Promise<ReadImport> {
  if ((await stat(file)).size > MOST_BYTES)
    return refused(
      'too-large',
      'This file is too large to import. Move so large a ledger by backup and restore.',
      file,
    );
  let content: unknown;
  const text = await readText(file);
  if (text === null) return refused('not-utf8', 'This file is not UTF-8; save it as UTF-8.', file);
  try {
    content = JSON.parse(text);
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error;
    return refused('not-json', notJson(file, `${error.message}${lineIn(text, error)}`), file);
  }
  const read = readDocument(content);
  if ('document' in read) return read;
  return {
    problems: read.wrong.map(({ path, message }) =>
      problem('wrong-value', message, pathOf(path) || file, rowAt(content, path)),
    ),
  };
}

/** A CSV file needs its kind before it, which is easily forgotten. */
function notJson(file: string, fault: string): string {
  if (extname(file).toLowerCase() !== '.csv') return `This is no JSON file: ${fault}.`;
  const name = basename(file, extname(file)).toLowerCase();
  const kind = DOCUMENT_KINDS.find((one) => one.toLowerCase() === name) ?? 'KIND';
  return `For a CSV file say what is in it first: stanchion import ${kind} ${basename(file)}`;
}

/** The parser tells a position, which nobody can count to. */
function lineIn(text: string, { message }: SyntaxError): string {
  const [, position] = /at position (\d+)(?! \(line)/.exec(message) ?? [];
  if (position === undefined) return '';
  const before = text.slice(0, Number(position)).split('\n');
  return ` (line ${before.length}, column ${before.at(-1)!.length + 1})`;
}

/** What people know the row by in which a value is wrong. */
function rowAt(content: unknown, [kind, index]: readonly PropertyKey[]): string | undefined {
  if (typeof kind !== 'string' || typeof index !== 'number') return undefined;
  const row: unknown = (content as Readonly<Record<string, readonly unknown[]>>)[kind]?.[index];
  return nameOfRow(row) || undefined;
}

const NUMBERS = new Set([
  'factor',
  'terrainHours',
  'movingHours',
  'months',
  'movingHoursCeiling',
  'benchMinutes',
  'travelMm',
  'modelYear',
  'minutes',
  'practiceHours',
  'raceHours',
  'count',
  'deliveryDays',
]);
const LISTS = new Set(['restarts', 'restartedBy', 'bikes']);
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

/** Returns the document in a CSV file of one kind, or every problem with its row and column, as a spreadsheet counts. */
export async function readCsvImport(kind: string, file: string): Promise<ReadImport> {
  if (!DOCUMENT_KINDS.includes(kind as DocumentKind))
    return refused(
      'unknown-kind',
      `There is no kind "${kind}". There are: ${DOCUMENT_KINDS.join(', ')}.`,
      file,
    );
  let lines: string[][];
  try {
    const text = await readText(file);
    if (text === null)
      return refused('not-utf8', 'This file is not UTF-8; save it as CSV UTF-8 from the spreadsheet.', file);
    const delimiter = delimiterOf(text);
    lines = parse(text, { bom: true, relax_column_count: true, delimiter });
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    return refused('not-csv', `This is no CSV file: ${error.message}.`, file);
  }
  const [head = [], ...body] = lines;
  const columns = namedColumns(head.map((column) => column.trim()));
  const rows = body
    .map((cells, i) => ({ cells, row: i + 2 }))
    .filter(({ cells }) => cells.some((cell) => cell.trim() !== ''));
  const shape = [...wrongColumns(kind as DocumentKind, columns), ...wrongLengths(columns, rows)];
  if (shape.length > 0) return { problems: shape };
  const read = readDocument({ [kind]: rows.map(({ cells }) => rowOf(columns, cells)) });
  if ('wrong' in read) return { problems: read.wrong.map((wrong) => cellProblem(wrong, rows)) };
  const placed = read.document[kind as DocumentKind].map((row, i) => ({ ...row, at: `row ${rows[i]!.row}` }));
  return { document: { ...read.document, [kind]: placed } };
}

/** Spreadsheets leave columns without a name or a cell at the end; one with cells is told of as too long a row. */
const namedColumns = (columns: readonly string[]): readonly string[] =>
  columns.slice(0, columns.findLastIndex((column) => column !== '') + 1);

/** Spreadsheets of countries with a decimal comma part cells by semicolons. */
const delimiterOf = (text: string): string => {
  const head = text.slice(0, text.search(/[\r\n]|$/));
  return head.includes(';') && !head.includes(',') ? ';' : ',';
};

interface Line {
  readonly cells: readonly string[];
  /** As a spreadsheet counts. */
  readonly row: number;
}

const refused = (code: string, message: string, source: string): ReadImport => ({
  problems: [problem(code, message, source)],
});

function wrongColumns(kind: DocumentKind, columns: readonly string[]): Problem[] {
  // Files from before have a column that is read in today's words.
  const known = [...columnsOf(kind), ...(kind === 'services' ? ['elsewhere'] : [])];
  return columns.flatMap((column, i) => {
    const source = `row 1, column ${column || i + 1}`;
    if (!known.includes(column.split('.')[0]!))
      return [
        problem(
          'unknown-column',
          `There is no such column. There are: ${columnNames(kind).join(', ')}.`,
          source,
        ),
      ];
    if (columns.indexOf(column) < i)
      return [problem('unknown-column', 'This column is there twice.', source)];
    return [];
  });
}

const wrongLengths = (columns: readonly string[], rows: readonly Line[]): Problem[] =>
  rows
    .filter(({ cells }) => cells.slice(columns.length).some((cell) => cell.trim() !== ''))
    .map(({ row }) =>
      problem('wrong-row', 'It has more cells than there are columns: is a comma unquoted?', `row ${row}`),
    );

function cellProblem({ path, message }: WrongPart, rows: readonly Line[]): Problem {
  const [, index, ...column] = path;
  const row = typeof index === 'number' ? rows[index]!.row : 1;
  const names = column.filter((key) => typeof key !== 'number').map(String);
  return problem(
    'wrong-value',
    message,
    names.length > 0 ? `row ${row}, column ${names.join('.')}` : `row ${row}`,
  );
}
