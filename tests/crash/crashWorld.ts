/** A workshop that is worked on while the program is killed: what was given to it, and what must stand there once. */
import { createHash } from 'node:crypto';
import {
  appendFileSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import SQLite from 'better-sqlite3';
import { checkLedger } from '../../src/flow/carry/checkLedger.js';
import { openStore } from '../../src/store/open.js';
import { instant } from '../../src/units.js';
import { formTokenOf, openSession } from '../../src/web/signIn/session.js';
import { gpxText, straightTrack } from '../fixtures/gpxFile.js';
import { manyForks, numbersTo } from '../fixtures/manyForks.js';

/** A Wednesday morning after the digest's hour and the backup's: everything that is due is done at once. */
export const NOW = '2026-06-10T09:00:00Z';
export const SECRET = 'a secret of the crash tests, long enough';
const AT = instant(Date.parse(NOW));
const DAY_MS = 86_400_000;
const RIDERS = 24;
const DUE = 8;
const TODAYS = 'stanchion-2026-06-10.db';

const numbers = numbersTo(RIDERS);

/** Invented: of the forks some are due; the others are marked later. Each was serviced once, which restarted nothing. */
const DOCUMENT = {
  ...manyForks({
    count: RIDERS,
    openDays: ['mon', 'tue', 'wed', 'thu', 'fri'],
    history: (n) => {
      const hours = n <= DUE ? 51 : 5;
      return { terrainHours: hours, movingHours: hours, asOf: '2026-03-01' };
    },
  }),
  services: numbers.map((n) => ({
    unit: `F-${n}`,
    serviceKind: 'lower-leg',
    on: '2026-03-01',
    restarts: [],
  })),
};

/** A fact that somebody sends from a page. */
export interface Saying {
  readonly kind: 'hours' | 'mark' | 'correct';
  /** Stands in the fact, and in no other. */
  readonly word: string;
  readonly n: number;
  /** Sent without an answer: it may stand there or not, until the ledger is looked at. */
  state: 'open' | 'sent' | 'stands';
}

export class CrashWorld {
  readonly folder = mkdtempSync(join(tmpdir(), 'stanchion-crash-'));
  readonly sayings: Saying[] = [];
  /** Hashes of the ride files that were laid down. */
  readonly laid: string[] = [];
  #form: { readonly cookie: string; readonly token: string } | null = null;
  #factsAtFirst = 0;

  constructor() {
    writeFileSync(this.setupFile, JSON.stringify(DOCUMENT));
  }

  get setupFile(): string {
    return `${this.folder}.json`;
  }

  get isMade(): boolean {
    return existsSync(this.pathOf('stanchion.db'));
  }

  pathOf(...names: string[]): string {
    return join(this.folder, ...names);
  }

  rows<T>(query: string, ...bound: unknown[]): T[] {
    const database = new SQLite(this.pathOf('stanchion.db'), { readonly: true });
    try {
      return database.prepare(query).all(...bound) as T[];
    } finally {
      database.close();
    }
  }

  /** Makes somebody who is signed in; to be done once, while nobody serves. */
  async signIn(): Promise<void> {
    const store = await openStore(this.pathOf('stanchion.db'), AT);
    const session = await store.write(async (tx) => {
      const account = await tx.accounts.add({ name: 'owner', passwordHash: 'none', role: 'owner' });
      return openSession(tx, account.id, AT);
    });
    await store.close();
    this.#form = { cookie: `session=${session}`, token: formTokenOf(Buffer.from(SECRET), session) };
    this.#factsAtFirst = this.rows('select 1 from fact').length;
  }

  /** Lays down a ride that nobody had before, or its first half, as a slow copy does; returns how to lay the rest. */
  layFile(isSlow: boolean): () => void {
    const at = this.laid.length;
    const n = 1 + (at % RIDERS);
    const start = AT - (1 + Math.floor(at / RIDERS)) * DAY_MS - n * 1000;
    const text = gpxText([{ type: 'cycling', segments: [straightTrack(start, 300)] }]);
    const folder = this.pathOf('inbox', `r${n}`, `b${n}`);
    mkdirSync(folder, { recursive: true });
    const path = join(folder, `ride ${at}.gpx`);
    this.laid.push(createHash('sha256').update(text).digest('hex'));
    writeFileSync(path, isSlow ? text.slice(0, text.length / 2) : text);
    let rest = isSlow ? text.slice(text.length / 2) : '';
    return () => {
      appendFileSync(path, rest);
      rest = '';
    };
  }

  /** Returns what is said next: what was lost with the last life, else something new of this kind. */
  nextSaying(kind: Saying['kind']): Saying | null {
    const lost = this.sayings.find((one) => one.kind === kind && one.state === 'open');
    if (lost) return lost;
    const made = this.sayings.filter((one) => one.kind === kind).length;
    const n = kind === 'mark' ? DUE + 1 + made : 1 + (made % RIDERS);
    if (n > RIDERS) return null;
    const saying: Saying = { kind, word: `word-${this.sayings.length}-end`, n, state: 'open' };
    this.sayings.push(saying);
    return saying;
  }

  /** Sends a form as a page does; returns what is wrong with the answer. */
  async say(url: string, saying: Saying): Promise<string | null> {
    const { path, fields } = this.#formOf(saying);
    saying.state = 'sent';
    let status: number;
    try {
      const body = new URLSearchParams({ token: this.#form!.token, ...fields });
      const headers = { cookie: this.#form!.cookie, origin: url, connection: 'close' };
      ({ status } = await fetch(url + path, { method: 'POST', redirect: 'manual', headers, body }));
    } catch {
      // It was killed meanwhile: the ledger says what became of it.
      return null;
    }
    if (status !== 303) return `${path} answered ${status}`;
    saying.state = 'stands';
    return null;
  }

  #formOf({ kind, word, n }: Saying): { path: string; fields: Record<string, string> } {
    if (kind === 'hours')
      return {
        path: `/bikes/b${n}/hours`,
        fields: { on: '2026-06-01', minutes: '1', ground: 'smooth', note: word },
      };
    if (kind === 'mark') return { path: `/units/F-${n}/mark`, fields: { why: word } };
    const [line] = this.rows<{ id: string; on: string }>(
      `select f.id, json_extract(f.body, '$.on') as "on" from fact f join handle h on h.entity_id = f.subject_id
       where h.kind = 'unit' and h.handle = ? and f.kind = 'service'
       and f.id not in (select replaces_id from fact where replaces_id is not null)`,
      `F-${n}`,
    );
    const on = new Date(Date.parse(line!.on) + DAY_MS).toISOString().slice(0, 10);
    return { path: `/units/F-${n}/lines/${line!.id}/day`, fields: { on, why: word } };
  }

  /** To be asked after each kill. Returns what is lost, doubled or broken. */
  async faults(): Promise<string[]> {
    const faults: string[] = [];
    const store = await openStore(this.pathOf('stanchion.db'), AT);
    const checked = await checkLedger(store);
    await store.close();
    faults.push(...checked.faults.map((fault) => `check: ${fault}`));
    let standing = 0;
    for (const saying of this.sayings) {
      const found = this.rows(
        'select id from fact where instr(coalesce(why, body) || body, ?) > 0',
        saying.word,
      ).length;
      if (found > 1) faults.push(`${saying.kind} ${saying.word} stands ${found} times`);
      if (found === 0 && saying.state === 'stands') faults.push(`${saying.kind} ${saying.word} is lost`);
      saying.state = found > 0 ? 'stands' : 'open';
      standing += found;
    }
    const facts = this.rows('select 1 from fact').length;
    if (this.#form && facts !== this.#factsAtFirst + standing)
      faults.push(`${facts} facts, ${this.#factsAtFirst} at first and ${standing} said since`);
    for (const [what, query] of [
      ['file', 'select sha256 from file group by sha256 having count(*) > 1'],
      ['arrival', 'select file_id from arrival group by file_id having count(*) > 1'],
      ['place of a notice', 'select key from notice where keeps_place = 1 group by key having count(*) > 1'],
    ] as const)
      if (this.rows(query).length > 0) faults.push(`a ${what} stands twice`);
    faults.push(...(await this.#backupFaults()));
    return faults;
  }

  /** What has the name of a backup is one, whatever was killed while it was made. */
  async #backupFaults(): Promise<string[]> {
    if (!existsSync(this.pathOf('backups', TODAYS))) return [];
    // Opened as a copy, so that the backup stays as the program left it.
    const copy = `${this.folder}.copy.db`;
    try {
      const database = new SQLite(this.pathOf('backups', TODAYS), { readonly: true });
      database.prepare('vacuum into ?').run(copy);
      database.close();
      const store = await openStore(copy, AT);
      const { faults } = await checkLedger(store);
      await store.close();
      return faults.map((fault) => `backup: ${fault}`);
    } finally {
      for (const end of ['', '-wal', '-shm']) rmSync(copy + end, { force: true });
    }
  }

  get hasBackup(): boolean {
    return existsSync(this.pathOf('backups', TODAYS));
  }

  /** Whether nothing is left to be taken, decided, handed over or copied. */
  get isAllDone(): boolean {
    const count = (query: string): number => this.rows(query).length;
    return (
      this.hasBackup &&
      this.sayings.every((one) => one.state === 'stands') &&
      count('select 1 from inbox_file where settled = 1') >= this.laid.length &&
      count('select 1 from notice where withdrawn_at_ms is null') >= 2 * this.toldUnits.length &&
      this.rows(`select 1 from mail where state = 'waiting' and send_at_ms <= ${AT + 60_000}`).length === 0
    );
  }

  /** Units that rider and workshop are told of, each once. */
  get toldUnits(): readonly { readonly tag: string; readonly state: string }[] {
    const marked = this.sayings.filter((one) => one.kind === 'mark').map(({ n }) => n);
    return [
      ...numbers.slice(0, DUE).map((n) => ({ tag: `F-${n}`, state: 'due' })),
      ...marked.map((n) => ({ tag: `F-${n}`, state: 'stop-riding' })),
    ];
  }

  /** So that the next life makes it again. */
  dropBackup(): void {
    rmSync(this.pathOf('backups', TODAYS), { force: true });
  }

  get isBackingUp(): boolean {
    return namesIn(this.pathOf('backups')).some((name) => name.endsWith('.part'));
  }

  get keptFiles(): string[] {
    return namesIn(this.pathOf('originals')).filter((name) => /[0-9a-f]{64}$/.test(name));
  }

  close(): void {
    rmSync(this.folder, { recursive: true, force: true });
    rmSync(this.setupFile, { force: true });
  }
}

export const namesIn = (folder: string): string[] =>
  existsSync(folder) ? readdirSync(folder, { recursive: true, encoding: 'utf8' }) : [];
