/** Rides that come by mail, over a real mail server: whose they are, that they count once, and what is answered. */
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { ServiceError } from '../../../src/errors.js';
import { forgetRider } from '../../../src/flow/carry/forgetRider.js';
import { deliverOutbox } from '../../../src/flow/mail/deliverOutbox.js';
import { queueOwnPage } from '../../../src/flow/mail/kinds/link.js';
import { type MailedDeps, takeMailsOnce } from '../../../src/flow/take/takeMails.js';
import { listWays } from '../../../src/flow/take/ways.js';
import { findRidesAddress } from '../../../src/flow/take/whoseMail.js';
import { WHOLE_TURN } from '../../../src/flow/turn.js';
import { partsIn } from '../../../src/inbox/parts.js';
import { imapMailbox } from '../../../src/mailbox/imapMailbox.js';
import type { OutgoingMail } from '../../../src/ports/mailer.js';
import { gpxText, straightTrack, textBytes } from '../../fixtures/gpxFile.js';
import { madeMail } from '../../fixtures/madeMail.js';
import {
  hasMailServer,
  MAIL_PASSWORD,
  type MailServer,
  NO_MAIL_SERVER,
  startMailServer,
} from '../../fixtures/mailServer.js';
import { scratchFolder } from '../../fixtures/program.js';
import { zipFile } from '../../fixtures/zipFile.js';
import { linkOf, RiderWorld, SEAL, DOCUMENT as TWO_RIDERS } from '../riderWorld.js';

const ADDRESS = 'rides@bench.example.org';
const NOW = '2026-06-10T09:00:00Z';
const AUTH = 'mx.bench.example.org';
const real = test.runIf(hasMailServer);

let server: MailServer;
beforeAll(async () => {
  if (hasMailServer) server = await startMailServer();
});
beforeEach(() => {
  if (!hasMailServer) return;
  server.anotherUser();
  server.cameAt = NOW;
});
afterAll(async () => server?.stop());

/** A ride of half an hour on a day of June, alike on each. */
const ride = (day: number, type = 'cycling'): Uint8Array =>
  textBytes(
    gpxText([{ type, segments: [straightTrack(Date.parse(`2026-06-0${day}T07:00:00Z`), 1801, 20 + day)] }]),
  );

class MailWorld {
  readonly deps: MailedDeps;
  readonly logged: string[] = [];
  readonly tries = new Map<string, number>();
  constructor(
    readonly riders: RiderWorld,
    readonly folder: string,
    server_: string | null,
  ) {
    this.deps = {
      ...riders.deps,
      log: {
        info: (_, message) => void this.logged.push(message),
        error: (_, message) => void this.logged.push(message),
      },
      mailbox: imapMailbox({
        ...{ host: '127.0.0.1', port: server.port, isTls: false, user: server.user },
        ...{ password: MAIL_PASSWORD, folder: 'INBOX', doneFolder: null },
      }),
      rides: { address: ADDRESS, server: server_, seal: SEAL },
      parts: partsIn(folder),
    };
  }

  static async open(of: { document?: object; server?: string | null } = {}): Promise<MailWorld> {
    const riders = await RiderWorld.open({ now: NOW, ...(of.document ? { document: of.document } : {}) });
    return new MailWorld(riders, scratchFolder(), of.server ?? null);
  }

  async take(): Promise<void> {
    while (await takeMailsOnce(this.deps, WHOLE_TURN, this.tries));
  }

  async address(rider = 'r1'): Promise<string> {
    const riderId = await this.riders.flow.id('rider', rider);
    return this.deps.store.read((tx) => findRidesAddress(tx, this.deps.rides, riderId));
  }

  /** Mails that left after so many minutes, as `address: subject`. */
  async mailsAfter(minutes: number): Promise<string[]> {
    this.riders.now = new Date(Date.parse(this.riders.now) + minutes * 60_000).toISOString();
    return (await this.riders.mail()).filter((one) => !/due|Services|overdue/i.test(one));
  }

  async rides(rider = 'r1'): Promise<number> {
    const riderId = await this.riders.flow.id('rider', rider);
    return (await this.deps.store.read((tx) => tx.rides.listLatestOfRider(riderId, 99))).length;
  }

  /** The last answer that left. */
  answer = (): OutgoingMail => this.riders.sent.findLast(({ subject }) => subject.includes('came in'))!;

  left = (): Promise<number> => this.deps.store.read((tx) => tx.mailed.countLeft());
}

