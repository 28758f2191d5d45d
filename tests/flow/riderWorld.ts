import { isLive } from '../../src/core/plan/leads.js';
import type { Deps } from '../../src/flow/deps.js';
import { refreshAllDue } from '../../src/flow/due/refreshDue.js';
import { deliverOutbox } from '../../src/flow/mail/deliverOutbox.js';
import { queueNotices } from '../../src/flow/mail/queueNotices.js';
import type { RidesMailbox } from '../../src/flow/take/whoseMail.js';
import { calendarFeed } from '../../src/mail/calendar.js';
import type { LeadRow } from '../../src/ports/leads.js';
import type { Mailer, OutgoingMail } from '../../src/ports/mailer.js';
import type { MailRow } from '../../src/ports/mails.js';
import type { PhotoMaker } from '../../src/ports/originals.js';
import { sealWith } from '../../src/secret.js';
import { createApp } from '../../src/web/app.js';
import { filePorts } from '../fixtures/filePorts.js';
import { photosInMemory } from '../fixtures/photos.js';
import { FlowWorld, WORKSHOP } from './flowWorld.js';

export const PUBLIC_URL = 'https://bench.example.org';
/** A Wednesday, after the digest's hour. */
export const NOW = '2026-06-10T09:00:00Z';

const rider = (n: number, rest: object = {}) => ({
  id: `r${n}`,
  name: `Rider ${n}`,
  email: `r${n}@example.org`,
  phone: `+000 555 010${n}`,
  addressConfirmed: true,
  ...rest,
});

/** Invented: two riders whose forks have run 52 of 50 hours; the first has a second bike. */
export const DOCUMENT = {
  workshop: WORKSHOP,
  riders: [rider(1), rider(2)],
  bikes: [
    { id: 'b1', rider: 'r1', name: 'Moss Hopper', type: 'trail' },
    { id: 'b1b', rider: 'r1', name: 'Second bike', type: 'road' },
    { id: 'b2', rider: 'r2', name: 'Brine', type: 'trail' },
  ],
  units: ['F-1', 'F-2'].map((tag) => ({
    tag,
    unitKind: 'fork',
    history: { terrainHours: 52, movingHours: 52, asOf: '2026-06-01' },
  })),
  fittings: [
    { unit: 'F-1', bike: 'b1', from: '2026-01-01' },
    { unit: 'F-2', bike: 'b2', from: '2026-01-01' },
  ],
};

export const withWorkshop = (rest: object): object => ({ ...DOCUMENT, workshop: { ...WORKSHOP, ...rest } });

export const SEAL = sealWith(Buffer.alloc(32, 7));

/** Two riders with mails that carry links, and the pages behind them. */
export class RiderWorld {
  readonly sent: OutgoingMail[] = [];
  readonly logged: string[] = [];
  readonly photos = photosInMemory();
  readonly deps: Deps;
  readonly app: ReturnType<typeof createApp>;
  readonly appOver: (store: Deps['store']) => ReturnType<typeof createApp>;
  #now: string;

  private constructor(
    readonly flow: FlowWorld,
    now: string,
    options: {
      readonly publicUrl: string;
      readonly isOneClick: boolean;
      readonly mailer?: Mailer;
      readonly mailbox?: RidesMailbox;
      readonly makePhoto?: PhotoMaker['make'];
    },
  ) {
    this.#now = now;
    const { publicUrl, isOneClick } = options;
    const keep = (what: unknown, message: string): void => {
      this.logged.push(
        `${message} ${JSON.stringify(what, (_, value) => (value instanceof Error ? value.stack : value))}`,
      );
    };
    this.deps = {
      ...flow.deps,
      mailer: options.mailer ?? { deliver: async (mail) => void this.sent.push(mail) },
      links: { publicUrl, seal: SEAL, isOneClick },
    };
    const { store, clock, ids, reader, originals } = flow.deps;
    this.appOver = (over) =>
      createApp({
        ...{ store: over, clock, ids, publicUrl },
        secret: Buffer.alloc(32, 7),
        restDays: 3,
        trustedProxy: [],
        metricsSecret: null,
        log: { info: keep, error: keep },
        photos: {
          files: this.photos,
          maker: { make: options.makePhoto ?? (async () => 'busy') },
          parts: filePorts().parts,
        },
        rider: {
          ...filePorts(),
          ids,
          seal: SEAL,
          feed: calendarFeed,
          reader,
          originals,
          mailbox: options.mailbox ?? null,
        },
      });
    this.app = this.appOver(store);
  }

