import { expect, test } from 'vitest';
import { lookFields, STEPS } from '../../../src/core/ledger/findings.js';
import { homeGuide } from '../../../src/core/plan/homeGuide.js';
import { HOME_DEEDS } from '../../../src/core/tokens.js';

const FORK = { unitKind: 'fork' } as const;
const COIL_FORK = { unitKind: 'fork', spring: 'coil' } as const;
const SHOCK = { unitKind: 'air-shock' } as const;

test.each([FORK, COIL_FORK, SHOCK])('a job at home goes in the order of the bench card: %o', (sort) => {
  const guide = homeGuide(sort);
  expect(guide.map(({ step }) => step)).toEqual(STEPS);
  const names = guide.flatMap(({ looks }) => looks.map(({ name }) => name));
  const onCard = lookFields(sort).map(({ name }) => name);
  expect(names).toEqual(onCard.filter((name) => names.includes(name)));
  expect(names).toContain('bushings');
});

// Common practice, no source: pressure goes out before anything is opened, and comes in once all is tight.
test('pressure is out before anything is opened, and comes in after all is closed', () => {
  const [before, inside, after] = homeGuide(FORK);
  expect(before!.looks.map(({ name }) => name)).toContain('pressureOut');
  expect(inside!.deeds[0]!.deed).toBe('nuts-back');
  const closing = after!.deeds.map(({ deed }) => deed);
  expect(closing.indexOf('nuts-tight')).toBeLessThan(closing.indexOf('pressure-in'));
  expect(homeGuide(SHOCK)[0]!.looks.map(({ name }) => name)).toContain('pressureOut');
});

test('each typed figure that a job needs has a place, on the sides that such a unit has', () => {
  const figures = (sort: Parameters<typeof homeGuide>[0]) =>
    homeGuide(sort).flatMap(({ deeds }) => deeds.flatMap((one) => one.figures));
  expect(figures(FORK)).toEqual(
    expect.arrayContaining(['airMl', 'damperMl', 'airTorque', 'damperTorque', 'pressure']),
  );
  expect(figures(COIL_FORK)).toEqual(expect.arrayContaining(['springMl', 'springTorque']));
  expect(figures(COIL_FORK)).not.toContain('pressure');
  expect(figures(SHOCK)).toEqual(expect.arrayContaining(['canMl', 'pressure', 'mountTorque']));
});

test('every deed has its place in a job', () => {
  const used = new Set(
    [FORK, SHOCK].flatMap((sort) => homeGuide(sort).flatMap(({ deeds }) => deeds)).map(({ deed }) => deed),
  );
  expect([...used].sort()).toEqual([...HOME_DEEDS].sort());
});
