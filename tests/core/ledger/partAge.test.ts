/** How old rings and wipers are. Common practice, no source. */
import { expect, test } from 'vitest';
import type { Service, Unit } from '../../../src/core/ledger/ledger.js';
import { type AgedPart, partStays } from '../../../src/core/ledger/partAge.js';
import { day } from '../../../src/units.js';
import { fittingOf, serviceOf, startOf, unitOf, ZONE } from './ledgerBuilders.js';

const staysOf = (services: readonly Service[], unit: Partial<Unit> = {}, part: AgedPart = 'foamRings') =>
  partStays({
    unit: unitOf(unit),
    fittings: [fittingOf('2026-01-10')],
    services,
    part,
    today: day('2026-12-01'),
    zone: ZONE,
  });
const lowers = (on: string, findings: Record<string, string>): Service =>
  serviceOf(on, ['lower-leg'], { findings, by: 'here' });

test('put back they go on, and are in for the second time; new they begin again', () => {
  const stays = staysOf([
    lowers('2026-03-01', { foamRings: 'honey', foamRingsNow: 'put-back' }),
    lowers('2026-05-01', { foamRings: 'dark', foamRingsNow: 'new' }),
  ]);
  expect(stays.map(({ from, round, gap }) => [from, round, gap])).toEqual([
    [startOf('2026-01-10'), 1, null],
    [startOf('2026-01-10'), 2, null],
    [startOf('2026-05-01'), 1, null],
  ]);
  expect(stays.map(({ endedBy }) => endedBy?.findings?.foamRings)).toEqual(['honey', 'dark', undefined]);
});

test('a service that looked and said neither leaves the age unknown until the next new', () => {
  const stays = staysOf([
    lowers('2026-03-01', { foamRings: 'honey' }),
    lowers('2026-04-01', { foamRingsNow: 'put-back' }),
    lowers('2026-05-01', { foamRingsNow: 'new' }),
  ]);
  expect(stays.map(({ gap }) => gap)).toEqual([null, 'not-said', 'not-said', null]);
});

test('of a unit that did not come new nobody knows the age until a service says new', () => {
  const known = { terrainHours: 12, movingHours: 12, asOf: day('2026-01-01') };
  for (const history of ['unknown', known] as const)
    expect(
      staysOf([lowers('2026-05-01', { foamRingsNow: 'new' })], { history }).map(({ gap }) => gap),
    ).toEqual(['never-new', null]);
});

test('a full service done here says new unless it says otherwise; one done elsewhere says nothing', () => {
  const full = (rest: Partial<Service>): Service =>
    serviceOf('2026-05-01', ['full', 'lower-leg'], { by: 'here', ...rest });
  expect(staysOf([full({})]).at(-1)).toMatchObject({ from: startOf('2026-05-01'), gap: null });
  expect(staysOf([full({ findings: { foamRingsNow: 'put-back' } })]).at(-1)).toMatchObject({ round: 2 });
  expect(staysOf([full({ by: 'at-home' })]).at(-1)).toMatchObject({ gap: 'not-said' });
});

test('wipers have an age of their own, on shocks too', () => {
  const services = [lowers('2026-03-01', { foamRingsNow: 'put-back', wipersNow: 'new' })];
  expect(staysOf(services, {}, 'wipers').at(-1)).toMatchObject({ from: startOf('2026-03-01'), round: 1 });
  const sleeve = serviceOf('2026-03-01', ['air-sleeve'], { findings: { wipers: 'torn', wipersNow: 'new' } });
  expect(staysOf([sleeve], { unitKind: 'air-shock' }, 'wipers').at(-1)).toMatchObject({ gap: null });
  expect(staysOf([serviceOf('2026-03-01', ['damper'])], {}).length).toBe(1);
});
