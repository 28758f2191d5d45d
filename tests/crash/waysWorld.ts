/** One workshop to which eight riders hand over rides, each by a way of its own, while the program is killed. */
import { type ChildProcess, spawn } from 'node:child_process';
import { appendFileSync, existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { setTimeout as later } from 'node:timers/promises';
import SQLite from 'better-sqlite3';
import { LinkMaker } from '../../src/flow/mail/links.js';
import { findRidesAddress } from '../../src/flow/take/whoseMail.js';
import { sealWith } from '../../src/secret.js';
import { openStore } from '../../src/store/open.js';
import { instant } from '../../src/units.js';
import { formTokenOf, openSession } from '../../src/web/signIn/session.js';
import { putLedger, type Serving, serveIn } from '../faults/serving.js';
import { madeMail } from '../fixtures/madeMail.js';
import { MAIL_PASSWORD, type MailServer } from '../fixtures/mailServer.js';
import { PROGRAM, scratchFolder } from '../fixtures/program.js';
import { runHere } from '../fixtures/runHere.js';
import { keepAlike, serveWebdav } from '../fixtures/syncTools.js';

/** Each is the handle of the rider who uses it, too. */
export const WAYS = ['page', 'command', 'folder', 'synced', 'webdav', 'mail', 'share', 'cable'] as const;
export type Way = (typeof WAYS)[number];

export interface RideToHand {
  readonly name: string;
  readonly bytes: Uint8Array;
}
/** What its user was told at once; null where that is told elsewhere, or nobody answered. */
export type Said = string | null;

const SECRET = 'an invented secret of more than thirty-two letters';
const ADDRESS = 'rides@bench.example.org';

/** Invented: a rider for each way, with a bike and a new fork. */
const DOCUMENT = {
  workshop: { id: 'w1', name: 'Test bench', timeZone: 'UTC', openDays: ['mon', 'tue', 'wed', 'thu', 'fri'] },
  riders: WAYS.map((id) => ({ id, name: `By ${id}`, email: `${id}@example.org`, addressConfirmed: true })),
  bikes: WAYS.map((rider) => ({ id: `b-${rider}`, rider, name: 'Bike', type: 'trail' })),
  units: WAYS.map((rider) => ({ tag: `F-${rider}`, unitKind: 'fork', history: 'new' })),
  fittings: WAYS.map((rider) => ({ unit: `F-${rider}`, bike: `b-${rider}`, from: '2020-01-01' })),
};

const freePort = (): Promise<number> =>
  new Promise((done) => {
    const server = createServer().listen(0, '127.0.0.1', () => {
      const { port } = server.address() as { port: number };
      server.close(() => done(port));
    });
  });

export class WaysWorld {
  readonly inbox = join(scratchFolder(), 'rides');
  /** What the riders of the synced folder and of WebDAV have at home. */
  readonly home = { synced: join(scratchFolder(), 'rides'), webdav: scratchFolder() };
  readonly #children = new Set<ChildProcess>();
  #serving: Serving | null = null;
  #webdav: Awaited<ReturnType<typeof serveWebdav>> | null = null;
  #mails = 0;

  private constructor(
    readonly data: string,
    readonly mail: MailServer,
    readonly port: number,
    /** Paths and secrets that each user holds. */
    readonly keys: {
      readonly page: string;
      readonly device: string;
      readonly mail: string;
      readonly cookie: string;
      readonly token: string;
      readonly riderId: string;
    },
  ) {}

  static async open(mail: MailServer): Promise<WaysWorld> {
    const data = scratchFolder();
    await putLedger(data, DOCUMENT);
    const world = new WaysWorld(data, mail, await freePort(), await keysIn(data));
    mkdirSync(world.inbox, { recursive: true });
    await keepAlike([world.home.synced, join(world.inbox, 'synced')]);
    world.#webdav = await serveWebdav(join(world.inbox, 'webdav'));
    return world;
  }

  get url(): string {
    return `http://127.0.0.1:${this.port}`;
  }

  /** Its clock starts at that time, if one is given. */
  async start(now?: Date): Promise<void> {
    const imap = new URL(`imap://127.0.0.1:${this.mail.port}/INBOX`);
    imap.username = this.mail.user;
    imap.password = encodeURIComponent(MAIL_PASSWORD);
    this.#serving = await serveIn(
      this.data,
      {
        STANCHION_SECRET: SECRET,
        STANCHION_INBOX: this.inbox,
        STANCHION_IMAP_URL: imap.href,
        STANCHION_RIDES_ADDRESS: ADDRESS,
      },
      ['--port', String(this.port), ...(now ? ['--now', now.toISOString()] : [])],
    );
  }

  /** Kills the program, the command and the tool that are at work, at once. */
  async kill(): Promise<void> {
    const all = [this.#serving!.child, ...this.#children].filter(
      ({ exitCode, signalCode }) => exitCode === null && signalCode === null,
    );
    const ended = all.map((child) => new Promise((done) => child.once('exit', done)));
    for (const child of all) child.kill('SIGKILL');
    await Promise.all(ended);
    this.#children.clear();
  }

  stop = (): Promise<number | null> => this.#serving!.stop();

  /** Hands a ride over as its rider does. */
  readonly hand: Readonly<Record<Way, (ride: RideToHand) => Promise<Said>>> = {
    page: (ride) => this.send(`${this.keys.page}/files`, ride, { accept: 'application/json' }),
    share: async (ride) => {
      const { device } = this.keys;
      const said = await this.send('/r/own/share', ride, { cookie: device, 'sec-fetch-site': 'none' });
      return said === null ? null : this.get('/r/own/files/sent', device);
    },
    cable: async (ride) => {
      const { cookie, token, riderId } = this.keys;
      const said = await this.send(
        '/ways/files',
        ride,
        { cookie, origin: this.url },
        { token, rider: riderId },
      );
      return said === null ? null : this.get('/ways?read', cookie);
    },
    command: (ride) => this.command(ride, 'command'),
    // A copy that takes its time.
    folder: async ({ name, bytes }) => {
      const folder = join(this.inbox, 'folder');
      mkdirSync(folder, { recursive: true });
      writeFileSync(join(folder, name), bytes.subarray(0, bytes.length / 2));
      await later(300);
      appendFileSync(join(folder, name), bytes.subarray(bytes.length / 2));
      return null;
    },
    synced: async ({ name, bytes }) => {
      writeFileSync(join(this.home.synced, name), bytes);
      return null;
    },
    webdav: async ({ name, bytes }) => {
      writeFileSync(join(this.home.webdav, name), bytes);
      await this.#ended(this.#webdav!.begin('copy', this.home.webdav, 'there:', '--bwlimit', '64k'));
      return null;
    },
    mail: async (ride) => {
      const id = `${this.#mails++}@ways.example`;
      await this.mail.put(await madeMail({ to: this.keys.mail, id, files: [ride] }));
      return null;
    },
  };

  /** What each rider's fork was charged. */
  async hours(): Promise<Readonly<Record<Way, string>>> {
    const { rows, stderr } = await runHere(['due', '--json', '--data', this.data]);
    const of = (way: Way): string => {
      const row = rows.find((one) => one.unit === `F-${way}` && one.serviceKind === 'lower-leg');
      if (!row) throw new Error(stderr);
      return `${row.movingHoursSince} ${row.terrainHoursSince}`;
    };
    return Object.fromEntries(WAYS.map((way) => [way, of(way)])) as Record<Way, string>;
  }

  /** How many mails were dealt with. */
  mailsDone(): number {
    const database = new SQLite(join(this.data, 'stanchion.db'), { readonly: true });
    try {
      return database
        .prepare('select count(*) from mailed where done_at_ms is not null')
        .pluck()
        .get() as number;
    } finally {
      database.close();
    }
  }

  /** What riders of folders are told there; at home, where another program brings it. */
  told(way: 'folder' | 'synced' | 'webdav'): string {
    const at = way === 'synced' ? this.home.synced : join(this.inbox, way);
    const file = join(at, 'what happened.txt');
    return existsSync(file) ? readFileSync(file, 'utf8') : '';
  }

  /** All that was mailed to a rider, in plain text. */
  mailed(way: Way): string {
    const outbox = join(this.data, 'outbox');
    if (!existsSync(outbox)) return '';
    return readdirSync(outbox)
      .map((name) => readFileSync(join(outbox, name), 'utf8'))
      .filter((text) => text.includes(`To: By ${way} <`))
      .join('\n')
      .replaceAll('=\r\n', '');
  }

  /** Sends a ride by a form; the answer, after its status where it is a refusal. */
  async send(
    path: string,
    { name, bytes }: RideToHand,
    headers: Readonly<Record<string, string>>,
    fields: Readonly<Record<string, string>> = {},
  ): Promise<Said> {
    const body = new FormData();
    for (const [field, text] of Object.entries(fields)) body.set(field, text);
    body.append('files', new Blob([Buffer.from(bytes)]), name);
    return this.#answer(path, { method: 'POST', body, headers: { ...headers, connection: 'close' } });
  }

  get = (path: string, cookie: string): Promise<Said> =>
    this.#answer(path, { headers: { cookie, connection: 'close' } });

  async #answer(path: string, how: RequestInit): Promise<Said> {
    try {
      const answer = await fetch(this.url + path, { ...how, redirect: 'manual' });
      const text = await answer.text();
      return answer.status < 400 ? text : `${answer.status} ${text}`;
    } catch {
      // It was killed meanwhile: nobody answered.
      return null;
    }
  }

  async command({ name, bytes }: RideToHand, rider: string): Promise<Said> {
    const file = join(scratchFolder(), name);
    writeFileSync(file, bytes);
    const args = ['take', file, '--rider', rider, '--json', '--data', this.data];
    const child = spawn(process.execPath, [PROGRAM, ...args], { stdio: ['ignore', 'pipe', 'ignore'] });
    let said = '';
    child.stdout.on('data', (chunk) => {
      said += String(chunk);
    });
    await this.#ended(child);
    return said === '' ? null : said;
  }

  async #ended(child: ChildProcess): Promise<void> {
    this.#children.add(child);
    if (child.exitCode === null && child.signalCode === null)
      await new Promise((done) => child.once('exit', done));
    this.#children.delete(child);
  }
}

async function keysIn(data: string): Promise<WaysWorld['keys']> {
  const now = instant(Date.now());
  const store = await openStore(join(data, 'stanchion.db'), now);
  try {
    return await store.write(async (tx) => {
      const riderOf = async (way: Way): Promise<string> => (await tx.handles.find('rider', way))!;
      const seal = sealWith(Buffer.from(SECRET));
      const pageOf = async (way: Way): Promise<string> => {
        const contact = await tx.contacts.find(await riderOf(way));
        const links = { publicUrl: '', seal, isOneClick: false };
        return new LinkMaker(links, tx.workshopId, contact!, now).own('page');
      };
      const account = await tx.accounts.add({ name: 'owner', passwordHash: 'none', role: 'owner' });
      const session = await openSession(tx, account.id, now);
      return {
        page: await pageOf('page'),
        device: `own=${(await pageOf('share')).split('/').at(-1)}`,
        mail: await findRidesAddress(tx, { address: ADDRESS, seal }, await riderOf('mail')),
        cookie: `session=${session}`,
        token: formTokenOf(Buffer.from(SECRET), session),
        riderId: await riderOf('cable'),
      };
    });
  } finally {
    await store.close();
  }
}
