/** What is looked at, by unit and step. Common practice, no source. */
import { describe, expect, test } from 'vitest';
import {
  ASKED_AT_HOME,
  FINDING_NAMES,
  type FindingStep,
  findingsFault,
  lookFields,
  lookNow,
  STEPS,
} from '../../../src/core/ledger/findings.js';
import type { UnitSort } from '../../../src/core/ledger/serviceKinds.js';
import { SECOND_LOOKS } from '../../../src/core/tokens.js';
import { pages as en } from '../../../src/languages/en/pages/index.js';
import { pages as pt } from '../../../src/languages/pt/pages/index.js';

const FORK: UnitSort = { unitKind: 'fork' };
const COIL_FORK: UnitSort = { unitKind: 'fork', spring: 'coil' };
const AIR_SHOCK: UnitSort = { unitKind: 'air-shock' };
const COIL_SHOCK: UnitSort = { unitKind: 'coil-shock' };
const SORTS = [FORK, COIL_FORK, AIR_SHOCK, COIL_SHOCK];

const namesIn = (sort: UnitSort, step: FindingStep): string[] =>
  lookFields(sort)
    .filter((one) => one.step === step)
    .map(({ name }) => name);
const looksOf = (sort: UnitSort, name: string): readonly string[] | undefined =>
  lookFields(sort).find((one) => one.name === name)?.looks;

test('what is found by name and in the words of the list is taken', () => {
  expect(findingsFault(FORK, { foamRings: 'dark', oil: 'milky', crown: 'sound' })).toBeNull();
  expect(findingsFault(COIL_SHOCK, { eyelets: 'worn' })).toBeNull();
  expect(findingsFault(FORK, {})).toBeNull();
});

test('what is not on the list is refused with what is', () => {
  expect(findingsFault(FORK, { colour: 'red' })).toMatchObject({
    code: 'no-finding',
    unknown: ['colour'],
    names: expect.arrayContaining(['foamRings', 'oil']),
  });
  expect(findingsFault(COIL_SHOCK, { airSpring: 'leaks' })).toMatchObject({ unknown: ['airSpring'] });
  expect(findingsFault(FORK, { foamRings: 'blue' })).toEqual({
    code: 'foam-rings',
    said: 'blue',
    looks: ['pale', 'honey', 'dark'],
  });
  expect(findingsFault(FORK, { foamRingsNow: 'soaked' })).toMatchObject({ code: 'put-back-or-new' });
  expect(findingsFault(COIL_SHOCK, { wipersNow: 'good' })).toMatchObject({ code: 'put-back-or-new' });
});

describe('common practice, no source', () => {
  test('rings and wipers are looked at, then put back or new', () => {
    for (const sort of [FORK, COIL_FORK]) {
      expect(looksOf(sort, 'foamRings')).toEqual(['pale', 'honey', 'dark']);
      expect(looksOf(sort, 'foamRingsNow')).toEqual(['put-back', 'new']);
      expect(looksOf(sort, 'wipers')).toEqual(['good', 'torn', 'new']);
      expect(looksOf(sort, 'wipersNow')).toEqual(['put-back', 'new']);
    }
    expect(looksOf(AIR_SHOCK, 'foamRings')).toBeUndefined();
    expect(looksOf(COIL_SHOCK, 'foamRings')).toBeUndefined();
  });

  test('oil may be little or metallic, and a fork’s is looked at by side', () => {
    for (const sort of SORTS)
      expect(looksOf(sort, 'oil')).toEqual(['clear', 'brown', 'milky', 'metallic', 'little']);
    expect(looksOf(FORK, 'oilDamperSide')).toEqual(looksOf(FORK, 'oil'));
    expect(looksOf(COIL_SHOCK, 'oilDamperSide')).toBeUndefined();
  });

  test('a damper and an air spring have the words for what hands feel', () => {
    for (const sort of SORTS)
      expect(looksOf(sort, 'damper')).toEqual(
        expect.arrayContaining(['notchy', 'loses-damping', 'air-in-oil', 'adjuster-dead']),
      );
    for (const sort of [FORK, AIR_SHOCK])
      expect(looksOf(sort, 'airSpring')).toEqual([
        'holds',
        'loses-air',
        'notchy',
        'stuck-down',
        'oil-in-chamber',
      ]);
  });

  test('a coil has no air: its spring is looked at instead, and no pressure is let out', () => {
    for (const sort of [COIL_FORK, COIL_SHOCK]) {
      const names = lookFields(sort).map(({ name }) => name);
      expect(names).toContain('coilSpring');
      for (const air of ['airSpring', 'pressureOut', 'valve', 'holdsAir', 'setUpPressure'])
        expect(names).not.toContain(air);
      expect(findingsFault(sort, { airSpring: 'holds' })).toMatchObject({ unknown: ['airSpring'] });
    }
    for (const sort of [FORK, AIR_SHOCK])
      expect(lookFields(sort).map(({ name }) => name)).not.toContain('coilSpring');
  });

  test('a shock has a shaft and eyelets, a fork stanchions and a crown', () => {
    for (const sort of [AIR_SHOCK, COIL_SHOCK]) {
      expect(looksOf(sort, 'shaft')).toEqual(['clean', 'scratched', 'coating-through']);
      expect(looksOf(sort, 'stanchions')).toBeUndefined();
      expect(looksOf(sort, 'crown')).toBeUndefined();
      expect(looksOf(sort, 'eyelets')).toContain('cracked');
    }
    expect(looksOf(FORK, 'stanchions')).toEqual(['clean', 'scratched', 'coating-through']);
    expect(looksOf(FORK, 'shaft')).toBeUndefined();
    expect(looksOf(FORK, 'eyelets')).toBeUndefined();
  });

  test('the pressure is out before a unit is opened, and the brakes are clean at the end', () => {
    expect(namesIn(FORK, 'before').at(-1)).toBe('pressureOut');
    expect(namesIn(AIR_SHOCK, 'before').at(-1)).toBe('pressureOut');
    expect(namesIn(FORK, 'before')).toEqual(
      expect.arrayContaining(['outside', 'crown', 'axle', 'arch', 'bushings', 'fullTravel', 'extends']),
    );
    expect(namesIn(FORK, 'after')).toEqual([
      'footNuts',
      'reboundTurns',
      'valve',
      'travelRing',
      'wholeStroke',
      'holdsAir',
      'setUpRestored',
      'caliper',
      'axleAndStem',
      'brakesClean',
    ]);
  });
});

