import { expect, test } from 'vitest';
import { judgeBefore, setBegun } from '../../src/flow/begin.js';
import { refreshAllDue } from '../../src/flow/due/refreshDue.js';
import { addService, markUnit } from '../../src/flow/facts/enterFacts.js';
import { deliverOutbox } from '../../src/flow/mail/deliverOutbox.js';
import { queueNotices } from '../../src/flow/mail/queueNotices.js';
import { findWorkshop } from '../../src/flow/settings.js';
import type { OutgoingMail } from '../../src/ports/mailer.js';
import { day, instant } from '../../src/units.js';
import { FlowWorld } from './flowWorld.js';
import { DOCUMENT, NOW, withWorkshop } from './riderWorld.js';

const LATER = '2026-06-11T09:00:00Z';
const entryAt = (time: string) => ({ by: 'owner', at: instant(Date.parse(time)) });

const openWorld = async (document: object = withWorkshop({ remindersFrom: null }), keepsOnly = false) => {
  const world = await FlowWorld.open(NOW, document);
  const sent: OutgoingMail[] = [];
  const written: OutgoingMail[] = [];
  const relay = { deliver: async (mail: OutgoingMail) => void sent.push(mail) };
  const files = new Map<string, OutgoingMail>();
  const folder = {
    keepsOnly: true,
    deliver: async (mail: OutgoingMail) => {
      written.push(mail);
      files.set(mail.messageId, mail);
    },
    remove: async (messageId: string) => void files.delete(messageId),
  };
  const depsWith = (keeps: boolean) => ({ ...world.deps, mailer: keeps ? folder : relay });
  const decide = async (keeps = keepsOnly) => {
    await refreshAllDue(world.deps);
    return queueNotices(depsWith(keeps));
  };
  const deliver = (keeps = keepsOnly) => deliverOutbox(depsWith(keeps));
  return { world, store: world.deps.store, sent, written, files, decide, deliver };
};
const statesOf = async ({ store }: Awaited<ReturnType<typeof openWorld>>) =>
  (await store.read((tx) => tx.mails.list())).map(
    ({ mail, to, state }) => `${mail} ${to === 'workshop' ? to : 'rider'} ${state}`,
  );

test('a new workshop is quiet until its owner begins, and rests again when told', async () => {
  const of = await openWorld(DOCUMENT);
  await of.store.write((tx) => setBegun(tx, false, entryAt(NOW)));
  const held = await of.decide();
  expect(held.length).toBeGreaterThan(3);
  expect(new Set(held.map(({ decision, reason }) => `${decision}: ${reason}`))).toEqual(
    new Set(['hold: reminders have not begun']),
  );
  expect(await of.store.write((tx) => setBegun(tx, true, entryAt(NOW)))).not.toBeNull();
  expect(await of.store.write((tx) => setBegun(tx, true, entryAt(NOW)))).toBeNull();
  expect((await of.decide()).filter(({ decision }) => decision === 'queue').length).toBeGreaterThan(3);
  await of.store.write((tx) => setBegun(tx, false, entryAt(NOW)));
  const withdrawn = (await of.decide()).filter(({ decision }) => decision === 'withdraw');
  expect(withdrawn.map(({ reason }) => reason)).toContain('reminders have not begun');
});

test('stop riding goes before anything has begun', async () => {
  const of = await openWorld();
  await of.store.write(async (tx) => {
    const unitId = (await tx.handles.find('unit', 'F-1'))!;
    await markUnit(tx, unitId, true, 'crack at the crown', entryAt(NOW));
  });
  await of.decide();
  await of.deliver();
  expect(of.sent.map(({ to }) => to.address).sort()).toEqual(['bench@example.org', 'r1@example.org']);
});

test('without a relay a mail is written once and not sent, and decided anew once there is one', async () => {
  const of = await openWorld(DOCUMENT, true);
  await of.decide();
  await of.deliver();
  const files = of.written.length;
  expect(files).toBeGreaterThan(1);
  expect(new Set((await statesOf(of)).map((text) => text.split(' ')[2]))).toEqual(new Set(['not-sent']));
  of.world.now = LATER;
  const again = await of.decide();
  expect(new Set(again.map(({ decision }) => decision))).toEqual(new Set(['already']));
  await of.deliver();
  expect(of.written).toHaveLength(files);

  await of.decide(false);
  await of.deliver(false);
  expect(of.sent.map(({ to }) => to.address).sort()).toEqual([
    'bench@example.org',
    'r1@example.org',
    'r2@example.org',
  ]);
  const told = await of.store.read((tx) => tx.notices.list());
  expect(
    told.filter(({ withdrawnAt }) => withdrawnAt === null).every(({ occasion }) => occasion === 'first'),
  ).toBe(true);
});

test('what is only written down is written anew when a part of it is gone, and taken away with its last reason', async () => {
  const of = await openWorld(DOCUMENT, true);
  await of.decide();
  await of.deliver();
  const of1 = [...of.files.values()].find(({ to }) => to.address === 'r1@example.org')!;
  const [digest] = [...of.files.values()].filter(({ subject }) => subject.startsWith('Services, '));
  expect(digest?.text).toContain('F-1');
  await of.store.write(async (tx) => {
    const unitId = (await tx.handles.find('unit', 'F-1'))!;
    const service = { unitId, serviceKind: 'lower-leg', on: day('2026-06-10'), by: 'here' } as const;
    await addService(tx, { ...service, findings: null, note: null }, entryAt(NOW));
  });
  await of.decide();
  await of.deliver();
  expect(of.files.has(of1.messageId)).toBe(false);
  const anew = of.files.get(digest!.messageId);
  expect(anew?.text).not.toContain('F-1');
  expect(anew?.text).toContain('F-2');
  expect(await statesOf(of)).toContain('reminder rider withdrawn');
});

test.each([
  ['a relay took a mail', false, '2026-06-10'],
  ['all mails lie in the folder', true, null],
])('a store from before the rule: %s', async (_, wasKeptOnly, from) => {
  const of = await openWorld(DOCUMENT);
  await of.decide();
  await of.deliver();
  await of.store.write(async (tx) => {
    const fact = (await findWorkshop(tx))!;
    const { remindersFrom: _from, ...body } = fact.body;
    await tx.facts.replace(fact.id, { kind: 'workshop', body, ...entryAt(NOW) });
  });
  await of.store.write((tx) => judgeBefore(tx, () => wasKeptOnly, entryAt(NOW)));
  expect((await of.store.read(findWorkshop))?.body.remindersFrom).toBe(from);
  const isSent = (await statesOf(of)).every((text) => text.endsWith('handed-over'));
  expect(isSent).toBe(!wasKeptOnly);
});
