import { describe, expect, test } from 'vitest';
import type { Standing } from '../../../src/core/ledger/due.js';
import { type Job, offersFor } from '../../../src/core/ledger/offer.js';
import { defaultRestarts } from '../../../src/core/ledger/serviceKinds.js';
import { day } from '../../../src/units.js';
import { likelyOf, standingWith } from './ledgerBuilders.js';

const today = day('2025-06-10');
const HOURS: Readonly<Record<string, number>> = { 'lower-leg': 50, damper: 150, full: 200, 'seal-check': 10 };

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
  restarts: defaultRestarts('fork', serviceKind, []) ?? [serviceKind],
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
      { serviceKind: 'lower-leg', wanted: 'lower-leg', includes: ['lower-leg'] },
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

  test('within 60 days', () => {
    const offered = (smaller: string, larger: string) =>
      offersFor([job('lower-leg', 'due', 0, smaller), job('full', 'in-time', 190, larger)], today)[0]!
        .serviceKind;
    expect(offered('2025-06-20', '2025-08-19')).toBe('full');
    expect(offered('2025-06-20', '2025-08-20')).toBe('lower-leg');
    expect(offered('2024-12-24', '2025-08-09')).toBe('full');
  });

  test('the largest that is near, with all that it includes', () => {
    const jobs = [lowerLegDue, job('damper', 'coming-up', 5, '2025-06-20'), job('full', 'in-time', 30)];
    expect(offersFor(jobs, today)).toEqual([
      { serviceKind: 'full', wanted: 'damper', includes: ['damper', 'lower-leg'] },
    ]);
  });

  test('a larger one that is wanted itself needs no nearness', () => {
    const jobs = [lowerLegDue, job('full', 'over-interval', -60, '2025-01-01')];
    expect(offersFor(jobs, today)).toEqual([
      { serviceKind: 'full', wanted: 'full', includes: ['full', 'lower-leg'] },
    ]);
  });

  test('an unknown history is no reason to offer the larger job', () => {
    const unknown = { ...job('full', 'history-unknown', 0), restarts: ['lower-leg', 'damper', 'full'] };
    expect(offersFor([lowerLegDue, unknown], today)[0]!.serviceKind).toBe('lower-leg');
  });
});

test('two jobs that none includes are two offers', () => {
  const offers = offersFor([lowerLegDue, job('seal-check', 'due', 0)], today);
  expect(offers.map((offer) => offer.serviceKind)).toEqual(['lower-leg', 'seal-check']);
});

test('on the bench or stopped, nothing is offered', () => {
  expect(offersFor([job('lower-leg', 'on-the-bench', 0), job('full', 'stop-riding', 0)], today)).toEqual([]);
});
