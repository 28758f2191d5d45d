import SQLite from 'better-sqlite3';
import { expect, test, vi } from 'vitest';
import { openStore } from '../../src/store/open.js';
import { NOW, webWorld } from '../web/webWorld.js';

/** The statements that some work asks of a file, and how the database goes about each. */
async function plansOf(path: string, work: () => Promise<unknown>): Promise<string[]> {
  const asked = vi.spyOn(SQLite.prototype, 'prepare');
  await work();
  const texts = asked.mock.calls.map(([text]) => text).filter((text) => /^\s*select/i.test(text));
  asked.mockRestore();
  const plain = new SQLite(path, { readonly: true });
  const plans = texts.map((text) => {
    const marks = Array.from({ length: text.split('?').length - 1 }, () => '');
    const steps = plain.prepare(`explain query plan ${text}`).all(...marks) as { detail: string }[];
    return steps.map(({ detail }) => detail).join('\n');
  });
  plain.close();
  return plans;
}

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
  expect(plans.length).toBeGreaterThanOrEqual(4);
  for (const plan of plans) expect(plan).not.toMatch(/^SCAN (?!.*USING)/m);
  expect(plans.join('\n')).toContain('fact_replaced_once');
});
