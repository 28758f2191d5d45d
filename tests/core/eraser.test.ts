import { describe, expect, it } from 'vitest';
import { eraserOf } from '../../src/core/erase/eraser.js';
import { retyped } from '../../src/core/erase/typed.js';

const eraser = eraserOf(
  ['Zoë  van Mill', 'zoe@example.org'],
  ['+000 555 0100'],
  ['zoe', 'Zoë', 'Mill', 'jo'],
  '…',
);

describe('taking somebody out of a text', () => {
  it.each([
    ['brought by Zoë van Mill', 'brought by …'],
    ['brought by ZOE VAN  MILL.', 'brought by ….'],
    ['asks zoe@example.org, or 0005550100', 'asks …, or …'],
    ['call +000 (555) 01 00 after six', 'call +… after six'],
    ['Zoë alone is a name of many', 'Zoë alone is a name of many'],
    ['zoe@example.orgs', 'zoe@example.orgs'],
  ])('anywhere: %s', (text, left) => expect(eraser.inAny(text)).toBe(left));

  it.each([
    ['Zoë’s fork, for Mill', '…’s fork, for …'],
    ['a windmill, zoes, jo', 'a windmill, zoes, jo'],
  ])('about what is the person’s own: %s', (text, left) => expect(eraser.inOwn(text)).toBe(left));

  it('knows what is called after the person', () => {
    expect(['zoe-trail', 'mill', 'millstone', 'trail-2'].map(eraser.isNamed)).toEqual([
      true,
      true,
      false,
      false,
    ]);
  });

  it('takes nothing where nothing is known', () => {
    const none = eraserOf(['', ' '], ['12'], ['x'], '…');
    expect([none.inAny('x 12'), none.inOwn('x 12')]).toEqual(['x 12', 'x 12']);
  });
});

it('changes what was typed, and no word of the program’s own', () => {
  const body = {
    unitId: 'fork',
    stage: 'came',
    on: '2026-01-01',
    name: 'fork',
    values: { sag: 'fork' },
  } as never;
  expect(retyped('setUp', body, () => '…')).toEqual({
    ...(body as object),
    name: '…',
    values: { sag: '…' },
  });
  const service = { note: null, findings: { foamRings: 'dark', setUpPressure: 'dark' } } as never;
  expect(retyped('service', service, () => '…')).toEqual({
    note: null,
    findings: { foamRings: 'dark', setUpPressure: '…' },
  });
});
