import { describe, expect, it } from 'vitest';
import { DEFAULT_WEIGHTS } from '../../../src/core/ledger/weight.js';
import type { Part } from '../../../src/core/rides/ride.js';
import { settleRides } from '../../../src/core/rides/settle.js';
import { bikeOf, knowledge, on, partOf, readingOf } from '../../fixtures/readings.js';

const WAY = [12_000, 3_000, ...Array.from({ length: 48 }, (_, i) => 20 * i), 700, 300, 300, 700];

const part = (time: string, minutes: number, answer: Part['answer'] = {}, sketch: number[] | null = null) =>
  partOf(readingOf(`2025-06-10T${time}:00Z`, minutes, { sketch }), { answer });

/** Each ride as the recordings in it, what is asked, and whether it was dismissed. */
function shown(parts: readonly Part[], known = knowledge()): string[] {
  const name = (id: string): string =>
    String.fromCharCode(97 + parts.findIndex((one) => one.readingId === id));
  return settleRides(parts, known, DEFAULT_WEIGHTS)
    .map(({ readingIds, question, dismissed }) =>
      [readingIds.map(name).sort().join(''), question, dismissed ? 'no' : null].filter(Boolean).join(' '),
    )
    .sort();
}

describe('what a person dismissed', () => {
  const no = { ride: { 'which-bike': false } } as const;

  it('takes another recording of the same outing with it, whichever came first', () => {
    expect(shown([part('09:00', 60, no), part('09:01', 60)])).toEqual(['a no', 'b no']);
    expect(shown([part('09:01', 60), part('09:00', 60, no)])).toEqual(['a no', 'b no']);
  });

  it('leaves alone a ride that only lies in it, or that somebody called a ride', () => {
    expect(shown([part('08:00', 600, no), part('09:00', 60)])).toEqual(['a no', 'b']);
    expect(shown([part('09:00', 2, no), part('09:00', 180)])).toEqual(['a no', 'b']);
    const yes = { ride: { 'which-bike': true } } as const;
    expect(shown([part('09:00', 60, no), part('09:00', 60, yes)])).toEqual(['a no', 'b']);
  });

  it('does not make one ride of the two that lie in it', () => {
    expect(shown([part('08:00', 600, no), part('09:00', 60), part('14:00', 60)])).toEqual(['a no', 'b', 'c']);
  });

  it('is nothing to another rider', () => {
    const known = knowledge([{ bike: bikeOf('b1') }, { bike: bikeOf('b2', 'trail', 'r2') }]);
    const theirs = { ...part('09:00', 60), riderId: 'r2', ...on('b2') };
    expect(shown([part('09:00', 60, no), theirs], known)).toEqual(['a no', 'b']);
  });
});

describe('doubts are of whole rides', () => {
  it('one recording of two clocks waits, and its twin with it', () => {
    const parts = [part('09:00', 60, {}, WAY), part('10:00', 60, {}, WAY), part('10:00', 61, {}, WAY)];
    expect(shown(parts)).toEqual(['a same-ride-shifted', 'bc']);
  });

  it('of three clocks that a zone explains one counts', () => {
    const parts = ['09:00', '10:00', '11:00'].map((time) => part(time, 30, {}, WAY));
    expect(shown(parts)).toEqual(['abc']);
  });

  it('an answer holds for a twin that comes later', () => {
    const own = { ride: { 'same-ride-unclear': true } } as const;
    const parts = [part('09:00', 90), part('10:20', 30, own), part('10:20', 30)];
    expect(shown(parts)).toEqual(['a', 'bc']);
  });

  it('one ride by a person’s word brings its twins along', () => {
    const one = { ride: { 'same-ride-unclear': false } } as const;
    const parts = [part('09:00', 90), part('10:20', 30, one), part('10:21', 30)];
    expect(shown(parts)).toEqual(['abc']);
  });

  it('the same way on another day, or by another rider, is no doubt', () => {
    const nextDay = partOf(readingOf('2025-06-11T09:00:00Z', 60, { sketch: WAY }));
    expect(shown([part('09:00', 60, {}, WAY), nextDay])).toEqual(['a', 'b']);
    const known = knowledge([{ bike: bikeOf('b1') }, { bike: bikeOf('b2', 'trail', 'r2') }]);
    const theirs = { ...part('10:00', 60, {}, WAY), riderId: 'r2' };
    expect(shown([part('09:00', 60, {}, WAY), theirs], known)).toEqual(['a', 'b']);
  });
});

it('a long recording does not make all pairs near', () => {
  const year = partOf(readingOf('2025-01-01T00:00:00Z', 60 * 24 * 365), { riderId: 'r2' });
  const rides = Array.from({ length: 300 }, (_, i) =>
    partOf(readingOf(new Date(Date.UTC(2025, 0, 1 + i, 9)).toISOString(), 60)),
  );
  expect(settleRides([year, ...rides], knowledge(), DEFAULT_WEIGHTS)).toHaveLength(301);
});
