import SQLite from 'better-sqlite3';
import { expect, test, vi } from 'vitest';
import { setBegun } from '../../src/flow/begin.js';
import { checkLedger } from '../../src/flow/carry/checkLedger.js';
import type { Deps } from '../../src/flow/deps.js';
import { refreshAllDue } from '../../src/flow/due/refreshDue.js';
import { setWeights } from '../../src/flow/facts/setWeights.js';
import { deliverOutbox } from '../../src/flow/mail/deliverOutbox.js';
import { listCalls } from '../../src/flow/mail/listCalls.js';
import { queueNotices } from '../../src/flow/mail/queueNotices.js';
import { ingestFile } from '../../src/flow/take/ingestFile.js';
import { mailWriter } from '../../src/mail/writer.js';
import type { OutgoingMail } from '../../src/ports/mailer.js';
import type { Store } from '../../src/ports/store.js';
import { openStore } from '../../src/store/open.js';
import { filePorts } from '../fixtures/filePorts.js';
import { gpxText, straightTrack, textBytes } from '../fixtures/gpxFile.js';
import { signedIn } from '../web/visitor.js';
import { DOCUMENT, NOW, webWorld } from '../web/webWorld.js';

const clock = { now: () => NOW };

/** How the database goes about each statement that some work asks of a file. */
async function plansOf(path: string, work: () => Promise<unknown>): Promise<Map<string, string>> {
  const asked = vi.spyOn(SQLite.prototype, 'prepare');
  await work();
  const texts = new Set(asked.mock.calls.map(([text]) => text));
  asked.mockRestore();
  const plain = new SQLite(path, { readonly: true });
  const plans = new Map<string, string>();
  for (const text of texts) {
    if (!/^\s*(select|insert|update|delete)/i.test(text)) continue;
    const marks = Array.from({ length: text.split('?').length - 1 }, () => '');
    const steps = plain.prepare(`explain query plan ${text}`).all(...marks) as { detail: string }[];
    plans.set(text, steps.map(({ detail }) => detail).join('\n'));
  }
  plain.close();
  return plans;
}

const takeRide = (store: Store) => async (): Promise<void> => {
  const bikeId = await store.read(async (tx) => (await tx.handles.find('bike', 'b1'))!);
  const bytes = textBytes(gpxText([{ segments: [straightTrack(NOW - 7_200_000, 600)] }]));
  const handed = { name: 'a.gpx', bytes, riderId: null, bikeId, rule: 'chosen' as const };
  const taken = await ingestFile({ ...filePorts(), store, clock }, handed);
  expect(taken.outcome).toBe('counted');
};

/** Rows found by their workshop alone are all the rows there are, but in an index that holds only a few. */
const READ_WHOLE =
  /^(?:SCAN (?!\d+-ROW VALUES)|SEARCH \S+ USING (?:COVERING )?INDEX (?!contact_refused|ride_asking_|fact_of_fleet|fact_of_loan)\S+ \(workshop_id=\?\))/m;

test('a ride is taken, looked up and counted without a table that is read whole', async () => {
  const { path, store } = await webWorld();
  const plans = await plansOf(path, takeRide(store));
  expect(plans.size).toBeGreaterThan(20);
  const whole = [...plans].filter(([text, plan]) => READ_WHOLE.test(plan) && !/max\("seq"\)/.test(text));
  expect(whole).toEqual([]);
});

test('the last fact is the end of an index', async () => {
  const { path, store } = await webWorld();
  const plans = await plansOf(path, () => store.read((tx) => tx.facts.lastSeq()));
  expect([...plans.values()]).toEqual([expect.stringContaining('fact_by_seq')]);
});

test('to check, to weigh anew and to page through all rides, each row is found by its key', async () => {
  const { path, store } = await webWorld();
  await takeRide(store)();
  const entry = { by: 'a test', at: NOW };
  const plans = await plansOf(path, async () => {
    await checkLedger(store);
    await store.write((tx) => setWeights(tx, { smooth: 0.6, typical: 1, rough: 2 }, entry));
    await refreshAllDue({ store, clock });
  });
  const keyed = [...plans].filter(([text]) =>
    /"(?:id|reading_id|file_id|ride_id|unit_id)" (?:in|=|>)/.test(text),
  );
  expect(keyed.length).toBeGreaterThan(5);
  for (const [text, plan] of keyed) expect(plan, text).not.toMatch(READ_WHOLE);
});

