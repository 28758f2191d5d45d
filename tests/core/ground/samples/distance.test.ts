import { describe, expect, it } from 'vitest';
import { stepDistances } from '../../../../src/core/ground/samples/distance.js';
import type { Recording } from '../../../../src/core/ground/samples/recording.js';
import { sampleOrder } from '../../../../src/core/ground/samples/sampleOrder.js';
import { keepSamples } from '../../../../src/core/ground/samples/steps.js';
import { journey, recordingOf, START_MS } from '../../../fixtures/journey.js';

const ride = (): Recording => recordingOf(journey([{ seconds: 600, mps: (s) => 5 + Math.sin(s / 30) }]));
const measure = (recording: Recording) => {
  const { kept } = keepSamples(recording, sampleOrder(recording, { earliestMs: 0, latestMs: START_MS * 2 }));
  const distances = stepDistances(kept);
  return {
    ...distances,
    way: distances.stepM.reduce((sum, step) => sum + (Number.isNaN(step) ? 0 : step), 0),
    codes: distances.notes.map(({ code }) => code),
  };
};
const scale = (column: Float64Array, factor: number): void =>
  column.set(column.map((value) => value * factor));
const truth = journey([{ seconds: 600, mps: (s) => 5 + Math.sin(s / 30) }]).at(-1)!.distM;

describe('the metres of each step', () => {
  it('are the device’s where its distance is sound', () => {
    const { source, way, codes } = measure(ride());
    expect(source).toBe('device');
    expect(way).toBeCloseTo(truth, 1);
    expect(codes).toEqual([]);
  });

  it('are those between positions where the device’s distance stands still', () => {
    const recording = ride();
    recording.samples.distM.fill(0);
    const { source, way, codes } = measure(recording);
    expect(source).toBe('positions');
    expect(Math.abs(way / truth - 1)).toBeLessThan(0.002);
    expect(codes).toContain('distance-unsound');
  });

  it('are those between positions where the distance falls and rises', () => {
    const recording = ride();
    for (let i = 0; i < recording.samples.count; i += 20) recording.samples.distM[i] = 0;
    expect(measure(recording).source).toBe('positions');
  });

  it('are speed times time where there is nothing else', () => {
    const recording = ride();
    recording.samples.distM.fill(Number.NaN);
    recording.samples.lat.fill(Number.NaN);
    const { source, way } = measure(recording);
    expect(source).toBe('speed');
    expect(Math.abs(way / truth - 1)).toBeLessThan(0.002);
  });

  it('know nothing where nothing was recorded', () => {
    const recording = ride();
    recording.samples.distM.fill(0);
    recording.samples.lat.fill(Number.NaN);
    recording.samples.speedMps.fill(Number.NaN);
    expect(measure(recording).source).toBe('none');
  });

  it('survive a counter that starts again once', () => {
    const recording = ride();
    const before = recording.samples.distM[300]!;
    for (let i = 300; i <= 600; i++) recording.samples.distM[i]! -= before;
    const { source, way, codes } = measure(recording);
    expect(source).toBe('device');
    expect(Math.abs(way / truth - 1)).toBeLessThan(0.002);
    expect(codes).toContain('distance-backwards');
  });

  it('take kilometres and km/h for what they are, where positions settle it', () => {
    const recording = ride();
    scale(recording.samples.distM, 0.001);
    scale(recording.samples.speedMps, 3.6);
    const { way, codes, speedMps } = measure(recording);
    expect(Math.abs(way / truth - 1)).toBeLessThan(0.002);
    expect(codes).toEqual(['distance-unit', 'speed-unit']);
    expect(speedMps[10]).toBeCloseTo(5 + Math.sin(9 / 30), 1);
  });

  it('leave a distance alone that only a wheel size puts off', () => {
    const recording = ride();
    scale(recording.samples.distM, 1.08);
    expect(measure(recording).codes).toEqual([]);
  });

  it('do not believe a speed that stands at 0 while the bike goes', () => {
    const recording = ride();
    recording.samples.speedMps.fill(0);
    const { speedMps, codes } = measure(recording);
    expect(codes).toContain('speed-unsound');
    expect(speedMps[10]).toBeNaN();
  });

  it('drop a jump of the counter', () => {
    const recording = ride();
    for (let i = 300; i <= 600; i++) recording.samples.distM[i]! += 400;
    const { way, codes } = measure(recording);
    expect(Math.abs(way / truth - 1)).toBeLessThan(0.002);
    expect(codes).toContain('distance-jump');
  });

  it('let a slow sensor catch up', () => {
    const recording = ride();
    for (let i = 0; i < 600; i++)
      if (i % 9 !== 0) recording.samples.distM[i] = recording.samples.distM[i - (i % 9)]!;
    const { way, codes } = measure(recording);
    expect(way).toBeCloseTo(truth, 1);
    expect(codes).toEqual([]);
  });
});
