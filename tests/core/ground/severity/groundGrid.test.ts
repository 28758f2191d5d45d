import { expect, it } from 'vitest';
import { elevationNodes, gridOf } from '../../../../src/core/ground/severity/groundGrid.js';
import { madePath } from './madeGround.js';

it('lays a straight line through the samples every 10 m', () => {
  const grid = gridOf(madePath({ lengthM: 103, speedMps: 4, height: (x) => 50 + 0.1 * x }), 3)!;
  expect(grid.pathIndex).toBe(3);
  expect([...grid.zM].map((z) => Number(z.toFixed(9)))).toEqual([50, 51, 52, 53, 54, 55, 56, 57, 58, 59, 60]);
  expect([...grid.tS]).toEqual([0, 2.5, 5, 7.5, 10, 12.5, 15, 17.5, 20, 22.5, 25]);
  expect(new Set(grid.bracketM)).toEqual(new Set([4]));
  expect([grid.fromM, grid.toM, grid.startS, grid.endS]).toEqual([0, 100, 0, 25]);
});

it('leaves out nodes without elevation and says how far apart the others stand', () => {
  const path = madePath({ lengthM: 200, speedMps: 4, height: (x) => (x > 60 && x < 100 ? Number.NaN : x) });
  const grid = gridOf(elevationNodes(path), 0)!;
  expect(grid.zM[8]).toBeCloseTo(80, 9);
  expect(grid.bracketM[8]).toBe(40);
  expect(grid.bracketM[12]).toBe(4);
});

it('begins where elevation does', () => {
  const path = madePath({ lengthM: 200, speedMps: 4, height: (x) => (x < 40 ? Number.NaN : x) });
  const grid = gridOf(elevationNodes(path), 0)!;
  expect([grid.fromM, grid.startS, grid.zM[0]]).toEqual([40, 10, 40]);
});

it('is none of fewer than two nodes', () => {
  expect(gridOf(madePath({ lengthM: 0, height: () => 1 }), 0)).toBeNull();
  expect(gridOf(elevationNodes(madePath({ lengthM: 90, height: () => Number.NaN })), 0)).toBeNull();
});

it('stands still where the samples do', () => {
  const path = madePath({ lengthM: 100, height: () => 7 });
  const grid = gridOf({ ...path, xM: path.xM.fill(0) }, 0)!;
  expect([...grid.zM]).toEqual([7]);
});