test('a mail to a rider is written from what it shows, and no table is read whole', async () => {
  const { path, store } = await webWorld();
  await refreshAllDue({ store, clock });
  const ids = { uuid: () => crypto.randomUUID() };
  await store.write((tx) => setBegun(tx, true, { by: 'a test', at: NOW }));
  await queueNotices({ store, clock, ids });
  const sent: string[] = [];
  const mailer = { deliver: async (mail: OutgoingMail) => void sent.push(mail.to.address) };
  const log = { info: () => undefined, error: () => undefined };
  const deps = { ...filePorts(), store, clock, ids, writer: mailWriter, mailer, log } as unknown as Deps;
  const plans = await plansOf(path, () => deliverOutbox(deps));
  expect(sent.length).toBeGreaterThan(0);
  // The workshop's own list tells of all units: what riders said of later is read for it, and riders are counted.
  const ofList = /^select (?:\* from "later"|count\(\*\) as "count" from "contact")/;
  const whole = [...plans].filter(
    ([text, plan]) => READ_WHOLE.test(plan) && !COUNTED.test(text) && !ofList.test(text),
  );
  expect(whole).toEqual([]);
});

test('whom to call is asked of the units of which there is something to tell, and of no other', async () => {
  const { path, store } = await webWorld();
  await refreshAllDue({ store, clock });
  const plans = await plansOf(path, () => store.read((tx) => listCalls(tx, NOW)));
  const ofMany = [...plans].filter(([text]) => /from "?(?:standing|notice|mail|contact|fact)"?\b/.test(text));
  expect(ofMany.length).toBeGreaterThan(4);
  for (const [text, plan] of ofMany) expect(plan, text).not.toMatch(READ_WHOLE);
});

test('no table is read to its end for what is in force or due, also once the database weighed its indexes', async () => {
  const { path, store } = await webWorld();
  await store.close();
  const plain = new SQLite(path);
  plain.exec('analyze');
  plain.close();
  const again = await openStore(path, NOW);
  const plans = await plansOf(path, () =>
    again.read(async (tx) => {
      await tx.facts.list('unit');
      await tx.standings.summary();
      await tx.standings.page({ states: ['in-time', 'due'], from: 0, most: 60 });
      await tx.rides.countAsking();
    }),
  );
  await again.close();
  expect(plans.size).toBeGreaterThanOrEqual(4);
  for (const plan of plans.values()) expect(plan).not.toMatch(/^SCAN (?!.*USING)/m);
  expect([...plans.values()].join('\n')).toContain('fact_replaced_once');
});

/**
 * What is read to its end on purpose: counts of units by state, from an index alone; and what each process said last, the
 * migrations and the clock, which are few.
 */
const COUNTED =
  /^select (?:"state", count\(\*\)|.* from (?:"heartbeat"|"clock_word"|"mailbox"|kysely_migration))/;

/** With a team. */
const TEAM = {
  ...DOCUMENT,
  fleets: [{ id: 't1', name: 'Team Bramblewick' }],
  bikes: [...DOCUMENT.bikes, { id: 'x1', rider: null, fleet: 't1', name: 'Race bike', type: 'gravity' }],
};

test.each([
  ...['/', '/due', '/due?state=due&page=2', '/units/F-0001', '/bikes/b1'],
  ...['/fleets', '/fleets/t1', '/tray', '/mails', '/mails?state=waiting'],
])('of no table the page %s reads all rows of the workshop', async (address) => {
  const { app, path } = await webWorld({ document: TEAM });
  const visitor = await signedIn(app);
  const plans = await plansOf(path, async () => expect((await visitor.get(address)).status).toBe(200));
  expect(plans.size).toBeGreaterThan(3);
  const whole = [...plans].filter(([text, plan]) => READ_WHOLE.test(plan) && !COUNTED.test(text));
  // In its own order, until the page is full.
  const ordered = whole.filter(([, plan]) =>
    /USING INDEX (?:standing_first_in_order \(workshop_id=\? AND is_first=\?|contact_by_name \(workshop_id=\?)\)$/.test(
      plan,
    ),
  );
  expect(whole.filter((one) => !ordered.includes(one))).toEqual([]);
  expect(ordered.map(([text]) => /limit \?/.test(text))).toEqual(ordered.map(() => true));
});

test('whom and what people look for is found by an index, whatever the number of words', async () => {
  const { app, path } = await webWorld();
  const owner = await signedIn(app);
  const plans = await plansOf(path, async () => {
    for (const q of ['lanternby', 'pia lantern', 'F-00', 'zebra']) await owner.get(`/find?q=${q}`);
  });
  const finding = [...plans].filter(([text]) => text.includes('find_word'));
  expect(finding.length).toBeGreaterThan(1);
  for (const [text, plan] of finding)
    expect(plan, text).toMatch(/find_word_pk|PRIMARY KEY \(workshop_id=\? AND word>/);
  // The few that were found first are looked through for the other parts.
  expect([...plans].filter(([, plan]) => READ_WHOLE.test(plan.replace('SCAN one', '')))).toEqual([]);
});
