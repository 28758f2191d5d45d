/** What several workers do with one outbox; on a file and on a server alike. */

import { expect, it } from 'vitest';
import { NO_CAUSE } from '../../src/core/notices/notice/notice.js';
import type { Store } from '../../src/ports/store.js';
import { openEngine, openStore } from '../../src/store/open.js';
import { WORKER } from '../../src/store/worker.js';
import { day, instant } from '../../src/units.js';
import { newPlace, serverUrl } from '../fixtures/storePlace.js';

const NOW = instant(Date.parse('2026-06-10T09:00:00Z'));
const MINUTE_MS = 60_000;

async function withMails(count: number): Promise<{ place: string; store: Store }> {
  const place = await newPlace();
  const store = await openStore(place, NOW);
  await store.write(async (tx) => {
    for (let i = 0; i < count; i += 1)
      await tx.mails.add({
        messageId: `<${i}@example.org>`,
        mail: 'reminder',
        day: day('2026-06-10'),
        sendAt: NOW,
        to: `r${i}`,
        cause: NO_CAUSE,
        queuedAt: NOW,
        nextTryAt: NOW,
      });
  });
  return { place, store };
}

/** Says of every claim that another machine's worker made it, so long ago. */
async function handOver(place: string, minutesAgo: number): Promise<void> {
  const engine = openEngine(place);
  await engine.writing
    .updateTable('mail')
    .set({ claimed_by: 'elsewhere 1 x' })
    .set((of) => ({ claimed_until_ms: of('claimed_until_ms', '-', minutesAgo * MINUTE_MS) }))
    .where('claimed_by', 'is not', null)
    .execute();
  await engine.close();
}

const claim = (store: Store) => store.write((tx) => tx.mails.claimNext(NOW));

it('a mail that another machine has claimed is nobody else’s until the claim runs out', async () => {
  const { place, store } = await withMails(1);
  const claimed = await claim(store);
  expect(claimed?.messageId).toBe('<0@example.org>');
  // A worker whose own work failed half-way takes it up again.
  expect((await claim(store))?.id).toBe(claimed!.id);
  await handOver(place, 0);
  expect(await claim(store)).toBeUndefined();
  await handOver(place, 9);
  expect(await claim(store)).toBeUndefined();
  await handOver(place, 2);
  expect((await claim(store))?.id).toBe(claimed!.id);
  await store.close();
});

it('a worker of this machine that has ended keeps no claim', async () => {
  const { place, store } = await withMails(1);
  const { id } = (await claim(store))!;
  const [host] = WORKER.split(' ');
  const engine = openEngine(place);
  // The number of this process, which an earlier one had; then that of a process which lives: the first of all.
  for (const [worker, isFree] of [
    [`${host} ${process.pid} earlier`, true],
    [`${host} 1 init`, false],
  ] as const) {
    await engine.writing.updateTable('mail').set({ claimed_by: worker }).execute();
    expect((await claim(store))?.id, worker).toBe(isFree ? id : undefined);
  }
  await engine.close();
  await store.close();
});

it('a released mail is anybody’s', async () => {
  const { place, store } = await withMails(1);
  const { id } = (await claim(store))!;
  await handOver(place, 0);
  await store.write((tx) => tx.mails.release(id));
  expect((await claim(store))?.id).toBe(id);
  await store.close();
});

it('of many who claim at once each gets another', async () => {
  const { place, store } = await withMails(6);
  const others = await Promise.all(Array.from({ length: 3 }, () => openStore(place, NOW)));
  const ids: string[] = [];
  // One process is one worker, so each claim is handed to another before the next.
  for (const one of [...others, ...others]) {
    const mail = await claim(one);
    ids.push(mail!.id);
    await handOver(place, 0);
  }
  expect(new Set(ids).size).toBe(6);
  expect(await claim(store)).toBeUndefined();
  for (const one of [...others, store]) await one.close();
});

it.runIf(serverUrl !== null)('workers on a server claim without waiting for one another', async () => {
  const { place, store } = await withMails(2);
  const engine = openEngine(place);
  const held = engine.writing.transaction().execute(async (tx) => {
    const row = await tx
      .selectFrom('mail')
      .select('id')
      .orderBy('id')
      .limit(1)
      .forUpdate()
      .executeTakeFirstOrThrow();
    const got = await claim(store);
    expect(got?.id).not.toBe(row.id);
    return got!.id;
  });
  expect(await held).toBeDefined();
  await engine.close();
  await store.close();
});
