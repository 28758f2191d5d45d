import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { reasonText } from '../../src/cli/takenText.js';
import { instant } from '../../src/units.js';
import { takeDemo } from './takeDemo.js';

const dir = mkdtempSync(join(tmpdir(), 'story-'));
afterAll(() => rmSync(dir, { recursive: true }));

/** Files that count, and how; all others are answered with the code that they show. */
const COUNTED: Readonly<Record<string, string>> = {
  counted: 'counted',
  joined: 'joined',
  indoor: 'kept-only',
  'cut-off': 'counted',
  checksum: 'counted',
};
/** Those whose answer says more than that they count. */
const WITH_REASON = ['indoor', 'cut-off', 'checksum'];

// The day that calendars trip over; tests/samples/scenario.test.ts holds the hours on others.
describe.each(['2024-02-29'])('the demo, taken on %s', async (today) => {
  const now = instant(Date.parse(`${today}T08:00:00Z`));
  const { scenario, taken, due } = await takeDemo(join(dir, `${today}.db`), today, now);

  it.each(scenario.expected)('has $unit $serviceKind $state', ({ unit, serviceKind, state, limit }) => {
    const row = due.find((one) => one.unit === unit && one.serviceKind === serviceKind);
    expect(row).toMatchObject({ state, ...(limit === undefined ? {} : { limit }) });
  });

  it('counts every ride of the season', () => {
    for (const ride of scenario.rides) {
      if (ride.shows !== undefined) continue;
      // A bike without suspension keeps its rides.
      expect(['counted', 'joined', 'kept-only'], ride.path).toContain(taken.get(ride.path)?.outcome);
    }
  });

  it.each(scenario.rides.flatMap(({ path, shows }) => (shows === undefined ? [] : [{ path, shows }])))(
    'answers $shows for $path',
    ({ path, shows }) => {
      const answer = taken.get(path)!;
      const settled = COUNTED[shows];
      if (settled === undefined) expect(answer.code).toBe(shows);
      else expect(answer.outcome).toBe(settled);
      expect(reasonText(answer) !== null).toBe(settled === undefined || WITH_REASON.includes(shows));
      expect(answer.indoor).toBe(shows === 'indoor');
    },
  );
});
