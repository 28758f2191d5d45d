/** What is looked at after a crash, and what forbids riding. Common practice, no source. */
import { expect, test } from 'vitest';
import { inspectionLooks, rideFault } from '../../../src/core/ledger/inspection.js';
import type { UnitSort } from '../../../src/core/ledger/serviceKinds.js';

const FORK: UnitSort = { unitKind: 'fork' };
const COIL_FORK: UnitSort = { unitKind: 'fork', spring: 'coil' };
const AIR_SHOCK: UnitSort = { unitKind: 'air-shock' };
const COIL_SHOCK: UnitSort = { unitKind: 'coil-shock' };
const ALL = [FORK, COIL_FORK, AIR_SHOCK, COIL_SHOCK];

const namesOf = (sort: UnitSort, cause: 'crash' | 'history') =>
  inspectionLooks(sort, cause).map(({ name }) => name);
/** All of it, each by its first word, which is the good one. */
const allGood = (sort: UnitSort) =>
  Object.fromEntries(inspectionLooks(sort, 'crash').map(({ name, looks }) => [name, looks[0]!]));

test('each kind of unit has its own list', () => {
  expect(namesOf(FORK, 'crash')).toEqual([
    ...['outside', 'crown', 'axle', 'arch', 'bushings', 'fullTravel', 'extends'],
    ...['stanchions', 'damper', 'airSpring'],
  ]);
  expect(namesOf(COIL_FORK, 'crash')).not.toContain('airSpring');
  expect(namesOf(AIR_SHOCK, 'crash')).toEqual([
    ...['outside', 'eyelets', 'bushings', 'fullTravel', 'extends', 'shaft', 'damper', 'airSpring'],
  ]);
  expect(namesOf(COIL_SHOCK, 'crash')).toEqual([
    ...['outside', 'eyelets', 'bushings', 'fullTravel', 'shaft', 'damper'],
  ]);
  // Rings and oil are seen where it was opened; a shock has no rings.
  expect(namesOf(FORK, 'history')).toEqual(expect.arrayContaining(['foamRings', 'oil']));
  expect(namesOf(AIR_SHOCK, 'history')).not.toContain('foamRings');
});

test('it may be ridden only when all of it was looked at and nothing of the first level of caution was seen', () => {
  for (const sort of ALL) {
    const good = allGood(sort);
    expect(rideFault(sort, good)).toBeNull();
    for (const name of Object.keys(good)) {
      const { [name]: _left, ...rest } = good;
      expect(rideFault(sort, rest)).toEqual({ code: 'ride-unseen', names: [name] });
    }
  }
  for (const [sort, name, seen] of [
    [FORK, 'crown', 'loose'],
    [FORK, 'crown', 'cracked'],
    [FORK, 'axle', 'damaged'],
    [FORK, 'arch', 'cracked'],
    [FORK, 'extends', 'stays-compressed'],
    [FORK, 'airSpring', 'loses-air'],
    [COIL_FORK, 'fullTravel', 'short'],
    [AIR_SHOCK, 'eyelets', 'cracked'],
    [COIL_SHOCK, 'damper', 'loses-damping'],
    [COIL_SHOCK, 'damper', 'leaks'],
  ] as const)
    expect(rideFault(sort, { ...allGood(sort), [name]: seen })).toEqual({
      code: 'ride-harmed',
      seen: [[name, seen]],
    });
});

test('what is of the second level does not forbid it, and a word that is none is no look', () => {
  expect(rideFault(FORK, { ...allGood(FORK), stanchions: 'scratched', bushings: 'some' })).toBeNull();
  expect(rideFault(FORK, { ...allGood(FORK), crown: 'fine' })).toEqual({
    code: 'ride-unseen',
    names: ['crown'],
  });
  expect(rideFault(FORK, {})).toMatchObject({ code: 'ride-unseen' });
});
