import { expect, test } from 'vitest';
import type { BookedUnit, BookingFact, Fact } from '../../../src/core/ledger/facts.js';
import { rowsOfBooking } from '../../../src/core/plan/bookingRows.js';
import { LEAD_STATES } from '../../../src/core/plan/leads.js';
import { BOOKING_STEPS } from '../../../src/core/tokens.js';
import { day } from '../../../src/units.js';
import { at } from '../ledger/ledgerBuilders.js';

const unit = (unitId: string, rest: Partial<BookedUnit> = {}): BookedUnit => ({
  ...{
    unitId,
    serviceKind: 'full',
    wanted: 'lower-leg',
    periodId: 'p1',
    periodStart: null,
    benchMinutes: 150,
  },
  ...rest,
});
const fact = (body: Partial<BookingFact>): Fact<'booking'> => ({
  ...{ id: 'f9', seq: 9, entityId: 'b1', kind: 'booking', replacesId: 'f8', isVoid: false, why: null },
  recordedAt: at('2025-06-02T08:00:00Z'),
  since: at('2025-06-01T08:00:00Z'),
  recordedBy: 'owner',
  body: {
    ...{ step: 'booked', day: day('2025-06-10'), bikeId: 'bike', riderId: 'r1' },
    ...{ units: [unit('u1')], calendar: { uid: 'uid', sequence: 4 } },
    ...body,
  },
});

test('a row for each unit, with what the step says and the number that follows the steps before', () => {
  const rows = rowsOfBooking(fact({ units: [unit('u1'), unit('u2', { beside: ['damper'] })] }), 3);
  expect(rows).toMatchObject([
    {
      id: 'b1',
      factId: 'f9',
      unitId: 'u1',
      state: 'booked',
      beside: [],
      calendarUid: 'uid',
      calendarSequence: 7,
    },
    { id: 'b1', unitId: 'u2', beside: ['damper'], madeAt: at('2025-06-01T08:00:00Z'), changedBy: 'owner' },
  ]);
});

test('a unit whose service is done is done, whatever becomes of the rest of the visit', () => {
  for (const step of BOOKING_STEPS) {
    const rows = rowsOfBooking(fact({ step, units: [unit('u1', { isDone: true }), unit('u2')] }), 0);
    expect(rows[0]!.state).toBe('done');
    expect(LEAD_STATES.filter((state) => state !== 'open')).toContain(rows[1]!.state);
  }
  const dead = ['withdrawn', 'missed', 'ended'] as const;
  expect(dead.map((step) => rowsOfBooking(fact({ step }), 0)[0]!.state)).toEqual([
    'passed',
    'passed',
    'passed',
  ]);
});
