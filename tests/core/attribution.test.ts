import { describe, expect, it } from 'vitest';
import { attribute, bikeOfSensor } from '../../src/core/attribution.js';
import { instant } from '../../src/units.js';
import { at, bikeOf, knowledge, saidAt } from '../fixtures/readings.js';

const START = at('2025-06-10T09:00:00Z');
const said = {
  riderId: 'r1',
  named: [],
  sensors: [],
  subSport: null,
  start: START,
  arrived: saidAt('2025-07-01T00:00:00Z'),
};
const speed = { id: 'speed:1', boundTo: 'bike' } as const;
const confirmed = (bikeId: string, time: string) => ({
  bikeId,
  start: at(time),
  end: instant(at(time) + 3_600_000),
});

describe('in order', () => {
  const bikes = [{ bike: bikeOf('trail') }, { bike: bikeOf('road', 'road'), suspendedSince: null }];
  const taught = {
    'speed:1': [confirmed('trail', '2025-06-01T09:00:00Z'), confirmed('trail', '2025-06-02T09:00:00Z')],
  };
  const known = knowledge(bikes, taught);

  it('what a person named comes before everything', () => {
    const named = {
      ...said,
      named: [{ bikeId: 'road', rule: 'subfolder' as const }],
      sensors: [speed],
      subSport: 'mountain',
    };
    expect(attribute(named, known)).toMatchObject({ riderId: 'r1', bikeId: 'road', bikeRule: 'subfolder' });
  });

  it('a taught sensor before the kind of ride', () => {
    expect(attribute({ ...said, sensors: [speed], subSport: 'road' }, known)).toMatchObject({
      bikeId: 'trail',
      bikeRule: 'sensor',
    });
  });

  it('the only bike of the kind before the only suspended one', () => {
    expect(attribute({ ...said, subSport: 'road' }, known)).toMatchObject({
      bikeId: 'road',
      bikeRule: 'ride-type',
    });
    expect(attribute({ ...said, subSport: 'mountain' }, known)).toMatchObject({
      bikeId: 'trail',
      bikeRule: 'ride-type',
    });
    expect(attribute(said, known)).toMatchObject({ bikeId: 'trail', bikeRule: 'only-suspended' });
  });

  it('else nobody knows', () => {
    const two = knowledge([{ bike: bikeOf('b1') }, { bike: bikeOf('b2') }]);
    expect(attribute({ ...said, subSport: 'mountain' }, two)).toMatchObject({
      riderId: 'r1',
      bikeId: null,
      bikeRule: null,
    });
    expect(attribute({ ...said, riderId: null }, known)).toMatchObject({
      riderId: null,
      bikeId: null,
      bikeRule: null,
    });
  });

  it('a bike says whose it is, where the file does not', () => {
    const named = { ...said, riderId: null, named: [{ bikeId: 'trail', rule: 'chosen' as const }] };
    expect(attribute(named, known)).toMatchObject({ riderId: 'r1', bikeId: 'trail', bikeRule: 'chosen' });
    expect(attribute({ ...said, riderId: null, sensors: [speed] }, known)).toMatchObject({
      riderId: 'r1',
      bikeRule: 'sensor',
    });
  });
});

describe('sensors', () => {
  const first = confirmed('b1', '2025-06-01T09:00:00Z');
  const second = confirmed('b1', '2025-06-05T09:00:00Z');

  it('one ride teaches nothing, two do, in whatever order they are told', () => {
    expect(bikeOfSensor([first], START)).toBeNull();
    expect(bikeOfSensor([first, second], START)).toBe('b1');
    expect(bikeOfSensor([second, first], START)).toBe('b1');
  });

  it('two that contradict teach nothing', () => {
    expect(bikeOfSensor([first, confirmed('b2', '2025-06-05T09:00:00Z')], START)).toBeNull();
  });

  it('also rides from before the lesson follow it, and a sensor that moves leaves older rides where they were', () => {
    const moved = [
      first,
      second,
      confirmed('b2', '2025-07-01T09:00:00Z'),
      confirmed('b2', '2025-07-02T09:00:00Z'),
    ];
    expect(bikeOfSensor(moved, at('2025-05-01T09:00:00Z'))).toBe('b1');
    expect(bikeOfSensor(moved, START)).toBe('b1');
    expect(bikeOfSensor(moved, at('2025-07-03T09:00:00Z'))).toBe('b2');
  });

  it('a heart strap goes with the rider, however often it was seen on one bike', () => {
    const strap = { id: 'heart:1', boundTo: 'rider' } as const;
    const known = knowledge([{ bike: bikeOf('b1') }, { bike: bikeOf('b2') }], {
      'heart:1': [first, second, first],
    });
    expect(attribute({ ...said, sensors: [strap] }, known).bikeId).toBeNull();
  });

  it('two sensors of different bikes on one ride decide nothing', () => {
    const known = knowledge([{ bike: bikeOf('b1') }, { bike: bikeOf('b2') }], {
      'speed:1': [first, second],
      'power:2': [first, second].map((one) => ({ ...one, bikeId: 'b2' })),
    });
    expect(
      attribute({ ...said, sensors: [speed, { id: 'power:2', boundTo: 'bike' }] }, known).bikeId,
    ).toBeNull();
  });
});

describe('a new bike leaves old rides alone', () => {
  const later = saidAt('2025-08-01T00:00:00Z');
  it('what the only suspended bike had when the file came stays on it', () => {
    const known = knowledge([
      { bike: bikeOf('b1') },
      { bike: bikeOf('b2'), since: later, suspendedSince: later },
    ]);
    expect(attribute(said, known)).toMatchObject({ bikeId: 'b1', bikeRule: 'only-suspended' });
    expect(attribute({ ...said, arrived: saidAt('2025-08-02T00:00:00Z') }, known).bikeId).toBeNull();
  });

  it('and a file that came before any bike finds the first one', () => {
    const known = knowledge([{ bike: bikeOf('b1'), since: later, suspendedSince: later }]);
    expect(attribute(said, known)).toMatchObject({ bikeId: 'b1', bikeRule: 'only-suspended' });
  });
});
