import { expect, it } from 'vitest';
import { jobMinutes } from '../../../src/core/plan/jobMinutes.js';

const FORK = { unitKind: 'fork' } as const;
const own = [{ unitKind: 'fork', serviceKind: 'lower-leg', minutes: 75 }] as const;

it('a job takes what the workshop says, else what its kind usually takes', () => {
  expect(jobMinutes(FORK, 'lower-leg', { added: [], own: [] })).toBe(60);
  expect(jobMinutes(FORK, 'lower-leg', { added: [], own })).toBe(75);
  expect(jobMinutes({ unitKind: 'air-shock' }, 'full', { added: [], own })).toBe(120);
});

it('a job without a clock takes an hour until somebody says otherwise', () => {
  expect(jobMinutes(FORK, 'tune', { added: [], own: [] })).toBe(60);
  const said = [{ unitKind: 'fork', serviceKind: 'tune', minutes: 20 }] as const;
  expect(jobMinutes(FORK, 'tune', { added: [], own: said })).toBe(20);
});

it('a kind of the workshop’s own says it itself', () => {
  const added = [{ unitKind: 'fork', name: 'polish', benchMinutes: 15 }] as const;
  const said = [{ unitKind: 'fork', serviceKind: 'polish', minutes: 99 }] as const;
  expect(jobMinutes(FORK, 'polish', { added, own: said })).toBe(15);
});

it('what is no job of the unit takes nothing', () => {
  expect(jobMinutes({ unitKind: 'coil-shock' }, 'air-sleeve', { added: [], own: [] })).toBeUndefined();
  expect(
    jobMinutes({ unitKind: 'fork', spring: 'coil' }, 'air-spring', { added: [], own: [] }),
  ).toBeUndefined();
});
