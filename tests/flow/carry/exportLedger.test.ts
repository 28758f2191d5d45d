/** The whole ledger as a file, taken back into an empty store with every hour in its place. */

import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readDocument } from '../../../src/cli/importSchema.js';
import { checkLedger } from '../../../src/flow/carry/checkLedger.js';
import { importLedger } from '../../../src/flow/carry/importLedger.js';
import { listDue } from '../../../src/flow/due/listDue.js';
import { refreshAllDue } from '../../../src/flow/due/refreshDue.js';
import { listTray } from '../../../src/flow/rides/listTray.js';
import { COPIED } from '../../../src/ports/copies.js';
import type { Store } from '../../../src/ports/store.js';
import { openStore } from '../../../src/store/open.js';
import { instant } from '../../../src/units.js';
import { allRides } from '../../fixtures/allRides.js';
import { inWords } from '../../fixtures/inWords.js';
import { scratchFolder } from '../../fixtures/program.js';
import { runHere } from '../../fixtures/runHere.js';
import { takeDemo } from '../../samples/takeDemo.js';

const TODAY = '2025-06-20';
const NOW = instant(Date.parse(`${TODAY}T08:00:00Z`));
const ENTRY = { by: 'test', at: NOW };
type Document = Record<string, unknown> & {
  ledger: { sha256: string; schema: string; rows: Record<string, object[]> };
};

async function storeIn(folder: string): Promise<Store> {
  return openStore(join(folder, 'stanchion.db'), NOW);
}

/** Everything that hangs on the ledger. */
async function seen(store: Store) {
  await refreshAllDue({ store, clock: { now: () => NOW } });
  return store.read(async (tx) => ({
    due: await listDue(tx, NOW),
    tray: await listTray(tx),
    rides: await allRides(tx),
    contacts: await tx.contacts.list(),
    facts: await tx.facts.count(),
  }));
}

async function take(store: Store, document: unknown): Promise<readonly string[]> {
  const read = readDocument(document);
  if ('wrong' in read) throw new Error(JSON.stringify(read.wrong));
  return (await store.write((tx) => importLedger(tx, read.document, ENTRY))).ids;
}

