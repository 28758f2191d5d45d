import { describe, expect, test } from 'vitest';
import { intervalFor } from '../../../src/core/ledger/interval.js';
import type { IntervalRule, Unit } from '../../../src/core/ledger/ledger.js';
import type { AddedServiceKind } from '../../../src/core/ledger/serviceKinds.js';
import { day } from '../../../src/units.js';
import { ruleOf, unitOf } from './ledgerBuilders.js';

const today = day('2025-06-10');
const lowerLeg = (
  rules: readonly IntervalRule[],
  unit: Unit = unitOf({ model: 'Hillock 140' }),
  fleet = 't1',
) => intervalFor(unit, 'lower-leg', fleet, rules, today, []);

describe('whose rule', () => {
  const byKind = ruleOf({}, 50);
  const byFleet = ruleOf({ fleetId: 't1' }, 25);
  const byModel = ruleOf({ model: 'Hillock 140' }, 40);
  const byUnit = ruleOf({ unitId: 'u1' }, 10);

  test('unit, else model, else fleet, else kind, in whatever order they stand', () => {
    expect(lowerLeg([byKind, byFleet, byModel, byUnit])).toMatchObject({ terrainHours: 10, rule: 'unit' });
    expect(lowerLeg([byModel, byFleet, byKind])).toMatchObject({ terrainHours: 40, rule: 'model' });
    expect(lowerLeg([byKind, byFleet])).toMatchObject({ terrainHours: 25, rule: 'fleet' });
    expect(lowerLeg([byKind])).toMatchObject({ terrainHours: 50, rule: 'kind' });
  });

  test('a rule of another unit, model, fleet or job does not apply', () => {
    const others = [
      ruleOf({ unitId: 'u2' }, 1),
      ruleOf({ model: 'Hillock 160' }, 2),
      ruleOf({ fleetId: 't2' }, 3),
      ruleOf({}, 4, { serviceKind: 'damper' }),
      ruleOf({}, 5, { unitKind: 'air-shock' }),
    ];
    expect(lowerLeg([...others, byKind])).toMatchObject({ terrainHours: 50 });
    expect(intervalFor(unitOf(), 'lower-leg', null, [byFleet, byModel], today, [])).toMatchObject({
      terrainHours: 50,
      months: 12,
      rule: 'kind',
    });
  });

  test('a model rule of one fleet comes before the model rule of all; of two alike the later one', () => {
    const both = ruleOf({ model: 'Hillock 140', fleetId: 't1' }, 20);
    expect(lowerLeg([both, byModel])).toMatchObject({ terrainHours: 20, rule: 'model' });
    expect(lowerLeg([both, byModel], undefined, 't9')).toMatchObject({ terrainHours: 40 });
    expect(lowerLeg([byKind, ruleOf({}, 60)])).toMatchObject({ terrainHours: 60 });
  });
});

describe('ceiling in moving hours', () => {
  test('the hours themselves until the warranty ends, that day included, then half as many again', () => {
    const until = (warrantyEnd: string | null) =>
      lowerLeg([ruleOf({}, 50)], unitOf({ warrantyEnd: warrantyEnd as never }))?.movingHoursCeiling;
    expect(until('2025-06-10')).toBe(50);
    expect(until('2025-06-09')).toBe(75);
    expect(until(null)).toBe(75);
  });

  test('as the rule says, and null is none', () => {
    expect(lowerLeg([ruleOf({}, 50, { movingHoursCeiling: 90 })])?.movingHoursCeiling).toBe(90);
    expect(lowerLeg([ruleOf({}, 50, { movingHoursCeiling: null })])?.movingHoursCeiling).toBeNull();
    expect(lowerLeg([ruleOf({}, null, { months: 6 })])).toEqual({
      terrainHours: null,
      months: 6,
      movingHoursCeiling: null,
      rule: 'kind',
    });
  });
});

test('a job without rule or default has no interval, nor has one that the unit has not', () => {
  const sealCheck: AddedServiceKind = { unitKind: 'fork', name: 'seal-check' };
  expect(intervalFor(unitOf(), 'seal-check', null, [], today, [sealCheck])).toBeNull();
  const withHours = { ...sealCheck, terrainHours: 8 };
  expect(intervalFor(unitOf(), 'seal-check', null, [], today, [withHours])).toMatchObject({
    terrainHours: 8,
  });
  expect(intervalFor(unitOf({ unitKind: 'coil-shock' }), 'air-sleeve', null, [], today, [])).toBeNull();
});
