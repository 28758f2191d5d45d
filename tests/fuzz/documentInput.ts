import type { Chance } from '../../samples/seeded.js';
import { bent, oneIn, pick, times, upTo } from './dice.js';

/** Invented: a row of every kind that an import file may hold. */
export const SOUND_DOCUMENT = {
  workshop: {
    id: 'w1',
    name: 'Tumbledown Bench',
    timeZone: 'Europe/Lisbon',
    openDays: ['tue', 'wed', 'thu'],
  },
  weights: { smooth: 0.5, typical: 1, rough: 2 },
  fleets: [{ id: 't1', name: 'Team Lantern' }],
  riders: [
    { id: 'r1', name: 'Pia Lanternby', email: 'r1@example.org', language: 'en', addressConfirmed: true },
    { id: 'r2', name: 'Otto', email: null, language: 'pt' },
  ],
  bikes: [
    { id: 'b1', rider: 'r1', name: 'Green trail bike', type: 'trail' },
    { id: 'b2', rider: null, fleet: 't1', name: 'Race bike 2', type: 'gravity' },
  ],
  serviceKinds: [{ unitKind: 'fork', name: 'wash', terrainHours: 10, months: null, benchMinutes: 15 }],
  units: [
    { tag: 'F-0001', unitKind: 'fork', model: 'Sample fork', history: 'new', factor: 1.2 },
    {
      tag: 'A-0001',
      unitKind: 'air-shock',
      model: 'Sample shock',
      history: { terrainHours: 12.5, movingHours: 14, asOf: '2025-01-01' },
    },
  ],
  fittings: [
    { unit: 'F-0001', bike: 'b1', from: '2020-01-01', to: null },
    { unit: 'A-0001', bike: 'b2', from: '2025-01-02T08:00:00Z', to: '2025-06-01' },
  ],
  memberships: [{ unit: 'F-0001', fleet: 't1', from: '2025-01-01' }],
  gone: [{ unit: 'A-0001', how: 'sold', on: '2025-06-02' }],
  services: [
    {
      unit: 'F-0001',
      serviceKind: 'lower-leg',
      on: '2025-03-01',
      restarts: ['lower-leg'],
      by: 'here',
      findings: { foamRings: 'honey' },
    },
  ],
  intervals: [
    {
      unitKind: 'fork',
      serviceKind: 'lower-leg',
      scope: { fleet: null, model: null, unit: 'F-0001' },
      terrainHours: 40,
      months: 6,
      movingHoursCeiling: 60,
    },
  ],
  hours: [{ bike: 'b1', on: '2025-04-02', minutes: 30, ground: 'rough', note: 'uplift day' }],
  unrecorded: [{ bike: 'b1', from: '2025-04-01', to: '2025-05-01', share: 0.1, note: 'forgot it' }],
  declared: [{ bike: 'b1', hoursAWeek: 4, ground: 'typical', months: [4, 5], from: '2025-04-01' }],
  races: [
    { id: 'x1', name: 'Lantern race', on: '2025-06-14', bikes: ['b2'], practiceHours: 4, raceHours: 3.5 },
  ],
  parts: [{ unitKind: 'fork', serviceKind: 'lower-leg', part: 'foam rings', count: 2 }],
  sheets: [
    {
      unitKind: 'fork',
      scope: { model: 'Sample fork', modelYear: 2024 },
      edition: 'as typed',
      values: { airOil: 'as typed', damperMl: 'as typed' },
      typedBy: 'Tove',
      checkedBy: 'Otto',
    },
  ],
  shelf: [{ part: 'foam rings', count: 12, deliveryDays: 5, countedOn: '2025-05-01' }],
};

const ODD_VALUES: readonly unknown[] = [
  null,
  true,
  false,
  '',
  0,
  -1,
  1e308,
  -1e-308,
  0.1,
  2 ** 53,
  '2025-02-30',
  '0000-01-01',
  '9999-12-31',
  '2025-03-30T01:30:00',
  'T',
  '<script>',
  "'; drop table fact;--",
  '=1+1',
  '\u0000',
  '\ud800',
  '\u202e',
  'x'.repeat(3000),
  '..',
  '.',
  'constructor',
  '__proto__',
  [],
  [[]],
  {},
  { a: { b: {} } },
  'F-0001',
  'b1',
  'r1',
  'fork',
  'full',
  'Etc/GMT+25',
  'r1@example.org\r\nBcc: x@example.org',
];
/** A value of its own, which a later change does not change elsewhere. */
const oddValue = (chance: Chance): unknown => structuredClone(pick(chance, ODD_VALUES));

const ODD_KEYS = ['__proto__', 'constructor', 'toString', 'id', 'tag', 'ledger', 'x', ''];

