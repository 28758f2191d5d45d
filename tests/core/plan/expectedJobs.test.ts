import { describe, expect, it } from 'vitest';
import { addDays } from '../../../src/core/days/calendar.js';
import type { ForeseenChance } from '../../../src/core/forecast/dueChance.js';
import type { Standing } from '../../../src/core/ledger/due.js';
import { defaultRestarts } from '../../../src/core/ledger/serviceKinds.js';
import { expectedJobs } from '../../../src/core/plan/expectedJobs.js';
import { day } from '../../../src/units.js';
import { standingWith, ZONE } from '../ledger/ledgerBuilders.js';

const today = day('2025-06-10');
const weekEnds = [5, 12, 19, 26].map((days) => addDays(today, days));

/** The hours are reached with rising likelihood, the middle after so many days. */
const kind = (serviceKind: string, middle: number, rest: Partial<Standing> = {}): ForeseenChance => {
  const quantileDays = Array.from({ length: 19 }, (_, i) =>
    addDays(today, Math.round((middle * (i + 1)) / 10)),
  );
  const likely = { p10: quantileDays[1]!, p50: quantileDays[9]!, p90: quantileDays[17]! };
  return {
    standing: standingWith({
      serviceKind,
      likely,
      hoursLeft: 40,
      interval: { terrainHours: 50, months: null, movingHoursCeiling: null, rule: 'kind' },
      ...rest,
    }),
    forecast: { quantileDays, likely, weeksOfRides: 60 },
    restarts: defaultRestarts({ unitKind: 'fork' }, serviceKind, [])!,
  };
};
/** Nowhere near its limit when the smaller job falls due. */
const far: Partial<Standing> = {
  hoursLeft: 140,
  interval: { terrainHours: 150, months: null, movingHoursCeiling: null, rule: 'kind' },
};
const jobsOf = (...foreseen: ForeseenChance[]) => expectedJobs({ foreseen, weekEnds, today, zone: ZONE });

describe('the jobs of one unit', () => {
  it('one that is likely due is one job, with its chance by each week', () => {
    const [job, ...others] = jobsOf(
      kind('lower-leg', 20),
      kind('damper', 3000, far),
      kind('full', 3000, far),
    );
    expect(others.map(({ serviceKind }) => serviceKind)).toEqual(['damper', 'full']);
    expect(job).toMatchObject({ serviceKind: 'lower-leg', wanted: ['lower-leg'] });
    expect(job!.dueBy).toEqual([0.125, 0.3, 0.475, 0.65].map((chance) => expect.closeTo(chance, 6)));
  });

  it('two that fall due together are one larger job, due with the first of them', () => {
    const jobs = jobsOf(kind('lower-leg', 10), kind('full', 20));
    expect(jobs).toHaveLength(1);
    expect(jobs[0]).toMatchObject({ serviceKind: 'full', wanted: ['full', 'lower-leg'] });
    expect(jobs[0]!.dueBy).toEqual(jobsOf(kind('lower-leg', 10))[0]!.dueBy);
  });

  it('what is not likely in these weeks is a job of its own, by its small chance', () => {
    const jobs = jobsOf(kind('lower-leg', 60), kind('damper', 400));
    expect(jobs.map(({ serviceKind }) => serviceKind)).toEqual(['lower-leg', 'damper']);
    expect(jobs[1]!.dueBy.at(-1)).toBeCloseTo(26 / 800, 6);
  });

  it('a due one is certain in the first week; nothing comes of what cannot be foreseen', () => {
    expect(jobsOf(kind('lower-leg', 10, { state: 'due' }))[0]!.dueBy).toEqual([1, 1, 1, 1]);
    expect(jobsOf(kind('lower-leg', 10, { state: 'on-the-bench' }))).toEqual([]);
    expect(jobsOf()).toEqual([]);
  });
});