const one = (name: string, bytes: Uint8Array, type?: string) => [
  { name, bytes, ...(type === undefined ? {} : { type }) },
];

real(`a mailed ride counts, and is answered once${NO_MAIL_SERVER}`, async () => {
  const world = await MailWorld.open();
  await server.put(await madeMail({ to: await world.address(), files: one('june.gpx', ride(1)) }));
  await world.take();
  await world.take();
  expect(await world.rides()).toBe(1);
  expect(await world.mailsAfter(1)).toEqual([]);
  expect(await world.mailsAfter(6)).toEqual(['r1@example.org: Your ride came in']);
  const { text } = world.answer();
  expect(text).toContain('One ride counts: 0.5\u00a0h moving.');
  expect(text).toContain('F-1: +');
  expect(await world.mailsAfter(60 * 24)).toEqual([]);
  await world.riders.flow.expectSound();
});

real(`many mails of one day have one answer, and the next day’s another${NO_MAIL_SERVER}`, async () => {
  const world = await MailWorld.open();
  const to = await world.address();
  for (const day of [1, 2, 3]) await server.put(await madeMail({ to, files: one(`${day}.gpx`, ride(day)) }));
  await world.take();
  expect(await world.mailsAfter(6)).toEqual(['r1@example.org: Your 3 rides came in']);
  await server.put(await madeMail({ to, files: one('4.gpx', ride(4)) }));
  await world.take();
  await server.put(await madeMail({ to, files: one('5.gpx', ride(5)) }));
  await world.take();
  expect(await world.mailsAfter(60)).toEqual([]);
  expect(await world.mailsAfter(60 * 24)).toEqual(['r1@example.org: Your 2 rides came in']);
});

real(`what is in archives counts, and pictures are not told of${NO_MAIL_SERVER}`, async () => {
  const world = await MailWorld.open();
  const zip = zipFile([
    { name: 'a.gpx', bytes: ride(1) },
    { name: 'photo.jpg', bytes: textBytes('no ride') },
    { name: 'b.gpx', bytes: ride(2) },
  ]);
  const files = [...one('export.zip', zip), ...one('signature.png', textBytes('x'), 'image/png')];
  await server.put(await madeMail({ to: await world.address(), files }));
  await world.take();
  expect(await world.rides()).toBe(2);
  await world.mailsAfter(6);
  expect(world.answer().text).not.toMatch(/photo|signature/);
});

real(`what is no ride is told with its reason, and a mail without a file too${NO_MAIL_SERVER}`, async () => {
  const world = await MailWorld.open();
  const to = await world.address();
  await server.put(await madeMail({ to, files: one('broken.gpx', textBytes('<gpx><trk')) }));
  await world.take();
  expect(await world.mailsAfter(6)).toEqual(['r1@example.org: Your mail came in']);
  expect(world.answer().text).toMatch(/broken\.gpx: It could not be used\./);
  const other = await world.address('r2');
  await server.put(await madeMail({ to: other, text: 'here: https://example.org/ride/1' }));
  await world.take();
  expect(await world.mailsAfter(6)).toEqual(['r2@example.org: Your mail came in']);
  expect(world.answer().text).toContain('There was no ride file in your mail.');
});

real(`a stranger’s mail takes nothing, stays as it is and is counted${NO_MAIL_SERVER}`, async () => {
  const world = await MailWorld.open({ server: AUTH });
  const to = await world.address();
  const forged = to.replace(/-[0-9a-f]{4}/, '-0000');
  const pass = `Authentication-Results: ${AUTH}; dmarc=pass header.from=example.org\r\n`;
  const fromRider = (head: string) => ({ to: ADDRESS, head });
  const mails = [
    { to: ADDRESS, head: '' },
    { to: forged, head: '' },
    fromRider(''),
    fromRider(`Authentication-Results: ${AUTH}; dmarc=fail header.from=example.org\r\n`),
    // Below what the server itself wrote stands what the sender wrote.
    fromRider(`Authentication-Results: ${AUTH}; dmarc=none\r\n${pass}`),
    fromRider(pass.replace(AUTH, 'mx.evil.example')),
  ];
  for (const [i, { to, head }] of mails.entries()) {
    const mail = await madeMail({ from: 'r1@example.org', to, files: one(`${i}.gpx`, ride(1)) });
    await server.put(Buffer.concat([Buffer.from(head), mail]));
  }
  await world.take();
  expect([await world.rides(), await world.rides('r2'), await world.left()]).toEqual([0, 0, mails.length]);
  expect(await world.mailsAfter(60 * 48)).toEqual([]);
  // The same word of the right server is believed.
  const honest = await madeMail({ from: 'R1@example.org', to: ADDRESS, files: one('own.gpx', ride(1)) });
  await server.put(Buffer.concat([Buffer.from(pass), honest]));
  await world.take();
  expect(await world.rides()).toBe(1);
});

