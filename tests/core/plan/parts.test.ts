import { describe, expect, it } from 'vitest';
import type { PartFact } from '../../../src/core/ledger/facts.js';
import { weeksFrom } from '../../../src/core/plan/benchWeeks.js';
import { addUp, type PartsJob, partsFor, planParts, type Shelf } from '../../../src/core/plan/parts.js';
import { WEEKDAYS } from '../../../src/core/tokens.js';
import { day } from '../../../src/units.js';

const row = (part: string, rest: Partial<PartFact> = {}): PartFact => ({
  unitKind: 'fork',
  serviceKind: 'lower-leg',
  model: null,
  part,
  count: 1,
  measure: 'pieces',
  ...rest,
});
const fork = { unitKind: 'fork' as const, model: 'Sample fork' };

describe('what a service takes', () => {
  it('is one set where nothing was typed, and never an oil', () => {
    expect(partsFor([], fork, 'lower-leg')).toEqual([
      { part: 'fork lower-leg set', count: 1, measure: 'pieces' },
    ]);
    expect(
      partsFor([row('sample oil', { serviceKind: 'full', measure: 'ml', count: 30 })], fork, 'lower-leg'),
    ).toHaveLength(1);
  });

  it('is what was typed for the model, else for the kind', () => {
    const rows = [row('foam ring'), row('wide foam ring', { model: 'Sample fork', count: 2 })];
    expect(partsFor(rows, fork, 'lower-leg').map((use) => use.part)).toEqual(['wide foam ring']);
    expect(partsFor(rows, { ...fork, model: null }, 'lower-leg').map((use) => use.part)).toEqual([
      'foam ring',
    ]);
  });

  it('adds up by part and measure', () => {
    const use = { part: 'foam ring', count: 2, measure: 'pieces' as const };
    expect(addUp([use, { ...use, part: 'crush washer' }, use])).toEqual([
      { ...use, part: 'crush washer' },
      { ...use, count: 4 },
    ]);
  });
});

describe('the shelf against the weeks', () => {
  const today = day('2025-06-10');
  const weeks = weeksFrom(today, 3);
  const open = { openDays: WEEKDAYS.slice(1, 6), closedDays: [] };
  const set = [{ part: 'set', count: 1, measure: 'pieces' as const }];
  const job = (dueBy: readonly number[]): PartsJob => ({ dueBy, response: 0.5, parts: set });
  const many = (count: number, chance: number): PartsJob[] =>
    Array.from({ length: count }, () => job([0, chance, chance]));
  const jobs = [...many(6, 0.9), ...many(4, 0.5), ...many(10, 0.1)];
  const shelf = (left: number, deliveryDays = 0): Shelf[] => [
    { part: 'set', left, deliveryDays, countedOn: null },
  ];
  const plan = (of: readonly Shelf[]) => planParts({ jobs, shelf: of, weeks, open, today })[0]!;

  it('4.2 sets are expected, and six cover nine of ten', () => {
    const { total, weeks: each } = plan([]);
    expect(total).toMatchObject({ mean: expect.closeTo(4.2, 12), p90: 6 });
    expect(each.map(({ mean }) => mean)).toEqual([0, expect.closeTo(4.2, 12), 0]);
  });

  it('with six there is nothing to order, with five one, for the week that is short', () => {
    expect(plan(shelf(6))).toMatchObject({ left: 6, shortOn: null, orderBy: null, orderCount: 0 });
    // The second week opens on Tuesday 17 June.
    expect(plan(shelf(5))).toMatchObject({
      shortOn: '2025-06-17',
      orderBy: '2025-06-17',
      isLate: false,
      orderCount: 1,
    });
  });

  it('is ordered on an open day, so that it comes before the first open day of the week', () => {
    expect(plan(shelf(5, 3))).toMatchObject({ orderBy: '2025-06-14', isLate: false });
    // Two days before is Sunday, closed; the Saturday before is open.
    expect(plan(shelf(5, 2))).toMatchObject({ orderBy: '2025-06-14' });
    expect(plan(shelf(5, 10))).toMatchObject({ orderBy: '2025-06-10', isLate: true });
  });

  it('nobody counted: nothing is said of ordering', () => {
    expect(plan([])).toMatchObject({ left: null, deliveryDays: null, orderBy: null, orderCount: 0 });
  });

  it('what is counted and not needed stands last, and what is to be ordered first', () => {
    const rows = planParts({
      jobs,
      shelf: [...shelf(0), { part: 'axle', left: 3, deliveryDays: 1, countedOn: today }],
      weeks,
      open,
      today,
    });
    expect(rows.map(({ part, total }) => [part, total.p90])).toEqual([
      ['set', 6],
      ['axle', 0],
    ]);
  });
});
