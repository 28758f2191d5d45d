/** What became of each mail, by what a relay on this machine did with it, through the real flow and the real client. */
import type { AddressInfo } from 'node:net';
import { SMTPServer } from 'smtp-server';
import { describe, expect, it, onTestFinished } from 'vitest';
import { tryAgainNow } from '../../../src/flow/mail/deliverOutbox.js';
import { smtpMailer } from '../../../src/mail/smtp.js';
import { MINUTE_MS } from '../../../src/units.js';
import { type Behaviour, startRelay } from '../../fixtures/relay.js';
import { DOCUMENT, RiderWorld } from '../riderWorld.js';

const TIMEOUT_MS = 400;

/** A workshop whose mails to the first rider the relay treats so; all others it takes. */
async function sending(does: Behaviour, document: object = DOCUMENT) {
  const relay = await startRelay((to) => (to === 'r1@example.org' ? does : 'take'));
  onTestFinished(() => relay.close());
  const mailer = smtpMailer(relay.url, { timeoutMs: TIMEOUT_MS });
  const world = await RiderWorld.open({ mailer, document });
  await world.beat();
  const riderId = await world.flow.id('rider', 'r1');
  const mail = async () => (await world.mails()).find((one) => one.to === riderId)!;
  const contact = () => world.store.read((tx) => tx.contacts.find(riderId));
  return { relay, world, mail, contact };
}

const toFirst = (relay: { taken: readonly { to: string; messageId: string; raw: string }[] }) =>
  relay.taken.filter((one) => one.to === 'r1@example.org');

describe('a mail', () => {
  it('that the relay takes is handed over, once', async () => {
    const { relay, world, mail } = await sending('take');
    expect(await mail()).toMatchObject({ state: 'handed-over', tries: 1, answer: null });
    await world.beat();
    world.now = '2026-06-10T12:00:00Z';
    await world.beat();
    expect(relay.taken.map((one) => one.to).sort()).toEqual([
      'bench@example.org',
      'r1@example.org',
      'r2@example.org',
    ]);
  });

  it.each([
    ['421 at the recipient', { at: 'rcpt', reply: 421 }],
    ['451 at the recipient', { at: 'rcpt', reply: 451 }],
    ['451 after the data', { at: 'data', reply: 451 }],
    ['nothing at all', 'hang'],
  ] as const)('that is answered with %s waits half an hour and goes again as it was', async (_, does) => {
    const { relay, world, mail, contact } = await sending(does);
    const first = await mail();
    expect(first).toMatchObject({ state: 'waiting', tries: 1 });
    expect(first.nextTryAt - Date.parse('2026-06-10T09:00:00Z')).toBe(30 * MINUTE_MS);
    expect(first.answer).toContain('The mail server did not take the mail for now');
    expect((await contact())?.refusedAt).toBeNull();
    const others = relay.taken.map((one) => one.to).sort();
    expect(others).toEqual(['bench@example.org', 'r2@example.org']);
    world.now = '2026-06-10T09:29:00Z';
    await world.beat();
    expect((await mail()).tries).toBe(1);
    relay.behaviour = () => 'take';
    world.now = '2026-06-10T09:30:00Z';
    await world.beat();
    expect(await mail()).toMatchObject({ state: 'handed-over', tries: 2, messageId: first.messageId });
    expect(toFirst(relay).map((one) => one.messageId)).toEqual([first.messageId]);
  });

  it('is tried at once when a person may have put the relay right, and that counts as no further try', async () => {
    const { relay, world, mail } = await sending({ at: 'rcpt', reply: 451 });
    for (const minute of ['01', '02', '03', '04']) {
      world.now = `2026-06-10T09:${minute}:00Z`;
      await tryAgainNow(world.flow.deps);
      await world.beat();
    }
    expect(await mail()).toMatchObject({ state: 'waiting', tries: 2 });
    relay.behaviour = () => 'take';
    await world.beat();
    expect((await mail()).state).toBe('waiting');
    await tryAgainNow(world.flow.deps);
    await world.beat();
    expect((await mail()).state).toBe('handed-over');
    expect(toFirst(relay)).toHaveLength(1);
  });

  it.each([
    ['550 at the recipient', { at: 'rcpt', reply: 550 }],
    ['554 after the data', { at: 'data', reply: 554 }],
  ] as const)(
    'that is answered with %s is refused for good, and the workshop is told to call',
    async (_, does) => {
      const { relay, world, mail, contact } = await sending(does);
      expect(await mail()).toMatchObject({ state: 'refused', tries: 1 });
      expect((await contact())?.refusedAt).not.toBeNull();
      world.now = '2026-06-11T09:00:00Z';
      await world.beat();
      expect(toFirst(relay)).toEqual([]);
      expect(relay.taken.at(-1)!.raw.replace(/=\r\n/g, '')).toContain(
        'Please call: mail does not reach them',
      );
    },
  );

  it('whose connection drops after the data goes again with the same Message-ID and the same words', async () => {
    const { relay, world, mail, contact } = await sending('drop-after-data');
    expect(await mail()).toMatchObject({ state: 'waiting', tries: 1 });
    expect((await contact())?.refusedAt).toBeNull();
    relay.behaviour = () => 'take';
    world.now = '2026-06-10T09:30:00Z';
    await world.beat();
    expect(await mail()).toMatchObject({ state: 'handed-over', tries: 2 });
    const [lost, again, ...more] = toFirst(relay);
    expect(more).toEqual([]);
    expect(again!.messageId).toBe(lost!.messageId);
    expect(again!.raw).toBe(lost!.raw);
  });

  it('is given up after five days of tries, and then somebody is to call', async () => {
    const { world, mail, contact } = await sending({ at: 'rcpt', reply: 451 });
    let now = Date.parse('2026-06-10T09:00:00Z');
    for (let i = 0; i < 60 && (await mail()).state === 'waiting'; i++) {
      now = (await mail()).nextTryAt;
      world.now = new Date(now).toISOString();
      await world.beat();
    }
    expect(await mail()).toMatchObject({ state: 'refused' });
    // Source: RFC 5321 4.5.4.1: two tries in the first hour, then every two or three hours, four to five days.
    expect((await mail()).tries).toBeGreaterThan(40);
    expect(now - Date.parse('2026-06-10T09:00:00Z')).toBeGreaterThan(4 * 24 * 60 * MINUTE_MS);
    expect((await contact())?.refusedAt).not.toBeNull();
  });
});