real(`without a server to believe, nobody’s name says whose a mail is${NO_MAIL_SERVER}`, async () => {
  const world = await MailWorld.open();
  const mail = await madeMail({ from: 'r1@example.org', to: ADDRESS, files: one('a.gpx', ride(1)) });
  const pass = Buffer.from(`Authentication-Results: ${AUTH}; dmarc=pass header.from=example.org\r\n`);
  await server.put(Buffer.concat([pass, mail]));
  await world.take();
  expect([await world.rides(), await world.left()]).toEqual([0, 1]);
});

real(`a mail to two riders counts for each${NO_MAIL_SERVER}`, async () => {
  const world = await MailWorld.open();
  const to = `${await world.address()}, ${await world.address('r2')}`;
  await server.put(await madeMail({ to, files: one('group.gpx', ride(1)) }));
  await world.take();
  expect([await world.rides(), await world.rides('r2')]).toEqual([1, 1]);
});

real.each([
  ['an automatic answer', { 'Auto-Submitted': 'auto-replied' }],
  ['a list', { 'List-Id': '<riders.example.org>' }],
  ['bulk mail', { Precedence: 'bulk' }],
])(`%s is taken and never answered${NO_MAIL_SERVER}`, async (_, headers) => {
  const world = await MailWorld.open();
  await server.put(await madeMail({ to: await world.address(), headers, files: one('a.gpx', ride(1)) }));
  await world.take();
  expect(await world.rides()).toBe(1);
  expect(await world.mailsAfter(60 * 48)).toEqual([]);
});

real(`our own answer that comes back is not answered: no loop${NO_MAIL_SERVER}`, async () => {
  const world = await MailWorld.open();
  const to = await world.address();
  await server.put(await madeMail({ to, files: one('a.gpx', ride(1)) }));
  await world.take();
  await world.mailsAfter(6);
  const { headers, text } = world.answer();
  await server.put(await madeMail({ to, headers, text }));
  await world.take();
  expect(await world.mailsAfter(60 * 48)).toEqual([]);
});

real(
  `the same mails in a mailbox made anew count nothing and are not answered again${NO_MAIL_SERVER}`,
  async () => {
    const world = await MailWorld.open();
    const to = await world.address();
    const mails = [];
    for (const day of [1, 2])
      mails.push(await madeMail({ to, id: `m${day}@x`, files: one(`${day}.gpx`, ride(day)) }));
    await server.put(...mails);
    await world.take();
    expect(await world.mailsAfter(6)).toHaveLength(1);
    await new Promise((resolve) => setTimeout(resolve, 1100));
    await server.renew();
    await server.put(await madeMail({ to: ADDRESS }), ...mails);
    await world.take();
    expect(await world.rides()).toBe(2);
    expect(await world.mailsAfter(60 * 48)).toEqual([]);
    await world.riders.flow.expectSound();
  },
);

real(`last year’s mails are taken and not answered${NO_MAIL_SERVER}`, async () => {
  const world = await MailWorld.open();
  server.cameAt = '2025-06-10T09:00:00Z';
  await server.put(await madeMail({ to: await world.address(), files: one('a.gpx', ride(1)) }));
  await world.take();
  expect(await world.rides()).toBe(1);
  expect(await world.mailsAfter(60 * 48)).toEqual([]);
});

real(`a server that goes away in the middle loses nothing${NO_MAIL_SERVER}`, async () => {
  const world = await MailWorld.open();
  const to = await world.address();
  for (const day of [1, 2, 3]) await server.put(await madeMail({ to, files: one(`${day}.gpx`, ride(day)) }));
  const { keep } = world.deps.originals;
  let kept = 0;
  const deps: MailedDeps = {
    ...world.deps,
    originals: {
      keep: async (bytes) => {
        if (++kept === 2) server.cut();
        return keep(bytes);
      },
    },
  };
  await expect(takeMailsOnce(deps, WHOLE_TURN, world.tries)).rejects.toMatchObject({
    code: 'mailbox-failed',
  });
  await world.take();
  expect(await world.rides()).toBe(3);
  expect(await world.mailsAfter(6)).toEqual(['r1@example.org: Your 3 rides came in']);
});