describe('the demo, exported', () => {
  let folder = '';
  let document = {} as Document;
  let from = {} as Awaited<ReturnType<typeof seen>>;
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'stanchion-export-'));
    await takeDemo(join(folder, 'stanchion.db'), TODAY, NOW);
    const store = await storeIn(folder);
    // History of every sort: a correction, a void, an answer, a reader who wants no reminders.
    await store.write(async (tx) => {
      const [hours] = await tx.facts.list('service');
      await tx.facts.replace(hours!.id, {
        kind: 'service',
        body: { ...hours!.body, note: 'oil grey' },
        ...ENTRY,
        why: 'left out',
      });
      const [rider] = await tx.contacts.list();
      await tx.contacts.put({ ...rider!, unsubscribedAt: NOW });
    });
    from = await seen(store);
    await store.close();
    const file = join(folder, 'export.json');
    const { status } = await runHere(['export', file, '--data', folder, '--now', `${TODAY}T08:00:00Z`]);
    expect(status).toBe(0);
    document = JSON.parse(readFileSync(file, 'utf8'));
  }, 60_000);

  afterAll(() => rmSync(folder, { recursive: true }));

  it('holds what is in force as an import file does, and every row of the ledger', () => {
    expect(Object.keys(document)).toEqual([
      'workshop',
      'fleets',
      'riders',
      'bikes',
      'serviceKinds',
      'units',
      'sheets',
      'intervals',
      'fittings',
      'memberships',
      'gone',
      'services',
      'hours',
      'unrecorded',
      'declared',
      'races',
      'parts',
      'shelf',
      'ledger',
    ]);
    expect(Object.keys(document.ledger.rows)).toEqual([...COPIED]);
    expect(document.ledger.rows.fact).toHaveLength(from.facts);
    expect(document.ledger.rows.reading!.length).toBeGreaterThan(90);
  });

  it('comes back into an empty store with all hours, states, days, questions and contacts equal; twice adds nothing', async () => {
    const store = await storeIn(scratchFolder());
    const ids = await take(store, document);
    expect(ids).toHaveLength(from.facts);
    expect(await seen(store)).toEqual(from);
    expect(await checkLedger(store)).toMatchObject({ ok: true, faults: [] });
    expect(await take(store, document)).toEqual([]);
    expect(await seen(store)).toEqual(from);
    await store.close();
  });

  it('comes back as what it was read from, byte for byte', async () => {
    const other = scratchFolder();
    const store = await storeIn(other);
    await take(store, document);
    await store.close();
    const file = join(other, 'again.json');
    await runHere(['export', file, '--data', other, '--now', `${TODAY}T08:00:00Z`]);
    expect(readFileSync(file, 'utf8')).toBe(readFileSync(join(folder, 'export.json'), 'utf8'));
  });

  it('without its ledger part is an import file of what is in force', async () => {
    const { ledger: _, ...plain } = document;
    const store = await storeIn(scratchFolder());
    await take(store, plain);
    const taken = await store.read(async (tx) => (await tx.facts.list('service')).length);
    expect(taken).toBe((plain.services as object[]).length);
    await store.close();
  });

  it('that was changed, cut or made by another version is refused, and so is another ledger’s', async () => {
    const store = await storeIn(scratchFolder());
    const changed = structuredClone(document);
    Object.assign(changed.ledger.rows.fact![0]!, { recorded_by: 'somebody else' });
    expect(readDocument(changed)).toMatchObject({
      wrong: [{ path: ['ledger'], message: expect.stringMatching(/was changed/) }],
    });
    const cut = structuredClone(document);
    cut.ledger.rows.reading!.pop();
    expect(readDocument(cut)).toMatchObject({ wrong: [{ path: ['ledger'] }] });
    const other = { ...document, ledger: { ...document.ledger, schema: '0099_other' } };
    await expect(inWords(take(store, other))).rejects.toThrow(/made by another version \(0099_other/);
    const { ledger: _, ...plain } = document;
    await take(store, plain);
    await expect(inWords(take(store, document))).rejects.toThrow(/a ledger of its own/);
    await store.close();
  });
});

describe('a newer export of the same ledger', () => {
  it('brings what is new, and is refused where both were changed since', async () => {
    const [one, other] = [scratchFolder(), scratchFolder()];
    const at = ['--now', `${TODAY}T08:00:00Z`];
    const run = (folder: string, ...args: string[]) => runHere([...args, '--data', folder, ...at]);
    const start = join(one, 'start.json');
    const workshop = { id: 'w1', name: 'Test bench', timeZone: 'Europe/Lisbon', openDays: ['mon'] };
    writeFileSync(start, JSON.stringify({ workshop, units: [{ tag: 'F-1', unitKind: 'fork' }] }));
    expect((await run(one, 'import', start)).status).toBe(0);
    const exported = async (from: string, name: string): Promise<string> => {
      const file = join(from, name);
      expect((await run(from, 'export', file)).status).toBe(0);
      return file;
    };
    expect((await run(other, 'import', await exported(one, 'a.json'))).status).toBe(0);
    await run(one, 'service', 'F-1', 'full', '--on', '2025-06-01');
    expect((await run(other, 'import', await exported(one, 'b.json'), '--json')).rows).toMatchObject([
      { ids: [expect.any(String)] },
    ]);
    await run(one, 'mark', 'F-1', 'stop', '--why', 'bent');
    await run(other, 'bench', 'F-1', 'in');
    const refused = await run(other, 'import', await exported(one, 'c.json'));
    expect([refused.status, refused.stderr]).toEqual([
      1,
      expect.stringMatching(/contradicts what is in this data folder/),
    ]);
    expect((await run(other, 'check', '--json')).rows).toMatchObject([{ ok: true }]);
  });
});
