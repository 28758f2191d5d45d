import { describe, expect, it } from 'vitest';
import { witnessesOf } from '../../../../src/core/ground/severity/witness.js';
import { madePath, waves } from './madeGround.js';

const height = waves(1);
const circle =
  (radiusM: number) =>
  (xM: number): readonly [number, number] => [
    radiusM * Math.sin(xM / radiusM),
    radiusM * Math.cos(xM / radiusM),
  ];

describe('witnesses', () => {
  it('are silent on a ride that is too short', () => {
    const short = madePath({ lengthM: 400, height, way: circle(50), deviceSpeed: () => 4 });
    expect(witnessesOf([short]).weight).toBe(0);
  });

  it('count half each', () => {
    expect(witnessesOf([madePath({ lengthM: 9000, height })]).weight).toBe(0.5);
    expect(witnessesOf([madePath({ lengthM: 9000, height, deviceSpeed: () => 4 })]).weight).toBe(0.5);
    const both = madePath({ lengthM: 9000, height, way: circle(50), deviceSpeed: () => 4 });
    expect(witnessesOf([both]).weight).toBe(1);
  });

  it('measure turning: a circle turns by its length over its radius', () => {
    const { turning } = witnessesOf([madePath({ lengthM: 9000, height, way: circle(50) })]);
    expect(turning).toBeCloseTo(100 / 50, 1);
    expect(witnessesOf([madePath({ lengthM: 9000, height, way: (x) => [x, 0] })]).turning).toBeCloseTo(0, 6);
  });

  it('measure how uneven the speed is: 4 and 6 m/s in turn change by 2 of 5', () => {
    const path = madePath({
      lengthM: 9000,
      height,
      deviceSpeed: (t) => (Math.floor(t / 5) % 2 === 0 ? 4 : 6),
    });
    expect(witnessesOf([path]).acceleration).toBeCloseTo(0.4, 2);
  });

  it('measure it over the way where the device told no speed, and only then', () => {
    const path = madePath({ lengthM: 9000, height });
    // Halves of 5 s, each as long again as the one before or half as long.
    const xM = path.tS.map((t) => 5 * t + 5 * Math.abs(((t / 5) % 2) - 1));
    expect(witnessesOf([{ ...path, xM }]).acceleration).toBeCloseTo(0.4, 1);
    const told = { ...path, xM, speedMps: path.tS.map(() => 5) };
    expect(witnessesOf([told]).acceleration).toBeCloseTo(0, 6);
  });

  it('lean no further than a factor of four', () => {
    const straight = madePath({ lengthM: 9000, height, way: (x) => [x, 0], deviceSpeed: () => 4 });
    expect(witnessesOf([straight]).lean).toBeCloseTo(-Math.log(4), 12);
  });
});
