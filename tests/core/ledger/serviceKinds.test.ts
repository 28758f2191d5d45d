import { expect, test } from 'vitest';
import {
  defaultRestarts,
  findServiceKind,
  isNameTaken,
  jobsOf,
  serviceKindsOf,
} from '../../../src/core/ledger/serviceKinds.js';

const sealCheck = { unitKind: 'fork', name: 'seal-check' } as const;

test('each kind of unit has its own jobs', () => {
  const names = (kind: 'fork' | 'air-shock' | 'coil-shock') =>
    serviceKindsOf(kind, []).map((one) => one.name);
  expect(names('fork')).toEqual(['lower-leg', 'damper', 'full']);
  expect(names('air-shock')).toEqual(['air-sleeve', 'full']);
  expect(names('coil-shock')).toEqual(['bushings', 'full']);
});

test('a coil shock has no air job', () => {
  expect(findServiceKind('coil-shock', 'air-sleeve', [])).toBeUndefined();
  expect(defaultRestarts('coil-shock', 'air-sleeve', [])).toBeNull();
});

test('bench minutes are those of the workshop defaults', () => {
  const minutes = (['fork', 'air-shock', 'coil-shock'] as const).map((kind) =>
    serviceKindsOf(kind, []).map((one) => one.benchMinutes),
  );
  expect(minutes).toEqual([
    [60, 120, 150],
    [30, 120],
    [20, 120],
  ]);
});

test('a larger job restarts what it includes', () => {
  expect(defaultRestarts('fork', 'lower-leg', [])).toEqual(['lower-leg']);
  expect(defaultRestarts('fork', 'damper', [])).toEqual(['damper', 'lower-leg']);
  expect(defaultRestarts('fork', 'full', [])).toEqual(['lower-leg', 'damper', 'full']);
  expect(defaultRestarts('air-shock', 'air-sleeve', [])).toEqual(['air-sleeve']);
  expect(defaultRestarts('coil-shock', 'full', [])).toEqual(['bushings', 'full']);
});

test('wipers only restarts nothing, and no shock has wipers', () => {
  expect(defaultRestarts('fork', 'wipers-only', [])).toEqual([]);
  expect(defaultRestarts('air-shock', 'wipers-only', [])).toBeNull();
});

test('a kind of the workshop restarts itself, and a full service restarts it too', () => {
  expect(defaultRestarts('fork', 'seal-check', [sealCheck])).toEqual(['seal-check']);
  expect(defaultRestarts('fork', 'full', [sealCheck])).toContain('seal-check');
  expect(defaultRestarts('fork', 'damper', [sealCheck])).not.toContain('seal-check');
  expect(serviceKindsOf('air-shock', [sealCheck]).map((one) => one.name)).toEqual(['air-sleeve', 'full']);
  expect(findServiceKind('fork', 'seal-check', [sealCheck])).toMatchObject({
    terrainHours: null,
    months: null,
  });
});

test('a built-in kind cannot be replaced by an added one', () => {
  const kinds = serviceKindsOf('fork', [{ unitKind: 'fork', name: 'full', terrainHours: 1 }]);
  expect(kinds.filter((one) => one.name === 'full').map((one) => one.terrainHours)).toEqual([200]);
});

test('a job without a clock may be logged, never falls due, and keeps its name on every unit', () => {
  expect(jobsOf('fork', [sealCheck])).toEqual(['lower-leg', 'damper', 'full', 'seal-check', 'wipers-only']);
  expect(jobsOf('coil-shock', [])).toEqual(['bushings', 'full']);
  expect(serviceKindsOf('fork', []).map((one) => one.name)).not.toContain('wipers-only');
  expect(isNameTaken('air-shock', 'wipers-only')).toBe(true);
  expect(isNameTaken('air-shock', 'full')).toBe(true);
  expect(isNameTaken('air-shock', 'damper')).toBe(false);
  expect(isNameTaken('fork', 'seal-check')).toBe(false);
});
