/** Which room may import which: the table is the rule, the test finds what breaks it. */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';

const ROOT = resolve(import.meta.dirname, '../..');

/** Rooms that a room may import, beside itself. `units`, `problems` and `errors` are single files. */
const MAY_IMPORT: Readonly<Record<string, readonly string[]>> = {
  units: [],
  problems: [],
  errors: ['units'],
  core: ['units', 'problems'],
  languages: ['core', 'units'],
  ports: ['core', 'units', 'problems'],
  flow: ['core', 'ports', 'units', 'problems', 'errors'],
  files: ['core', 'ports', 'ownThread', 'units', 'problems', 'errors'],
  // It writes to riders, in their language.
  inbox: ['core', 'ports', 'languages', 'units', 'problems', 'errors', 'whyNot'],
  store: ['core', 'ports', 'version', 'units', 'problems', 'errors', 'migrations', 'whyNot'],
  mail: ['core', 'ports', 'languages', 'palette', 'units', 'problems', 'errors'],
  mailbox: ['core', 'ports', 'units', 'errors'],
  photos: ['core', 'ports', 'ownThread'],
  web: ['core', 'flow', 'ports', 'languages', 'palette', 'version', 'units', 'problems', 'errors'],
  config: ['errors'],
  clock: ['ports', 'units'],
  log: ['ports', 'units'],
  loop: ['ports', 'units', 'errors'],
  ending: ['ports'],
  bells: [],
  boundHeap: [],
  keptOnce: [],
  ownOnly: [],
  ownThread: [],
  palette: [],
  version: [],
  whyNot: [],
  secret: ['errors', 'keptOnce'],
  library: ['core', 'files', 'languages', 'ports', 'units', 'problems'],
  reader: ['files', 'inbox', 'flow', 'ports'],
  main: [
    'reader',
    'config',
    'clock',
    'log',
    'loop',
    'ending',
    'bells',
    'boundHeap',
    'ownOnly',
    'keptOnce',
    'secret',
    'version',
    'files',
    'flow',
    'inbox',
    'mail',
    'mailbox',
    'photos',
    'store',
    'web',
    'core',
    'ports',
    'units',
    'problems',
    'errors',
  ],
  cli: [
    ...['main', 'reader', 'flow', 'core', 'ports', 'languages', 'samples', 'version'],
    ...['units', 'problems', 'errors', 'whyNot'],
  ],
  // Threads load what they do without the rest of the program.
  workers: ['main', 'flow', 'files', 'photos', 'store', 'ownThread', 'errors'],
  migrations: [],
  samples: ['core', 'units'],
};

/**
 * The rooms of the core, in the order of the street: each may import those before it, and what lies at the root.
 * Rooms inside a room follow the same rule.
 */
const CORE_STREET = [
  '',
  'days',
  'chance',
  'ground/samples',
  'ground/climbs',
  'ground/moving',
  'ground/severity',
  'ground',
  'ledger',
  'scale',
  'erase',
  'rides',
  'forecast',
  'notices/notice',
  'notices/kinds',
  'notices',
  'plan',
];

/** What languages may know of the core: its tokens, and how a day is read; so that a word never waits for a rule. */
const TOKENS_OF_CORE = [
  ...['tokens', 'refusals', 'states', 'fileTold', 'ledger/serviceKinds', 'ledger/findings'],
  'ledger/sheet',
  ...['days/calendar', 'ledger/moment', 'lines'],
];

/** More than so many files in a folder hide each other. */
const MOST_FILES = 25;

/** Packages that stand in one room only, so that they can be swapped; `core` may import nothing but what names it. */
const PACKAGE_ROOMS: Readonly<Record<string, readonly string[]>> = {
  'temporal-polyfill': ['core', 'samples'],
  'fit-file-parser': ['files'],
  saxes: ['files'],
  yauzl: ['files'],
  kysely: ['store', 'migrations'],
  'better-sqlite3': ['store'],
  pg: ['store'],
  'pg-cursor': ['store'],
  sharp: ['photos'],
  nodemailer: ['mail'],
  imapflow: ['mailbox'],
  mailparser: ['mailbox'],
  'ical-generator': ['mail'],
  // Of it mails take the template alone, which escapes what it is given as pages do.
  hono: ['web', 'mail'],
  '@hono/node-server': ['web'],
  'd3-array': ['web'],
  'd3-scale': ['web'],
  'd3-shape': ['web'],
  'node-cron': ['bells'],
  pino: ['log'],
  'prom-client': ['web'],
  commander: ['cli'],
  'csv-parse': ['cli'],
  'csv-stringify': ['cli', 'web'],
  zod: ['config', 'files', 'web', 'cli', 'store'],
};