  static async open(
    options: {
      readonly now?: string;
      readonly document?: object;
      readonly publicUrl?: string;
      readonly isOneClick?: boolean;
      readonly mailer?: Mailer;
      readonly mailbox?: RidesMailbox;
      readonly makePhoto?: PhotoMaker['make'];
    } = {},
  ): Promise<RiderWorld> {
    const {
      now = NOW,
      document = DOCUMENT,
      publicUrl = PUBLIC_URL,
      isOneClick = true,
      mailer,
      mailbox,
      makePhoto,
    } = options;
    const flow = await FlowWorld.open(now, document);
    return new RiderWorld(flow, now, {
      publicUrl,
      isOneClick,
      ...(mailer ? { mailer } : {}),
      ...(mailbox ? { mailbox } : {}),
      ...(makePhoto ? { makePhoto } : {}),
    });
  }

  get now(): string {
    return this.#now;
  }

  set now(time: string) {
    this.#now = time;
    this.flow.now = time;
  }

  get store() {
    return this.flow.deps.store;
  }

  /** One beat: brings up to date, decides and hands over. Returns the mails that left. */
  async beat(): Promise<OutgoingMail[]> {
    const before = this.sent.length;
    await refreshAllDue(this.deps);
    await queueNotices(this.deps);
    await deliverOutbox(this.deps);
    return this.sent.slice(before);
  }

  /** As `address: subject`, in order. */
  async mail(): Promise<string[]> {
    return (await this.beat()).map((mail) => `${mail.to.address}: ${mail.subject}`).sort();
  }

  async reminderTo(address: string): Promise<OutgoingMail> {
    const mails = await this.beat();
    const mail = [...this.sent, ...mails].find((one) => one.to.address === address);
    if (!mail) throw new Error(`no mail to ${address}`);
    return mail;
  }

  mails(): Promise<readonly MailRow[]> {
    return this.store.read((tx) => tx.mails.list());
  }

  /** The last one; of those of one moment, which the clock of a test stands still in, the one that is open or has a day. */
  async lead(tag: string): Promise<LeadRow | undefined> {
    const unitId = await this.flow.id('unit', tag);
    const rows = await this.store.read((tx) => tx.leads.listOfUnit(unitId));
    return [...rows].sort((a, b) => a.madeAt - b.madeAt || Number(isLive(a)) - Number(isLive(b))).at(-1);
  }

  facts(): Promise<number> {
    return this.store.read((tx) => tx.facts.count());
  }

  get(url: string): Promise<Response> {
    return Promise.resolve(this.app.request(pathOf(url)));
  }

  async text(url: string): Promise<string> {
    return (await this.get(url)).text();
  }

  /** Sends a form, and goes on to the page that it leads to, as a browser does. */
  async post(url: string, fields: Readonly<Record<string, string>>): Promise<Response> {
    return followed(
      this.app,
      await this.app.request(pathOf(url), { method: 'POST', body: new URLSearchParams(fields) }),
    );
  }
}

/** Returns the page that a form's answer leads to, with the cookie that came with it; other answers as they are. */
export async function followed(app: RiderWorld['app'], answer: Response): Promise<Response> {
  if (answer.status !== 303) return answer;
  const [cookie = ''] = answer.headers.getSetCookie().map((one) => one.split(';')[0]!);
  return app.request(answer.headers.get('location')!, { headers: { cookie } });
}

const pathOf = (url: string): string => {
  const { pathname, search } = new URL(url);
  return pathname + search;
};

/** Every link of a mail by its purpose, from its plain text. */
export function linksOf(mail: Pick<OutgoingMail, 'text'>): Map<string, string> {
  const found = mail.text.matchAll(/https?:\/\/\S+?\/r\/(\w+)\/\S+/g);
  return new Map([...found].map(([url, purpose = '']) => [purpose, url]));
}

export function linkOf(mail: Pick<OutgoingMail, 'text'>, purpose: string): string {
  const url = linksOf(mail).get(purpose);
  if (url === undefined) throw new Error(`no link ${purpose} in: ${mail.text}`);
  return url;
}
