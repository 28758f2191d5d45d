import { expect, test } from 'vitest';
import {
  defaultRestarts,
  findServiceKind,
  isFormerJob,
  isNameTaken,
  jobsOf,
  serviceKindsOf,
} from '../../../src/core/ledger/serviceKinds.js';

const sealCheck = { unitKind: 'fork', name: 'seal-check' } as const;

test('each kind of unit has its own jobs', () => {
  const names = (kind: 'fork' | 'air-shock' | 'coil-shock') =>
    serviceKindsOf({ unitKind: kind }, []).map((one) => one.name);
  expect(names('fork')).toEqual(['lower-leg', 'air-spring', 'damper', 'full']);
  expect(names('air-shock')).toEqual(['air-sleeve', 'bushings', 'full']);
  expect(names('coil-shock')).toEqual(['bushings', 'full']);
});

test('a coil fork has no air-spring job, and a full service of it no such clock', () => {
  const coil = { unitKind: 'fork', spring: 'coil' } as const;
  expect(serviceKindsOf(coil, []).map((one) => one.name)).toEqual(['lower-leg', 'damper', 'full']);
  expect(defaultRestarts(coil, 'full', [])).toEqual(['lower-leg', 'damper', 'full']);
  expect(defaultRestarts(coil, 'air-spring', [])).toBeNull();
});

// Common practice, no source.
test('jobs without a clock restart nothing, and a shock’s travel is not changed', () => {
  for (const job of ['seal-repair', 'tune', 'travel-change', 'bushing-resize'])
    expect(defaultRestarts({ unitKind: 'fork' }, job, [])).toEqual([]);
  expect(defaultRestarts({ unitKind: 'air-shock' }, 'tune', [])).toEqual([]);
  expect(defaultRestarts({ unitKind: 'air-shock' }, 'travel-change', [])).toBeNull();
});

test('a coil shock has no air job', () => {
  expect(findServiceKind({ unitKind: 'coil-shock' }, 'air-sleeve', [])).toBeUndefined();
  expect(defaultRestarts({ unitKind: 'coil-shock' }, 'air-sleeve', [])).toBeNull();
});

test('bench minutes are those of the workshop defaults', () => {
  const minutes = (['fork', 'air-shock', 'coil-shock'] as const).map((kind) =>
    serviceKindsOf({ unitKind: kind }, []).map((one) => one.benchMinutes),
  );
  expect(minutes).toEqual([
    [60, 90, 120, 150],
    [30, 20, 120],
    [20, 120],
  ]);
});

test('a larger job restarts what it includes', () => {
  expect(defaultRestarts({ unitKind: 'fork' }, 'lower-leg', [])).toEqual(['lower-leg']);
  expect(defaultRestarts({ unitKind: 'fork' }, 'damper', [])).toEqual(['lower-leg', 'damper']);
  expect(defaultRestarts({ unitKind: 'fork' }, 'air-spring', [])).toEqual(['lower-leg', 'air-spring']);
  expect(defaultRestarts({ unitKind: 'fork' }, 'full', [])).toEqual([
    'lower-leg',
    'air-spring',
    'damper',
    'full',
  ]);
  expect(defaultRestarts({ unitKind: 'air-shock' }, 'air-sleeve', [])).toEqual(['air-sleeve']);
  expect(defaultRestarts({ unitKind: 'coil-shock' }, 'full', [])).toEqual(['bushings', 'full']);
});

test('wipers only restarts nothing, and no shock has wipers', () => {
  expect(defaultRestarts({ unitKind: 'fork' }, 'wipers-only', [])).toEqual([]);
  expect(defaultRestarts({ unitKind: 'air-shock' }, 'wipers-only', [])).toBeNull();
});

test('a kind of the workshop restarts itself, and a full service restarts it too', () => {
  expect(defaultRestarts({ unitKind: 'fork' }, 'seal-check', [sealCheck])).toEqual(['seal-check']);
  expect(defaultRestarts({ unitKind: 'fork' }, 'full', [sealCheck])).toContain('seal-check');
  expect(defaultRestarts({ unitKind: 'fork' }, 'damper', [sealCheck])).not.toContain('seal-check');
  expect(serviceKindsOf({ unitKind: 'air-shock' }, [sealCheck]).map((one) => one.name)).toEqual([
    'air-sleeve',
    'bushings',
    'full',
  ]);
  expect(findServiceKind({ unitKind: 'fork' }, 'seal-check', [sealCheck])).toMatchObject({
    terrainHours: null,
    months: null,
  });
});

test('a workshop’s own kind that was there before a built-in one of its name keeps its interval, minutes and clocks', () => {
  const own = {
    unitKind: 'fork',
    name: 'air-spring',
    terrainHours: 80,
    benchMinutes: 75,
    restarts: ['air-spring'],
  } as const;
  const kinds = serviceKindsOf({ unitKind: 'fork' }, [own]).filter(({ name }) => name === 'air-spring');
  expect(kinds).toEqual([{ ...own, months: null }]);
  expect(defaultRestarts({ unitKind: 'fork' }, 'air-spring', [own])).toEqual(['air-spring']);
});

test('a kind of the workshop says what it restarts, and which jobs restart it', () => {
  const own = { ...sealCheck, restarts: ['seal-check', 'lower-leg'], restartedBy: ['damper'] };
  expect(defaultRestarts({ unitKind: 'fork' }, 'seal-check', [own])).toEqual(['lower-leg', 'seal-check']);
  expect(defaultRestarts({ unitKind: 'fork' }, 'damper', [own])).toContain('seal-check');
  expect(defaultRestarts({ unitKind: 'fork' }, 'lower-leg', [own])).not.toContain('seal-check');
});

test('a job without a clock may be logged, never falls due, and keeps its name on every unit', () => {
  const lines = ['seal-repair', 'tune', 'travel-change', 'bushing-resize'];
  expect(jobsOf({ unitKind: 'fork' }, [sealCheck])).toEqual([
    ...['lower-leg', 'air-spring', 'damper', 'full', 'seal-check'],
    ...lines,
  ]);
  expect(jobsOf({ unitKind: 'coil-shock' }, [])).toEqual(['bushings', 'full', 'seal-repair', 'tune']);
  const clocks = serviceKindsOf({ unitKind: 'fork' }, []).map((one) => one.name);
  for (const line of [...lines, 'wipers-only']) {
    expect(clocks).not.toContain(line);
    expect(isNameTaken('air-shock', line)).toBe(true);
  }
  expect(isNameTaken('air-shock', 'full')).toBe(true);
  expect(isNameTaken('air-shock', 'damper')).toBe(false);
  expect(isNameTaken('fork', 'seal-check')).toBe(false);
});

test('wipers alone are logged no more', () => {
  expect(jobsOf({ unitKind: 'fork' }, [])).not.toContain('wipers-only');
  expect(isFormerJob('wipers-only')).toBe(true);
  expect(isFormerJob('tune')).toBe(false);
});
