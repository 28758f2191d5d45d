import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it, vi } from 'vitest';
import { scratchFolder } from '../fixtures/program.js';
import { runHere } from '../fixtures/runHere.js';

const DOCUMENT = {
  workshop: { id: 'w1', name: 'Tumbledown Suspension Bench', timeZone: 'Europe/Lisbon', openDays: ['tue'] },
  fleets: [{ id: 't1', name: 'Team Bramblewick' }],
};

it('accounts are made, listed, given another password and removed; one owner always stays', {
  timeout: 180_000,
}, async () => {
  vi.stubEnv('STANCHION_PASSWORD', 'four plain words here');
  const data = scratchFolder();
  const run = (...args: string[]) => runHere([...args, '--data', data, '--json']);
  expect((await run('setup')).status).toBe(0);
  const file = join(data, 'w.json');
  writeFileSync(file, JSON.stringify(DOCUMENT));
  expect((await run('import', file)).status).toBe(0);
  expect((await run('account', 'Wim', '--role', 'mechanic', '--fleet', 't1')).rows[0]).toMatchObject({
    did: 'account made',
  });
  expect((await run('account', 'Bea', '--role', 'technician')).status).toBe(0);
  vi.stubEnv('STANCHION_PASSWORD', 'tumbledown-2026');
  expect((await run('account', 'Bea', '--password')).status).toBe(1);
  vi.stubEnv('STANCHION_PASSWORD', 'four plain words here');
  expect((await run('accounts')).rows).toEqual([
    { name: 'Bea', role: 'technician', fleet: null },
    { name: 'Wim', role: 'mechanic', fleet: 't1' },
    { name: 'owner', role: 'owner', fleet: null },
  ]);
  expect((await run('account', 'Wim', '--password')).status).toBe(0);
  expect((await run('account', 'Wim', '--sign-out')).status).toBe(0);
  expect((await run('account', 'Wim', '--remove')).status).toBe(0);
  for (const [args, status] of [
    [['account', 'owner', '--remove'], 1],
    [['account', 'Wim', '--password'], 1],
    [['account', 'Nan', '--role', 'king'], 2],
    [['account', 'Bea'], 2],
  ] as const)
    expect((await run(...args)).status, args.join(' ')).toBe(status);
  expect((await run('accounts')).rows).toHaveLength(2);
});

it('what is refused says what to do', { timeout: 180_000 }, async () => {
  vi.stubEnv('STANCHION_PASSWORD', 'four plain words here');
  const data = scratchFolder();
  const run = (...args: string[]) => runHere([...args, '--data', data]);
  await run('setup');
  const file = join(data, 'w.json');
  writeFileSync(file, JSON.stringify({ fleets: DOCUMENT.fleets }));
  expect((await run('import', file)).stderr).toContain('on the page (stanchion serve)');
  expect((await run('account', 'pit', '--role', 'mechanic')).stderr).toContain('Add the fleet first');
  writeFileSync(file, JSON.stringify(DOCUMENT));
  await run('import', file);
  expect((await run('account', 'pit', '--role', 'mechanic')).stderr).toMatch(/--fleet\.\s+There are: t1\./);
  await run('account', 'pit', '--role', 'mechanic', '--fleet', 't1');
  expect((await run('account', 'pit', '--role', 'mechanic', '--fleet', 't1')).stderr).toContain(
    'stanchion account pit --password',
  );
  expect((await run('unfit', 'F-1', '--at', '20.11.2026')).stderr).toContain('a day, such as 2025-06-12');
});
