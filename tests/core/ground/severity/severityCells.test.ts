import { expect, it } from 'vitest';
import { gridOf } from '../../../../src/core/ground/severity/groundGrid.js';
import { severityCells } from '../../../../src/core/ground/severity/severityCells.js';
import { type Made, madePath, waves } from './madeGround.js';

const fit = { gradientChange: 0.0185, noiseM: 0, roughness: 2.19 };
const cellsOf = (made: Made) => severityCells([gridOf(madePath(made), 0)!], fit, 2, 60);

it('is 1 for a gradient change of 1.85 % at 2.5 m/s', () => {
  for (const { severity } of cellsOf({ lengthM: 250, speedMps: 2.5, height: waves(2) }))
    expect(severity).toBeCloseTo(1, 2);
});

it('lets speed count up to 4 m/s, downhill up to 8', () => {
  const first = (speedMps: number, grade: number): number =>
    cellsOf({ lengthM: 200, speedMps, height: (x) => grade * x })[0]!.severity;
  expect(first(10, 0)).toBeCloseTo(Math.sqrt(4 / 2.5), 6);
  expect(first(10, -0.02)).toBeCloseTo(Math.sqrt(4 / 2.5), 6);
  expect(first(10, -0.05)).toBeCloseTo(Math.sqrt(8 / 2.5), 6);
  expect(first(1, 0)).toBeCloseTo(Math.sqrt(1.5 / 2.5), 6);
});

it('stays between 0.2 and 5', () => {
  const grid = gridOf(madePath({ lengthM: 2000, height: waves(2) }), 0)!;
  const severity = (gradientChange: number): number =>
    severityCells([grid], { ...fit, gradientChange }, 2, 60)[0]!.severity;
  expect([severity(1e-6), severity(3)]).toEqual([0.2, 5]);
});

it('has cells of about 400 m', () => {
  expect(cellsOf({ lengthM: 4000, height: waves(2) })).toHaveLength(10);
  expect(cellsOf({ lengthM: 90, height: waves(2) })).toHaveLength(1);
});
