import { describe, expect, it } from 'vitest';
import { attribute } from '../../../src/core/rides/attribution.js';
import { riderOfRecorder, usesOf, wordOfRecorder } from '../../../src/core/rides/recorder.js';
import { instant } from '../../../src/units.js';
import { at, bikeOf, knowledge, saidAt } from '../../fixtures/readings.js';

const ride = (riderId: string, day: string, hours = 1) => ({
  riderId,
  start: at(`${day}T09:00:00Z`),
  end: instant(at(`${day}T09:00:00Z`) + hours * 3_600_000),
});
const june = (day: number): ReturnType<typeof at> => at(`2025-06-${String(day).padStart(2, '0')}T12:00:00Z`);

describe('a recorder', () => {
  it('says nothing after one ride, nor after one ride in two files', () => {
    expect(wordOfRecorder([])).toBeNull();
    expect(wordOfRecorder(usesOf([ride('r1', '2025-06-01')]))).toBeNull();
    const twice = usesOf([ride('r1', '2025-06-01', 2), ride('r1', '2025-06-01')]);
    expect(riderOfRecorder(twice, june(5))).toBeNull();
  });

  it('says whose every ride is after two, those before them too', () => {
    const uses = usesOf([ride('r1', '2025-06-09'), ride('r1', '2025-06-02')]);
    for (const day of [1, 5, 30]) expect(riderOfRecorder(uses, june(day))).toBe('r1');
  });

  it('says nothing any more from the first ride of a second rider on, and keeps what was before', () => {
    const uses = usesOf([ride('r2', '2025-06-20'), ride('r1', '2025-06-09'), ride('r1', '2025-06-02')]);
    expect([5, 19, 20, 30].map((day) => riderOfRecorder(uses, june(day)))).toEqual(['r1', 'r1', null, null]);
  });

  it('does not depend on the order in which rides were said', () => {
    const rides = [ride('r1', '2025-06-02'), ride('r2', '2025-06-20'), ride('r1', '2025-06-09')];
    const uses = usesOf(rides).map((use) => use.riderId);
    expect(wordOfRecorder(usesOf(rides))).toEqual(wordOfRecorder(usesOf([...rides].reverse())));
    expect(uses.sort()).toEqual(['r1', 'r2']);
  });
});

describe('whose a recording is', () => {
  const uses = { key: usesOf([ride('r1', '2025-06-02'), ride('r1', '2025-06-09')]) };
  const bikes = [{ bike: bikeOf('own', 'trail', 'r1') }, { bike: bikeOf('hire', 'trail', null) }];
  const known = knowledge(bikes, {}, {}, uses);
  const said = {
    ...{ riderId: null, named: [], sensors: [], profile: null, subSport: null, recorder: 'key' },
    ...{ start: june(12), arrived: saidAt('2025-07-01T00:00:00Z') },
  };

  it('its recorder says before any rule for the bike, which then follows', () => {
    expect(attribute(said, known)).toMatchObject({
      ...{ riderId: 'r1', riderRule: 'recorder', bikeId: 'own', bikeRule: 'only-suspended' },
    });
  });

  it('a person says before it, and a bike that is nobody’s stays nobody’s', () => {
    expect(attribute({ ...said, riderId: 'r2' }, known)).toMatchObject({ riderId: 'r2', bikeId: null });
    const hired = attribute({ ...said, named: [{ bikeId: 'hire', rule: 'chosen' }] }, known);
    expect(hired).toMatchObject({ riderId: null, bikeId: 'hire' });
    expect(hired).not.toHaveProperty('riderRule');
  });

  it('another recorder says nothing', () => {
    expect(attribute({ ...said, recorder: 'other' }, known)).toMatchObject({ riderId: null, bikeId: null });
  });
});
