import { expect, test } from 'vitest';
import { intervalFor } from '../../src/core/ledger/interval.js';
import { serviceKindsOf } from '../../src/core/ledger/serviceKinds.js';
import { UNIT_KINDS } from '../../src/core/tokens.js';
import { day } from '../../src/units.js';
import { unitOf } from '../core/ledger/ledgerBuilders.js';

const builtIn = UNIT_KINDS.flatMap((kind) => serviceKindsOf({ unitKind: kind }, []));
const find = (unitKind: string, name: string) =>
  builtIn.find((one) => one.unitKind === unitKind && one.name === name)!;

// Source: workshops' pages, excerpts; common practice, no single source.
test('light jobs lie at 30 to 75 hours, full ones at 100 to 200, damper between', () => {
  for (const [unitKind, name] of [
    ['fork', 'lower-leg'],
    ['air-shock', 'air-sleeve'],
    ['coil-shock', 'bushings'],
  ] as const) {
    expect(find(unitKind, name).terrainHours).toBeGreaterThanOrEqual(30);
    expect(find(unitKind, name).terrainHours).toBeLessThanOrEqual(75);
  }
  for (const unitKind of UNIT_KINDS) {
    expect(find(unitKind, 'full').terrainHours).toBeGreaterThanOrEqual(100);
    expect(find(unitKind, 'full').terrainHours).toBeLessThanOrEqual(200);
  }
  expect(find('fork', 'lower-leg').terrainHours).toBe(50);
  expect(find('fork', 'damper').terrainHours).toBeGreaterThanOrEqual(100);
  expect(find('fork', 'damper').terrainHours).toBeLessThanOrEqual(200);
});

// Source: workshops' pages and bicycle owners' manuals ("at least once a year"); common practice.
test('oil and seals that lie still are renewed once a year, by the cheap job', () => {
  expect(find('fork', 'lower-leg').months).toBe(12);
  expect(find('air-shock', 'air-sleeve').months).toBe(12);
});

// Common practice, no source: months alone never ask for a large job.
test('no large job falls due by months', () => {
  const large = builtIn.filter(({ restarts }) => restarts === 'all' || restarts.length > 1);
  expect(large.length).toBeGreaterThanOrEqual(5);
  for (const { unitKind, name, months } of large) expect(months, `${unitKind} ${name}`).toBeNull();
});

// Source: workshops' pages and owners' manuals: 5 to 10 h inspection, 200 h major; common practice.
test.each([5, 10, 30, 75, 100, 125, 200])('a workshop may set %d hours', (terrainHours) => {
  const scope = { fleetId: null, model: null, unitId: null };
  const rule = { unitKind: 'fork', serviceKind: 'full', scope, terrainHours, months: 12 } as const;
  expect(intervalFor(unitOf(), 'full', null, [rule], day('2025-01-01'), [])).toEqual({
    terrainHours,
    months: 12,
    movingHoursCeiling: terrainHours * 1.5,
    rule: 'kind',
  });
});
