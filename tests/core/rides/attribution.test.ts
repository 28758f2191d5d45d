import { describe, expect, it } from 'vitest';
import { attribute, bikeByWord, bikeOfProfile, bikeOfSensor } from '../../../src/core/rides/attribution.js';
import { instant } from '../../../src/units.js';
import { at, bikeOf, knowledge, saidAt } from '../../fixtures/readings.js';

const START = at('2025-06-10T09:00:00Z');
const said = {
  riderId: 'r1',
  named: [],
  sensors: [],
  profile: null,
  recorder: null,
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

describe('the profile that was chosen on the recorder', () => {
  const bikes = [{ bike: bikeOf('green') }, { bike: bikeOf('red') }];
  const first = confirmed('green', '2025-06-01T09:00:00Z');
  const days = (bikeId: string, ...all: readonly number[]) =>
    all.map((one) => confirmed(bikeId, `2025-05-${String(one).padStart(2, '0')}T09:00:00Z`));

  it('tells the bike from the first answer on, after a sensor and before the kind of ride', () => {
    const known = knowledge(bikes, {}, { MOUNTAIN: [first] });
    const on = { ...said, subSport: 'mountain', profile: 'MOUNTAIN' };
    expect(attribute(on, known)).toMatchObject({ bikeId: 'green', bikeRule: 'profile' });
    expect(attribute({ ...on, profile: 'Commute' }, known).bikeId).toBeNull();
    const pair = [confirmed('red', '2025-06-01T09:00:00Z'), confirmed('red', '2025-06-02T09:00:00Z')];
    const both = knowledge(bikes, { 'speed:1': pair }, { MOUNTAIN: [first] });
    expect(attribute({ ...on, sensors: [speed] }, both)).toMatchObject({ bikeId: 'red', bikeRule: 'sensor' });
    expect(attribute({ ...on, riderId: null }, known).bikeId).toBeNull();
  });

  it('is asked about again where it stands for two bikes, unless one ride was an exception', () => {
    expect(bikeOfProfile([...days('green', 1), ...days('red', 2)], START)).toBeNull();
    expect(bikeOfProfile([...days('green', 1, 2, 4), ...days('red', 3)], START)).toBe('green');
    expect(bikeOfProfile([...days('green', 1, 2, 3), ...days('red', 4, 5)], START)).toBeNull();
    // Of older ones no more is known than of those that were confirmed first.
    expect(bikeOfProfile(days('green', 7), at('2025-05-01T09:00:00Z'))).toBe('green');
    expect(bikeOfProfile([], START)).toBeNull();
  });

  it('leaves older rides where they were when it moves to another bike', () => {
    const moved = [...days('green', 1, 2, 3, 4, 5), ...days('red', 11, 12, 13, 14, 15)];
    expect(bikeOfProfile(moved, at('2025-05-06T09:00:00Z'))).toBe('green');
    expect(bikeOfProfile(moved, START)).toBe('red');
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

  it('also when both came in one moment, by their order', () => {
    const moment = '2025-07-01T00:00:00Z';
    const known = knowledge([
      { bike: bikeOf('b1') },
      { bike: bikeOf('b2'), since: saidAt(moment, 8), suspendedSince: saidAt(moment, 9) },
    ]);
    expect(attribute({ ...said, arrived: saidAt(moment, 7) }, known).bikeId).toBe('b1');
    expect(attribute({ ...said, arrived: saidAt(moment, 9) }, known).bikeId).toBeNull();
  });

  it('bikes entered together are known together', () => {
    const both = [
      {
        bike: bikeOf('b1'),
        since: saidAt('2025-08-01T00:00:00Z', 1),
        suspendedSince: saidAt('2025-08-01T00:00:00Z', 2),
      },
      {
        bike: bikeOf('b2'),
        since: saidAt('2025-08-01T00:00:00Z', 3),
        suspendedSince: saidAt('2025-08-01T00:00:00Z', 4),
      },
    ];
    expect(attribute(said, knowledge(both)).bikeId).toBeNull();
    const next = {
      bike: bikeOf('b3'),
      since: saidAt('2025-09-01T00:00:00Z'),
      suspendedSince: saidAt('2025-09-01T00:00:00Z'),
    };
    expect(attribute(said, knowledge([both[0]!, next])).bikeId).toBe('b1');
  });
});

describe('words that were said when a file was handed over', () => {
  const folder = (bikeId: string | null) => ({ bikeId, rule: 'subfolder' as const });
  const chosen = (bikeId: string) => ({ bikeId, rule: 'chosen' as const });

  it('a choice does not overrule a folder, and a bike comes before a folder that is none', () => {
    expect(bikeByWord([folder('b1'), chosen('b2')])).toEqual({ bikeId: null, rule: 'chosen' });
    expect(bikeByWord([folder('b1'), chosen('b1')])).toEqual(chosen('b1'));
    expect(bikeByWord([folder(null), chosen('b2')])).toEqual(chosen('b2'));
    expect(bikeByWord([folder(null), folder('b1')])).toEqual(folder('b1'));
    expect(bikeByWord([])).toBeNull();
  });

  it('two bikes’ folders contradict each other, and nothing weaker decides', () => {
    const taught = {
      'speed:1': [confirmed('b1', '2025-06-01T09:00:00Z'), confirmed('b1', '2025-06-02T09:00:00Z')],
    };
    const known = knowledge([{ bike: bikeOf('b1') }], taught);
    const torn = { ...said, sensors: [speed], named: [folder('b1'), folder('b2')] };
    expect(attribute(torn, known)).toMatchObject({ riderId: 'r1', bikeId: null, bikeRule: null });
  });

  it('a folder that is no bike we know leaves it to a sensor, and never to the only bike', () => {
    const strange = { ...said, named: [folder(null)] };
    expect(attribute(strange, knowledge()).bikeId).toBeNull();
    const taught = {
      'speed:1': [confirmed('b1', '2025-06-01T09:00:00Z'), confirmed('b1', '2025-06-02T09:00:00Z')],
    };
    expect(attribute({ ...strange, sensors: [speed] }, knowledge(undefined, taught))).toMatchObject({
      bikeId: 'b1',
      bikeRule: 'sensor',
    });
  });
});

it('two recorders on one ride teach a sensor once', () => {
  const first = confirmed('b1', '2025-06-01T09:00:00Z');
  const twin = confirmed('b1', '2025-06-01T09:05:00Z');
  expect(bikeOfSensor([first, twin], START)).toBeNull();
  expect(bikeOfSensor([first, twin, confirmed('b1', '2025-06-02T09:00:00Z')], START)).toBe('b1');
});
