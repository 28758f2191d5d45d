/** What the manual says, by side; which sheet holds for a unit. Common practice, no source; all values invented. */
import { expect, test } from 'vitest';
import type { SheetFact } from '../../../src/core/ledger/facts.js';
import { isSameSheet, sheetFor, sheetLines } from '../../../src/core/ledger/sheet.js';

const sheet = (
  scope: Partial<SheetFact['scope']>,
  values: Readonly<Record<string, string>>,
  rest: Partial<SheetFact> = {},
): SheetFact => ({
  ...{ unitKind: 'fork', edition: null, typedBy: 'Tove', checkedBy: null, values },
  scope: { model: null, modelYear: null, unitId: null, ...scope },
  ...rest,
});
const fork = { unitKind: 'fork', model: 'Sample fork' } as const;

test('the two sides of a fork stand apart, with oil, ml, torque and socket each; only what the unit has', () => {
  const sides = ['Oil', 'Ml', 'Torque', 'Socket'];
  const of = (side: string) => sides.map((one) => side + one);
  expect(sheetLines({ unitKind: 'fork' })).toEqual([
    ...of('air'),
    ...of('damper'),
    ...['pressure', 'pressureMost'],
  ]);
  expect(sheetLines({ unitKind: 'fork', spring: 'coil' })).toEqual([...of('spring'), ...of('damper')]);
  expect(sheetLines({ unitKind: 'air-shock' })).toEqual([
    ...['canOil', 'canMl', 'damperOil', 'damperMl', 'damperPressure', 'mountTorque', 'mountSocket'],
    ...['pressure', 'pressureMost'],
  ]);
  expect(sheetLines({ unitKind: 'coil-shock' })).toEqual([
    ...['damperOil', 'damperMl', 'damperPressure', 'mountTorque', 'mountSocket'],
  ]);
});

test('a unit has the sheet of its model and year, else of its model, and its own lines before both', () => {
  const every = sheet({ model: 'Sample fork' }, { airOil: 'every', airMl: 'every' });
  const of2024 = sheet({ model: 'Sample fork', modelYear: 2024 }, { airOil: '2024' });
  const own = sheet({ unitId: 'u1' }, { airOil: 'own' });
  const sheets = [every, of2024, own];
  expect(sheetFor('u2', fork, sheets).lines).toEqual([
    { name: 'airOil', value: 'every', isOwn: false },
    { name: 'airMl', value: 'every', isOwn: false },
  ]);
  expect(sheetFor('u2', { ...fork, modelYear: 2024 }, sheets).lines).toEqual([
    { name: 'airOil', value: '2024', isOwn: false },
  ]);
  expect(sheetFor('u2', { ...fork, modelYear: 2025 }, sheets).model).toBe(every);
  expect(sheetFor('u1', fork, sheets).lines).toEqual([
    { name: 'airOil', value: 'own', isOwn: true },
    { name: 'airMl', value: 'every', isOwn: false },
  ]);
});

test('no unit has another model’s sheet, nor one of its model with the other spring', () => {
  const sheets = [sheet({ model: 'Sample fork' }, { airOil: 'x' })];
  for (const unit of [
    { ...fork, model: 'Other fork' },
    { ...fork, model: null },
    { ...fork, spring: 'coil' },
    { unitKind: 'air-shock', model: 'Sample fork' },
  ] as const)
    expect(sheetFor('u2', unit, sheets)).toEqual({ lines: [], model: null, own: null });
});

test('two sheets are the same by kind, spring, model and year, or by their one unit', () => {
  const a = sheet({ model: 'Sample fork' }, {});
  expect(isSameSheet(a, sheet({ model: 'Sample fork' }, { airOil: 'x' }, { spring: 'air' }))).toBe(true);
  expect(isSameSheet(a, sheet({ model: 'Sample fork', modelYear: 2024 }, {}))).toBe(false);
  expect(isSameSheet(a, sheet({ model: 'Sample fork' }, {}, { spring: 'coil' }))).toBe(false);
  const own = sheet({ unitId: 'u1' }, {});
  // A fork that changed its spring keeps its one sheet.
  expect(isSameSheet(own, sheet({ unitId: 'u1' }, {}, { spring: 'coil' }))).toBe(true);
});