real(
  `a program that ends while it takes a mail takes it again, and tells of it${NO_MAIL_SERVER}`,
  async () => {
    const world = await MailWorld.open();
    await server.put(await madeMail({ to: await world.address(), files: one('a.gpx', ride(1)) }));
    const store = world.deps.store;
    let writes = 0;
    // After the ride is in, and before the mail is done.
    const broken: MailedDeps = {
      ...world.deps,
      store: {
        ...store,
        read: (work) => store.read(work),
        write: (work) => (++writes === 3 ? Promise.reject(new Error('killed')) : store.write(work)),
      },
    };
    await expect(takeMailsOnce(broken, WHOLE_TURN, world.tries)).rejects.toThrow();
    expect(await world.rides()).toBe(1);
    await world.take();
    expect(await world.rides()).toBe(1);
    expect(await world.mailsAfter(6)).toEqual(['r1@example.org: Your ride came in']);
  },
);

real(`a mail that can never be read is left after some tries${NO_MAIL_SERVER}`, async () => {
  const world = await MailWorld.open();
  const to = await world.address();
  await server.put(await madeMail({ to, files: one('bad.gpx', ride(1)) }));
  await server.put(await madeMail({ to, files: one('good.gpx', ride(2)) }));
  const deps: MailedDeps = {
    ...world.deps,
    parts: {
      begin: async () => {
        const part = await world.deps.parts.begin();
        return {
          ...part,
          add: () => (bad() ? Promise.reject(new Error('cut')) : part.add(new Uint8Array())),
        };
      },
    },
  };
  let tries = 0;
  const bad = (): boolean => ++tries <= 3;
  for (let i = 0; i < 3; i++) await expect(takeMailsOnce(deps, WHOLE_TURN, world.tries)).rejects.toThrow();
  await world.take();
  expect([await world.rides(), await world.left()]).toEqual([1, 1]);
  expect(world.logged).toContain('a mail could not be read again and again, and is left');
  // Its rider hears of it, once, and the page of ways counts it.
  await world.mailsAfter(6);
  expect(world.answer().text.replaceAll(/\s+/g, ' ')).toContain(
    'A mail of yours could not be read, even on a second try.',
  );
  const ways = await world.deps.store.read((tx) => listWays(tx, world.deps.clock.now()));
  expect(ways.map(({ rider, mailsLeft }) => [rider, mailsLeft])).toEqual([
    ['r1', 1],
    ['r2', 0],
  ]);
  expect(await world.mailsAfter(60 * 24)).toEqual([]);
});

real(`what is no ride file is told in words, and a picture is not${NO_MAIL_SERVER}`, async () => {
  const world = await MailWorld.open();
  const to = await world.address();
  await server.put(await madeMail({ to, files: one('route.pdf', textBytes('%PDF-1.4')) }));
  await world.take();
  await world.mailsAfter(6);
  expect(world.answer().text).toContain('route.pdf');
  expect(world.answer().text.replaceAll(/\s+/g, ' ')).toContain(
    'It is no ride file: neither FIT nor GPX nor TCX.',
  );
  await server.put(await madeMail({ to, files: one('photo.jpg', textBytes('a picture')) }));
  await world.take();
  expect(await world.mailsAfter(60 * 24)).toEqual(['r1@example.org: Your mail came in']);
  expect(world.answer().text).not.toContain('photo.jpg');
});

real(`a rider stops the answers, by the mail’s own link${NO_MAIL_SERVER}`, async () => {
  const world = await MailWorld.open();
  const to = await world.address();
  await server.put(await madeMail({ to, files: one('a.gpx', ride(1)) }));
  await world.take();
  await world.mailsAfter(6);
  const mail = world.answer();
  expect(mail.headers['List-Unsubscribe']).toContain('/r/stop-answers/');
  const stop = /https:\/\/\S+\/r\/stop-answers\/\S+/.exec(mail.text)![0];
  expect(await world.riders.text(stop)).toContain('Stop these answers');
  await world.riders.post(stop, { 'List-Unsubscribe': 'One-Click' });
  await server.put(await madeMail({ to, files: one('b.gpx', ride(2)) }));
  await world.take();
  expect(await world.rides()).toBe(2);
  expect(await world.mailsAfter(60 * 48)).toEqual([]);
  // Reminders are another matter.
  const riderId = await world.riders.flow.id('rider', 'r1');
  const contact = await world.deps.store.read((tx) => tx.contacts.find(riderId));
  expect(contact?.unsubscribedAt).toBeNull();
  expect(linkOf(mail, 'page')).toContain('/r/page/');
});