test('second looks are asked for as the workshop says, and pressure only where there is air', () => {
  const seconds = (sort: UnitSort) =>
    lookFields(sort, SECOND_LOOKS).flatMap(({ name, how }) =>
      name.startsWith('second') ? [[name, how]] : [],
    );
  const both = ['secondOil', 'secondTorques'].map((name) => [name, 'text']);
  expect(seconds(FORK)).toEqual([...both, ['secondPressure', 'text']]);
  expect(seconds(COIL_FORK)).toEqual(both);
  expect(lookFields(FORK, ['oil']).map(({ name }) => name)).not.toContain('secondTorques');
  expect(lookFields(FORK).map(({ name }) => name)).not.toContain('secondOil');
  // One that was had stays, whatever is asked for now.
  expect(findingsFault(FORK, { secondOil: 'Otto' })).toBeNull();
});

test('the looks follow the work: each unit’s list goes through the steps in order, and each look is on some unit', () => {
  for (const sort of SORTS) {
    const order = lookFields(sort).map(({ step }) => STEPS.indexOf(step));
    expect(order).toEqual([...order].sort((a, b) => a - b));
    for (const step of STEPS) expect(namesIn(sort, step).length).toBeGreaterThan(3);
  }
  const found = new Set(SORTS.flatMap((sort) => lookFields(sort, SECOND_LOOKS).map(({ name }) => name)));
  // What is asked after a job at home is on no list of the bench.
  expect([...found, ASKED_AT_HOME].sort()).toEqual([...FINDING_NAMES].sort());
});

test('every look that a page offers is one that the ledger takes, for every kind of unit', () => {
  for (const sort of SORTS)
    for (const { name, looks } of lookFields(sort))
      for (const look of looks) expect(findingsFault(sort, { [name]: look })).toBeNull();
});

test('books from before are read: their names are taken, their words told in the words of today', () => {
  for (const sort of [AIR_SHOCK, COIL_SHOCK])
    expect(findingsFault(sort, { stanchions: 'worn', water: 'some' })).toBeNull();
  expect(lookNow('airSpring', 'loses air')).toBe('loses-air');
  expect(lookNow('stanchions', 'worn')).toBe('worn');
  expect(lookNow('oil', 'as somebody typed it')).toBe('as somebody typed it');
  expect(lookNow('oil', 'constructor')).toBe('constructor');
  for (const texts of [en, pt])
    expect((texts.looks.words.stanchions as Record<string, string>).worn).toBeDefined();
});

test.each([en, pt])('each look has a word of its own in each language', (texts) => {
  for (const sort of SORTS)
    for (const { name, looks } of lookFields(sort)) {
      const words: Readonly<Record<string, string>> = texts.looks.words[name];
      const said = looks.map((look) => words[look]);
      expect(said, name).not.toContain(undefined);
      expect(new Set(said).size, name).toBe(looks.length);
    }
});
