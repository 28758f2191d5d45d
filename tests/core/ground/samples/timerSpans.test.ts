import { describe, expect, it } from 'vitest';
import { spansBetweenStops } from '../../../../src/core/ground/samples/timerSpans.js';

const T = Date.UTC(2024, 4, 1, 9);
const times = Float64Array.from({ length: 10 }, (_, i) => T + i * 1000);
const spans = (...events: [second: number, running: boolean][]) =>
  spansBetweenStops(
    times,
    events.map(([second, running]) => ({ atMs: T + second * 1000, running })),
  ).spans.map(({ from, to }) => [from, to]);

describe('spansBetweenStops', () => {
  it('is one span without events', () => {
    expect(spans()).toEqual([[0, 10]]);
  });

  it('ends a span at a stop, its sample included, and leaves out what was recorded while stopped', () => {
    expect(spans([0, true], [3, false], [6, true], [9, false])).toEqual([
      [0, 4],
      [6, 10],
    ]);
  });

  it('takes events in any order and a second stop for what it is', () => {
    expect(spans([6, true], [3, false], [0, true], [4, false])).toEqual([
      [0, 4],
      [6, 10],
    ]);
  });

  it('keeps samples before the first event', () => {
    expect(spans([3, false], [6, true])).toEqual([
      [0, 4],
      [6, 10],
    ]);
    expect(spans([7, true], [9, false])).toEqual([[0, 10]]);
  });

  it('ends a span where the timer starts again without a stop', () => {
    expect(spans([0, true], [5, true])).toEqual([
      [0, 5],
      [5, 10],
    ]);
  });

  it('has no span between two stops that hold no sample', () => {
    expect(spans([0, true], [3, false], [3.4, true], [3.6, false], [6, true])).toEqual([
      [0, 4],
      [6, 10],
    ]);
  });

  it('keeps apart what was written after a stop that no start follows', () => {
    const events = [
      { atMs: T + 3000, running: false },
      { atMs: T + 5000, running: true },
      { atMs: T + 6000, running: false },
    ];
    expect(spansBetweenStops(times, events)).toEqual({
      spans: [
        { from: 0, to: 4 },
        { from: 5, to: 7 },
      ],
      unstarted: [{ from: 7, to: 10 }],
    });
  });

  it('ignores events from before the clock was set', () => {
    const stop = { atMs: Date.UTC(1990, 0, 1), running: false };
    expect(spansBetweenStops(times, [stop]).spans).toEqual([{ from: 0, to: 10 }]);
  });

  it('is one span where no sample has a time', () => {
    const none = Float64Array.of(Number.NaN, Number.NaN);
    expect(spansBetweenStops(none, [{ atMs: T, running: false }]).spans).toEqual([{ from: 0, to: 2 }]);
  });
});