/** Returns the text of an import file that is nearly one: wrong in a few of its values, or in its letters. */
export function documentInput(chance: Chance): string {
  const document = structuredClone(SOUND_DOCUMENT) as unknown as Json;
  for (let left = oneIn(chance, 2) ? 1 : 2 + upTo(chance, 3); left > 0; left -= 1) spoil(chance, document);
  const text = JSON.stringify(document);
  return oneIn(chance, 6) ? Buffer.from(bent(chance, Buffer.from(text))).toString('utf8') : text;
}

type Json = Record<string, unknown> | unknown[];

function spoil(chance: Chance, root: Json): void {
  let at = root;
  for (;;) {
    const keys = Object.keys(at);
    const key = keys.length === 0 ? 'x' : pick(chance, keys);
    const value = (at as Record<string, unknown>)[key];
    if (typeof value === 'object' && value !== null && !oneIn(chance, 8)) {
      at = value as Json;
      continue;
    }
    change(chance, at, key);
    return;
  }
}

function change(chance: Chance, at: Json, key: string): void {
  const record = at as Record<string, unknown>;
  switch (upTo(chance, 5)) {
    case 0:
      if (Array.isArray(at)) at.splice(Number(key), 1);
      else delete record[key];
      break;
    case 1:
      if (Array.isArray(at)) at.push(structuredClone(at[Number(key)]));
      else
        Object.defineProperty(at, pick(chance, ODD_KEYS), {
          value: oddValue(chance),
          enumerable: true,
          configurable: true,
          writable: true,
        });
      break;
    case 2:
      if (typeof record[key] === 'string') record[key] = `${record[key]}${JSON.stringify(oddValue(chance))}`;
      else record[key] = oddValue(chance);
      break;
    default:
      record[key] = oddValue(chance);
  }
}

const COLUMNS = [
  'unit',
  'tag',
  'serviceKind',
  'on',
  'minutes',
  'ground',
  'bike',
  'note',
  'history.terrainHours',
  'history.movingHours',
  'history.asOf',
  '__proto__.x',
  'constructor',
  'unitKind',
  'scope.fleet',
  'from',
  'to',
  'id',
  'name',
  'restarts',
];
const CELLS = [
  '',
  'F-0001',
  'b1',
  '2025-04-02',
  '30',
  '-1',
  '1e9',
  'rough',
  '"',
  '""',
  'a;b',
  '=1+1',
  '\u0000',
  'new',
  'fork',
  'x'.repeat(500),
  'lower-leg',
  'full;damper',
  '\r',
  '\ufeff',
];

/** Returns the text of a CSV file that is nearly one, and the kind of row that it shall hold. */
export function csvInput(
  chance: Chance,
  kinds: readonly (keyof typeof SOUND_DOCUMENT)[],
): { readonly kind: string; readonly text: string } {
  const kind = pick(chance, kinds);
  const lines = oneIn(chance, 3) ? anyLines(chance) : soundLines(kind);
  const part = pick(chance, [',', ',', ';', '\t']);
  for (let left = upTo(chance, 4); left > 0; left -= 1) {
    const line = pick(chance, lines);
    if (line.length > 0) line[upTo(chance, line.length)] = pick(chance, oneIn(chance, 4) ? COLUMNS : CELLS);
  }
  const text = lines.map((cells) => cells.join(part)).join(pick(chance, ['\n', '\r\n', '\r']));
  return {
    kind,
    text: oneIn(chance, 6) ? Buffer.from(bent(chance, Buffer.from(text))).toString('utf8') : text,
  };
}

const anyLines = (chance: Chance): string[][] =>
  times(1 + upTo(chance, 8), (i) =>
    times(1 + upTo(chance, 6), () => pick(chance, i === 0 ? COLUMNS : CELLS)),
  );

function soundLines(kind: keyof typeof SOUND_DOCUMENT): string[][] {
  const rows = [SOUND_DOCUMENT[kind]].flat().map((row) => flat(row));
  const columns = [...new Set(rows.flatMap((row) => Object.keys(row)))];
  return [columns, ...rows.map((row) => columns.map((column) => row[column] ?? ''))];
}

/** `{ history: { asOf } }` as the column `history.asOf`; lists are parted by semicolons. */
function flat(row: object, before = ''): Record<string, string> {
  const cells: Record<string, string> = {};
  for (const [key, value] of Object.entries(row)) {
    if (Array.isArray(value)) cells[before + key] = value.join(';');
    else if (typeof value === 'object' && value !== null)
      Object.assign(cells, flat(value, `${before}${key}.`));
    else cells[before + key] = value === null ? '' : String(value);
  }
  return cells;
}