real(
  `an address that was given up takes nothing, and forgetting leaves nothing${NO_MAIL_SERVER}`,
  async () => {
    const world = await MailWorld.open();
    const to = await world.address();
    const riderId = await world.riders.flow.id('rider', 'r1');
    await world.deps.store.write((tx) => tx.mailed.revoke(riderId));
    expect(await world.address()).not.toBe(to);
    await server.put(await madeMail({ to, files: one('a.gpx', ride(1)) }));
    await server.put(await madeMail({ to: await world.address(), files: one('b.gpx', ride(2)) }));
    await world.take();
    expect([await world.rides(), await world.left()]).toEqual([1, 1]);
    await world.deps.store.write((tx) => forgetRider(tx, riderId, world.deps.clock.now()));
    expect(await world.deps.store.read((tx) => tx.mailed.lastOf(riderId))).toBeUndefined();
  },
);

real(`nobody whose address is not confirmed is answered${NO_MAIL_SERVER}`, async () => {
  const riders = TWO_RIDERS.riders.map((rider) => ({ ...rider, addressConfirmed: false }));
  const world = await MailWorld.open({ document: { ...TWO_RIDERS, riders } });
  await server.put(await madeMail({ to: await world.address(), files: one('a.gpx', ride(1)) }));
  await world.take();
  expect(await world.rides()).toBe(1);
  expect(await world.mailsAfter(60 * 48)).not.toContainEqual(expect.stringContaining('came in'));
});

real(`a flood of mails to one address is bounded, and told of once${NO_MAIL_SERVER}`, async () => {
  const world = await MailWorld.open();
  const to = await world.address();
  const mails = [];
  for (let i = 0; i < 110; i++) mails.push(await madeMail({ to, id: `${i}@x`, text: String(i) }));
  await server.put(...mails, await madeMail({ to, id: 'last@x', files: one('a.gpx', ride(1)) }));
  await world.take();
  expect(await world.rides()).toBe(0);
  expect(await world.mailsAfter(6)).toEqual(['r1@example.org: Your mail came in']);
  expect(world.answer().text).toContain('Too many mails came in one day.');
});

real(`the first mail to a rider has the address${NO_MAIL_SERVER}`, async () => {
  const world = await MailWorld.open();
  const riderId = await world.riders.flow.id('rider', 'r1');
  const { store, clock, ids } = world.deps;
  await store.write(async (tx) => queueOwnPage(tx, (await tx.contacts.find(riderId))!, clock.now(), ids));
  await deliverOutbox(world.deps);
  const mail = world.riders.sent.find(({ subject }) => subject.includes('your bikes and hours'))!;
  expect(mail.text.replaceAll(/\s+/g, '')).toContain(await world.address());
});

real(`a mail that somebody deletes meanwhile holds up none of the others${NO_MAIL_SERVER}`, async () => {
  const world = await MailWorld.open();
  const to = await world.address();
  for (const day of [1, 2, 3]) await server.put(await madeMail({ to, files: one(`${day}.gpx`, ride(day)) }));
  const { keep } = world.deps.originals;
  let kept = 0;
  const deps: MailedDeps = {
    ...world.deps,
    originals: {
      keep: async (bytes) => {
        if (++kept === 1)
          await server.as(async (client) => {
            await client.mailboxOpen('INBOX');
            await client.messageDelete('2', { uid: true });
          });
        return keep(bytes);
      },
    },
  };
  await takeMailsOnce(deps, WHOLE_TURN, world.tries).catch((error: unknown) =>
    expect(error).toMatchObject({ code: 'mailbox-failed' }),
  );
  await world.take();
  expect(await world.rides()).toBe(2);
  expect(await world.mailsAfter(6)).toEqual(['r1@example.org: Your 2 rides came in']);
});

real(`a full disk leaves no mail behind, however long it lasts${NO_MAIL_SERVER}`, async () => {
  const world = await MailWorld.open();
  await server.put(await madeMail({ to: await world.address(), files: one('a.gpx', ride(1)) }));
  const full: MailedDeps = {
    ...world.deps,
    parts: { begin: () => Promise.reject(new ServiceError('disk-failed', 'There is no room.')) },
  };
  for (let i = 0; i < 6; i++)
    await expect(takeMailsOnce(full, WHOLE_TURN, world.tries)).rejects.toMatchObject({ code: 'disk-failed' });
  await world.take();
  expect([await world.rides(), await world.left()]).toEqual([1, 0]);
});
