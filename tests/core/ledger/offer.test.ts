import { describe, expect, test } from 'vitest';
import type { Standing } from '../../../src/core/ledger/due.js';
import { type Job, offersFor } from '../../../src/core/ledger/offer.js';
import { defaultRestarts } from '../../../src/core/ledger/serviceKinds.js';
import { day, secondsOfHours } from '../../../src/units.js';
import { likelyOf, standingWith } from './ledgerBuilders.js';

const today = day('2025-06-10');
const HOURS: Readonly<Record<string, number>> = {
  'lower-leg': 50,
  'air-spring': 100,
  damper: 150,
  full: 200,
  'seal-check': 10,
};

const job = (
  serviceKind: string,
  state: Standing['state'],
  hoursLeft: number,
  p50: string | null = null,
): Job => ({
  standing: standingWith({
    serviceKind,
    state,
    hoursLeft,
    likely: likelyOf(p50),
    interval: { terrainHours: HOURS[serviceKind]!, months: null, movingHoursCeiling: null, rule: 'kind' },
  }),
  restarts: defaultRestarts({ unitKind: 'fork' }, serviceKind, []) ?? [serviceKind],
});

const lowerLegDue = job('lower-leg', 'due', 0, '2025-06-10');

describe('a larger job in place of a smaller one', () => {
  test('nothing wanted, nothing offered', () => {
    expect(offersFor([job('lower-leg', 'in-time', 30), job('full', 'in-time', 10)], today)).toEqual([]);
  });

  test('the smaller one alone where the larger is far', () => {
    const far = [
      lowerLegDue,
      job('damper', 'in-time', 31, '2025-12-01'),
      job('full', 'in-time', 41, '2026-03-01'),
    ];
    expect(offersFor(far, today)).toEqual([
      { serviceKind: 'lower-leg', wanted: 'lower-leg', includes: ['lower-leg'], because: null },
    ]);
  });

  test('within a fifth of its hours', () => {
    const offered = (left: number) =>
      offersFor([lowerLegDue, job('damper', 'in-time', left)], today)[0]!.serviceKind;
    expect([offered(30), offered(30.0001)]).toEqual(['damper', 'lower-leg']);
  });

  test('counted from when the smaller one falls due', () => {
    const comingUp = job('lower-leg', 'coming-up', 7);
    expect(offersFor([comingUp, job('damper', 'in-time', 37)], today)[0]!.serviceKind).toBe('damper');
    expect(
      offersFor([job('lower-leg', 'due', -9), job('damper', 'in-time', 30)], today)[0]!.serviceKind,
    ).toBe('damper');
  });

  // Common practice, no source: months count on neither side.
  test('a job that falls due by months does not make a large one of it', () => {
    const byMonths = { ...job('lower-leg', 'due', 20), restarts: ['lower-leg'] };
    const due = { ...byMonths, standing: { ...byMonths.standing, limit: 'months' as const } };
    expect(offersFor([due, job('full', 'in-time', 170)], today)[0]!.serviceKind).toBe('lower-leg');
    expect(offersFor([due, job('full', 'in-time', 40)], today)[0]!.serviceKind).toBe('full');
  });

  test('one that comes up by months counts the larger job’s hours that go by until then', () => {
    const soon = job('lower-leg', 'coming-up', 30, '2025-06-20');
    const comingUp = { ...soon, standing: { ...soon.standing, limit: 'months' as const } };
    // Ten of a hundred days: a tenth of what is left goes by.
    const offered = (left: number) =>
      offersFor([comingUp, job('full', 'in-time', left, '2025-09-18')], today)[0]!;
    expect(offered(44).serviceKind).toBe('full');
    expect(offered(45).serviceKind).toBe('lower-leg');
    expect(offered(44).because).toMatchObject({ intervalHours: 200, limit: 'terrain-hours' });
    expect(offered(44).because!.hoursLeft).toBeCloseTo(39.6, 6);
  });

  test('by its ceiling in moving hours too', () => {
    const ceiling = (movingHours: number) => {
      const full = job('full', 'in-time', 150);
      const interval = { ...full.standing.interval, movingHoursCeiling: 300 };
      return { ...full, standing: { ...full.standing, interval, movingS: secondsOfHours(movingHours) } };
    };
    const offered = (movingHours: number) =>
      offersFor([lowerLegDue, ceiling(movingHours)], today)[0]!.serviceKind;
    expect([offered(240), offered(239.9)]).toEqual(['full', 'lower-leg']);
  });

  test('the largest that is near, with all that it includes', () => {
    const jobs = [lowerLegDue, job('damper', 'coming-up', 5, '2025-06-20'), job('full', 'in-time', 30)];
    expect(offersFor(jobs, today)).toEqual([
      {
        serviceKind: 'full',
        wanted: 'damper',
        includes: ['damper', 'lower-leg'],
        because: { hoursLeft: 25, intervalHours: 200, limit: 'terrain-hours' },
      },
    ]);
  });

  test('a larger one that is wanted itself needs no nearness', () => {
    const jobs = [lowerLegDue, job('full', 'over-interval', -60, '2025-01-01')];
    expect(offersFor(jobs, today)).toEqual([
      { serviceKind: 'full', wanted: 'full', includes: ['full', 'lower-leg'], because: null },
    ]);
  });

  test('an unknown history is no reason to offer the larger job', () => {
    const unknown = { ...job('full', 'history-unknown', 0), restarts: ['lower-leg', 'damper', 'full'] };
    expect(offersFor([lowerLegDue, unknown], today)[0]!.serviceKind).toBe('lower-leg');
  });
});

describe('one visit', () => {
  test('jobs of which none includes the other stand beside each other', () => {
    const offers = offersFor([lowerLegDue, job('seal-check', 'due', 0)], today);
    expect(offers.map((offer) => offer.serviceKind)).toEqual(['lower-leg', 'seal-check']);
    const both = offersFor([job('air-spring', 'due', 0), job('damper', 'due', 0)], today);
    expect(both.map((offer) => offer.serviceKind)).toEqual(['air-spring', 'damper']);
  });

  test('what is within a fifth of its own hours joins the visit, and makes none by itself', () => {
    const kinds = (left: number) =>
      offersFor([lowerLegDue, job('seal-check', 'in-time', left)], today).map((offer) => offer.serviceKind);
    expect([kinds(2), kinds(2.1)]).toEqual([['lower-leg', 'seal-check'], ['lower-leg']]);
    expect(offersFor([job('seal-check', 'in-time', 1)], today)).toEqual([]);
  });

  test('what the larger job includes is not asked for beside it', () => {
    const jobs = [job('full', 'due', 0), job('damper', 'in-time', 5), job('lower-leg', 'due', 0)];
    expect(offersFor(jobs, today).map((offer) => offer.serviceKind)).toEqual(['full']);
  });
});

test('on the bench or stopped, nothing is offered', () => {
  expect(offersFor([job('lower-leg', 'on-the-bench', 0), job('full', 'stop-riding', 0)], today)).toEqual([]);
});
