/** A store that a former version made opens in this one, is sound, and has the hours that it had. */
import { expect, test } from 'vitest';
import { KEPT_NOW, keptDue, unpackKeptStore } from '../fixtures/keptStore.js';
import { runHere } from '../fixtures/runHere.js';

/** Between these two a better forecast may decide otherwise. */
const AHEAD = ['in-time', 'coming-up'];

const hoursIn = (rows: readonly Readonly<Record<string, unknown>>[]): string[] =>
  rows
    .map(
      (row) =>
        `${row.unit} ${row.serviceKind} ${row.bike} ${row.rider} ${Number(row.movingHoursSince).toFixed(4)}`,
    )
    .sort();

test('the first kept store: each unit has the rider, the bike and the moving hours that it had', async () => {
  const { dataFolder } = unpackKeptStore('first');
  const at = ['--data', dataFolder, '--now', KEPT_NOW, '--json'];
  const due = await runHere(['due', ...at]);
  expect(due.status).toBe(0);
  const kept = hoursIn(keptDue('first').map((row) => ({ ...row })));
  expect(hoursIn(due.rows)).toEqual(kept);
  const states = (rows: readonly Readonly<Record<string, unknown>>[]): string[] =>
    rows
      .map(
        ({ unit, serviceKind, state }) =>
          `${unit} ${serviceKind} ${AHEAD.includes(String(state)) ? 'ahead' : state}`,
      )
      .sort();
  // What was built in since has no interval there, so that nothing new is due.
  expect(states(due.rows)).toEqual(states(keptDue('first').map((row) => ({ ...row }))));
  const check = await runHere(['check', ...at]);
  expect(check.rows[0]).toMatchObject({ ok: true, derivedDifferences: 0, integrityFaults: 0 });
});
