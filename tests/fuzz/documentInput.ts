import type { Chance } from '../../samples/seeded.js';
import { bent, oneIn, pick, upTo } from './dice.js';

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
  services: [
    {
      unit: 'F-0001',
      serviceKind: 'lower-leg',
      on: '2025-03-01',
      restarts: ['lower-leg'],
      elsewhere: false,
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
  races: [
    { id: 'x1', name: 'Lantern race', on: '2025-06-14', bikes: ['b2'], practiceHours: 4, raceHours: 3.5 },
  ],
  parts: [{ unitKind: 'fork', serviceKind: 'lower-leg', part: 'foam rings', count: 2 }],
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
const ODD_KEYS = ['__proto__', 'constructor', 'toString', 'id', 'tag', 'ledger', 'x', ''];

/** Returns the text of an import file that is nearly one: wrong in a few of its values, or in its letters. */
export function documentInput(chance: Chance): string {
  const document = structuredClone(SOUND_DOCUMENT) as unknown as Json;
  for (let left = 1 + upTo(chance, 4); left > 0; left -= 1) spoil(chance, document);
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
          value: pick(chance, ODD_VALUES),
          enumerable: true,
          configurable: true,
          writable: true,
        });
      break;
    case 2:
      if (typeof record[key] === 'string') record[key] = `${record[key]}${String(pick(chance, ODD_VALUES))}`;
      else record[key] = pick(chance, ODD_VALUES);
      break;
    default:
      record[key] = pick(chance, ODD_VALUES);
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
  kinds: readonly string[],
): { readonly kind: string; readonly text: string } {
  const part = pick(chance, [',', ',', ';', '\t']);
  const columns = Array.from({ length: 1 + upTo(chance, 6) }, () => pick(chance, COLUMNS));
  const rows = Array.from({ length: upTo(chance, 8) }, () =>
    Array.from({ length: oneIn(chance, 6) ? upTo(chance, 9) : columns.length }, () =>
      pick(chance, CELLS),
    ).join(part),
  );
  const text = [columns.join(part), ...rows].join(pick(chance, ['\n', '\r\n', '\r']));
  return {
    kind: pick(chance, kinds),
    text: oneIn(chance, 4) ? Buffer.from(bent(chance, Buffer.from(text))).toString('utf8') : text,
  };
}