describe('a relay that does not work with us', () => {
  it('whose TLS nobody vouches for: mails wait, and no rider is blamed', async () => {
    const server = new SMTPServer({
      authOptional: true,
      disabledCommands: ['AUTH'],
      disableReverseLookup: true,
    });
    server.on('error', () => undefined);
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    onTestFinished(() => new Promise<void>((resolve) => server.close(() => resolve())));
    const { port } = server.server.address() as AddressInfo;
    const world = await RiderWorld.open({ mailer: smtpMailer(`smtp://127.0.0.1:${port}`) });
    await world.beat();
    const mails = await world.mails();
    expect(mails.map((mail) => mail.state)).toEqual(mails.map(() => 'waiting'));
    for (const mail of mails) expect(mail.answer).toContain('does not work with us');
    const contacts = await world.store.read((tx) => tx.contacts.list());
    expect(contacts.map((one) => one.refusedAt)).toEqual([null, null]);
  });

  it('that hangs is left alone after three mails, so that the folder and the pages go on', async () => {
    const numbers = Array.from({ length: 8 }, (_, i) => i + 1);
    const many = {
      ...DOCUMENT,
      riders: numbers.map((n) => ({ ...DOCUMENT.riders[0]!, id: `r${n}`, email: `r${n}@example.org` })),
      bikes: numbers.map((n) => ({ id: `b${n}`, rider: `r${n}`, name: `Bike ${n}`, type: 'trail' })),
      units: numbers.map((n) => ({ ...DOCUMENT.units[0]!, tag: `F-${n}` })),
      fittings: numbers.map((n) => ({ unit: `F-${n}`, bike: `b${n}`, from: '2026-01-01' })),
    };
    const relay = await startRelay(() => 'hang');
    onTestFinished(() => relay.close());
    // So short a patience takes a busy machine's answer for none: it is for the relay that hangs alone.
    let mailer = smtpMailer(relay.url, { timeoutMs: 100 });
    const world = await RiderWorld.open({
      mailer: { deliver: (...mail) => mailer.deliver(...mail) },
      document: many,
    });
    await world.beat();
    expect(relay.connections()).toBe(3);
    await world.beat();
    expect(relay.connections()).toBe(6);
    relay.behaviour = () => 'take';
    mailer = smtpMailer(relay.url);
    await world.beat();
    world.now = '2026-06-10T09:31:00Z';
    await world.beat();
    expect(new Set(relay.taken.map((one) => one.messageId)).size).toBe(9);
    expect(relay.taken).toHaveLength(9);
  });
});