/** What lies at the root of the pages. */
const SHELL = [
  ...['app', 'routes', 'deps', 'viewer', 'serve', 'layout', 'markup', 'show', 'sorry', 'health', 'metrics'],
  ...['guard', 'gate', 'change', 'entryForm', 'taken', 'scripts', 'navigation'],
];
const SHARED_BY_PAGES = ['cells', 'door', 'looks', 'plots', 'styles'];
const PAGE_FOLDERS = [
  ...[
    'accounts',
    'bench',
    'benchYear',
    'bike',
    'book',
    'card',
    'comebacks',
    'customer',
    'day',
    'due',
    'find',
    'findings',
    'fleet',
    'hire',
    'inspect',
    'intervals',
    'kits',
    'leads',
    'lists',
    'load',
  ],
  ...[
    'mails',
    'photos',
    'races',
    'reminders',
    'ride',
    'rider',
    'riders',
    'settings',
    'sheets',
    'signIn',
    'swap',
    'today',
    'tray',
    'unit',
    'units',
  ],
  'ways',
  'weights',
];

/** Where pages write: as a viewer may, as a link lets, and what signing in itself needs. */
const MAY_WRITE = [
  'src/web/change.ts',
  'src/web/rider/answer.ts',
  'src/web/signIn/session.ts',
  'src/web/signIn/signIn.ts',
];

/** What the pure core must not touch: it is given the time, and chance comes from a seed. */
const IMPURE = /\bDate\.now\b|\bnew Date\(\)|\bMath\.random\b|\basync\b|\bawait\b|\bprocess\.|\bsetTimeout\b/;

interface Import {
  readonly file: string;
  readonly path: string;
  readonly room: string;
  readonly target: string;
  readonly isPackage: boolean;
}

const filesBelow = (folder: string): string[] =>
  readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('.ts'))
    .map((file) => `${folder}/${file}`);

const roomOf = (file: string): string => {
  const [top = '', next = ''] = file.split('/');
  return top === 'src' ? next.replace(/\.ts$/, '') : top;
};

