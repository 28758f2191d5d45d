import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { makeScenario } from '../../samples/scenario.js';
import { STATES } from '../../src/core/tokens.js';
import { runProgram, scratchFolder, startProgram } from '../fixtures/program.js';

/** A Wednesday, when the invented workshop is open. */
const AT = ['--now', '2025-06-18T12:00:00Z'];

it('the demo prints its due list and two whole mails, shows every state, and its ledger is sound', () => {
  const data = join(scratchFolder(), 'demo');
  const { status, stdout } = runProgram(['demo', '--once', '--data', data, ...AT]);
  expect(status).toBe(0);
  expect(stdout).toMatch(/A mail to a rider/);
  expect(stdout).toMatch(/The workshop’s mail of the day/);
  expect(stdout).toMatch(/Terrain hours \(an estimate\)|estimate/);
  expect(existsSync(join(data, 'outbox'))).toBe(true);

  const due = runProgram(['due', '--json', '--data', data, '--now', '2025-06-18T08:00:00Z']).rows;
  expect(new Set(due.map((row) => row.state))).toEqual(new Set(STATES));
  for (const { unit, serviceKind, state, limit } of makeScenario('2025-06-18').expected) {
    const row = due.find((one) => one.unit === unit && one.serviceKind === serviceKind);
    expect(row, `${unit} ${serviceKind}`).toMatchObject({ state, ...(limit === undefined ? {} : { limit }) });
  }
  expect(new Set(due.map((row) => row.limit))).toEqual(
    new Set(['terrain-hours', 'moving-hours', 'months', 'none']),
  );
  expect(runProgram(['check', '--json', '--data', data]).rows).toMatchObject([{ ok: true }]);
});

it('the demo serves its page, with an account that can sign in', async () => {
  const data = join(scratchFolder(), 'demo');
  const { firstLine, stop } = await startProgram(['demo', '--json', '--data', data, ...AT], { PORT: '0' });
  const { url, account, password } = JSON.parse(firstLine) as Record<string, string>;
  const page = await fetch(url!, { redirect: 'follow' });
  expect(page.status).toBe(200);
  const markup = await page.text();
  expect(markup).toMatch(/type="password"/);
  expect([account, password?.length]).toEqual(['owner', 12]);
  expect(await stop()).toBe(0);
});