const withoutComments = (text: string): string =>
  text.replace(/\/\*[\s\S]*?\*\//g, '').replace(/^\s*\/\/.*$/gm, '');

function importsOf(file: string): Import[] {
  const text = withoutComments(readFileSync(join(ROOT, file), 'utf8'));
  const found = text.matchAll(
    /^(?:(?:import|export)\b[^;']*?\bfrom\s+|import\s+)'([^']+)'|\bimport\('([^']+)'\)/gm,
  );
  return [...found].map(([, named, loaded]) => {
    const name = named ?? loaded ?? '';
    if (!name.startsWith('.')) return { file, path: name, room: roomOf(file), target: name, isPackage: true };
    const path = relative(ROOT, resolve(ROOT, dirname(file), name)).replaceAll('\\', '/');
    const source = path.replace(/\.js$/, '.ts');
    return { file, path: source, room: roomOf(file), target: roomOf(source), isPackage: false };
  });
}

const files = ['src', 'workers', 'migrations', 'samples'].flatMap(filesBelow);
const imports = files.flatMap(importsOf);
const pages = files.filter((file) => file.startsWith('src/web/'));
const packageOf = (name: string): string =>
  name
    .split('/')
    .slice(0, name.startsWith('@') ? 2 : 1)
    .join('/');

const coreRoomOf = (file: string): string => dirname(file).replace(/^src\/core\/?/, '');

/** Every way from a file back to itself, told by the files on it. */
function circlesIn(room: string): string[] {
  const within = imports.filter((one) => one.room === room && one.target === room);
  const next = new Map<string, string[]>();
  for (const { file, path } of within) next.set(file, [...(next.get(file) ?? []), path]);
  const circles: string[] = [];
  const done = new Set<string>();
  const walk = (file: string, way: readonly string[]): void => {
    if (way.includes(file)) circles.push([...way.slice(way.indexOf(file)), file].join(' → '));
    if (done.has(file)) return;
    done.add(file);
    for (const target of next.get(file) ?? []) walk(target, [...way, file]);
  };
  for (const file of next.keys()) walk(file, []);
  return circles;
}

describe('the walls', () => {
  it('name every room there is', () => {
    expect([...new Set(files.map(roomOf))].filter((room) => !(room in MAY_IMPORT))).toEqual([]);
    expect(imports.length).toBeGreaterThan(300);
  });

  it('let a room import only what the table says', () => {
    const broken = imports.filter(
      ({ room, target, isPackage }) => !isPackage && target !== room && !MAY_IMPORT[room]?.includes(target),
    );
    expect(broken.map(({ file, target }) => `${file} imports ${target}`)).toEqual([]);
  });

  it('let the rooms of the core import only what lies before them on the street', () => {
    const inside = imports.filter(({ room, target }) => room === 'core' && target === 'core');
    expect(
      [...new Set(inside.map(({ file }) => coreRoomOf(file)))].filter((at) => !CORE_STREET.includes(at)),
    ).toEqual([]);
    const broken = inside.filter(
      ({ file, path }) => CORE_STREET.indexOf(coreRoomOf(path)) > CORE_STREET.indexOf(coreRoomOf(file)),
    );
    expect(broken.map(({ file, path }) => `${file} imports ${path}`)).toEqual([]);
  });

  it('let languages know the tokens of the core and nothing else of it', () => {
    const broken = imports.filter(
      ({ room, path, target }) =>
        room === 'languages' &&
        target === 'core' &&
        !TOKENS_OF_CORE.some((token) => path === `src/core/${token}.ts`),
    );
    expect(broken.map(({ file, path }) => `${file} imports ${path}`)).toEqual([]);
  });

  it.each(['core', 'flow', 'store', 'mail', 'files', 'inbox'])('hold no circle in %s', (room) => {
    expect(circlesIn(room)).toEqual([]);
  });

  it('hold few files in a folder', () => {
    const folders = new Map<string, string[]>();
    for (const file of files) folders.set(dirname(file), [...(folders.get(dirname(file)) ?? []), file]);
    // Migrations are a list that only grows, and is read by its numbers.
    folders.delete('migrations');
    const full = [...folders].filter(([, held]) => held.length > MOST_FILES);
    expect(full.map(([folder, held]) => `${folder}: ${held.length}`)).toEqual([]);
  });

  it('keep each library in its room', () => {
    const broken = imports.filter(({ room, target, isPackage }) => {
      if (!isPackage || target.startsWith('node:')) return false;
      return !PACKAGE_ROOMS[packageOf(target)]?.includes(room);
    });
    expect(broken.map(({ file, target }) => `${file} imports ${target}`)).toEqual([]);
  });

  it('keep the core pure', () => {
    const core = files.filter((file) => ['core', 'languages', 'units', 'problems'].includes(roomOf(file)));
    const impure = core.filter((file) =>
      IMPURE.test(withoutComments(readFileSync(join(ROOT, file), 'utf8'))),
    );
    expect(impure).toEqual([]);
    const node = imports.filter(({ room, target }) => room === 'core' && target.startsWith('node:'));
    expect(node.map(({ file }) => file)).toEqual([]);
  });

  it('let only the unit file turn one unit into another', () => {
    const converts =
      /[*/] ?(1_?000|60|24|3\.6|3_?600(_?000)?|86_?400(_?000)?)\b|\b(1_?000|60|24) ?\*|\b3_?600(_?000)?\b/;
    // Statements in SQL, and counts in thousands, which are no units.
    const others = [
      'src/units.ts',
      'src/store/postgres.ts',
      'src/store/sqlite.ts',
      'src/core/ground/sketch.ts',
      'src/files/readWith.ts',
    ];
    const outside = files.filter(
      (file) =>
        !others.includes(file) &&
        !file.startsWith('samples/') &&
        converts.test(withoutComments(readFileSync(join(ROOT, file), 'utf8'))),
    );
    expect(outside).toEqual([]);
  });

  it('let a page ask the flow, and never the tables of a transaction', () => {
    const code = pages.map((file) => ({
      file,
      text: withoutComments(readFileSync(join(ROOT, file), 'utf8')),
    }));
    const found = (pattern: RegExp): string[] =>
      code.flatMap(({ file, text }) => (text.match(pattern) ?? []).map((what) => `${file}: ${what}`));
    expect(found(/\btx\??\.\w+/g)).toEqual([]);
    // So that none goes by under another name.
    expect(found(/\b(?!tx\b)\w+: Tx\b/g)).toEqual([]);
    expect(found(/\.(?:read|write)\((?:async )?\((?!tx\))/g)).toEqual([]);
    // One query is no work of its own; only the pages behind links open the link first.
    expect([...new Set(found(/\.read\(async/g))]).toEqual(['src/web/rider/answer.ts: .read(async']);
  });

  it('keep a folder for each page, and at the root of the pages only their shell and guards', () => {
    const at = (file: string): string => file.slice('src/web/'.length);
    const root = pages.map(at).filter((file) => !file.includes('/'));
    expect(root.map((file) => file.replace('.ts', '')).sort()).toEqual([...SHELL].sort());
    const folders = new Set(
      pages
        .map(at)
        .filter((file) => file.includes('/'))
        .map((file) => file.split('/')[0]!),
    );
    const shared = [...SHARED_BY_PAGES];
    expect([...folders].filter((folder) => !shared.includes(folder)).sort()).toEqual(
      [...PAGE_FOLDERS].sort(),
    );
    // What pages share knows no page.
    const broken = imports.filter(
      ({ file, path }) =>
        shared.includes(at(file).split('/')[0]!) &&
        PAGE_FOLDERS.some((folder) => path.startsWith(`src/web/${folder}/`)),
    );
    expect(broken.map(({ file, path }) => `${file} imports ${path}`)).toEqual([]);
  });

  it('let pages write only where it is asked, in the same transaction, who does and whether they may', () => {
    const writing = pages.filter((file) =>
      /\.write\b/.test(withoutComments(readFileSync(join(ROOT, file), 'utf8'))),
    );
    expect(writing.sort()).toEqual([...MAY_WRITE].sort());
  });

  it('keep what runs in a browser in a room of its own, which knows nothing of the program', () => {
    const room = readdirSync(join(ROOT, 'src/web/browser'));
    const scripts = room.filter((file) => file.endsWith('.js'));
    expect(scripts.length).toBeGreaterThan(0);
    expect(room.filter((file) => !scripts.includes(file))).toEqual(['tsconfig.json']);
    for (const file of scripts)
      expect(readFileSync(join(ROOT, 'src/web/browser', file), 'utf8'), file).not.toMatch(
        /^import\b(?!.* from '\.\/\w+\.js';$)|\bimport\(/m,
      );
    // Elsewhere there is no code for a browser, in text neither.
    const elsewhere = files.filter((file) =>
      /\bdocument\.(?:getElement|create|query)|\bwindow\.\w|<script(?! type="module" src=)|\son\w+="/.test(
        withoutComments(readFileSync(join(ROOT, file), 'utf8')),
      ),
    );
    expect(elsewhere).toEqual([]);
  });

  it('let one file say what one line of text may hold', () => {
    const others = files.filter(
      (file) =>
        !['src/core/lines.ts', 'src/core/handle.ts'].includes(file) &&
        /\\p\{C[cfs]\}|\\p\{Z[lp]\}|\\u202[89a-e]/.test(
          withoutComments(readFileSync(join(ROOT, file), 'utf8')),
        ),
    );
    expect(others).toEqual([]);
  });

  it('keep workers thin', () => {
    const thick = filesBelow('workers').filter(
      (file) => readFileSync(join(ROOT, file), 'utf8').split('\n').length > 41,
    );
    expect(thick).toEqual([]);
  });
});
