import { describe, expect, it } from 'vitest';
import {
  ALL_MONTHS,
  type Declared,
  type DeclaredOf,
  declaredHabit,
  declaredRides,
  holdsOn,
} from '../../../src/core/forecast/declared.js';
import { DEFAULT_WEIGHTS } from '../../../src/core/ledger/weight.js';
import { day } from '../../../src/units.js';

const bike = { id: 'b', handle: 'b', riderId: 'r', fleetId: null, name: 'b', type: 'trail' as const };
const word = (rest: Partial<Declared> = {}): Declared => ({
  ...{ bikeId: 'b', hoursAWeek: 4, ground: 'typical', months: ALL_MONTHS, from: day('2025-01-01'), to: null },
  ...rest,
});
const of = (said: readonly Declared[], files: Partial<DeclaredOf['files']> = {}): DeclaredOf => ({
  ...{ bike, said, weights: DEFAULT_WEIGHTS, zone: 'Europe/Lisbon' },
  files: { from: null, upTo: null, ...files },
});
const daysOf = (one: DeclaredOf, today = '2025-12-01') =>
  declaredRides(one, day('2000-01-01'), day(today)).map(({ id }) => id.split(' ')[1]!);
const sumS = (one: DeclaredOf, from: string, today: string): number =>
  declaredRides(one, day(from), day(today)).reduce((sum, { movingS }) => sum + movingS, 0);

describe('about 4 h a week', () => {
  it('is spread evenly, and any seven days come to it exactly', () => {
    const rides = declaredRides(of([word()]), day('2025-03-01'), day('2025-06-01'));
    expect(Math.max(...rides.map((one) => one.movingS)) - Math.min(...rides.map((one) => one.movingS))).toBe(
      1,
    );
    for (let i = 0; i < rides.length - 7; i++)
      expect(rides.slice(i, i + 7).reduce((sum, one) => sum + one.movingS, 0)).toBe(4 * 3600);
    // A year of 52 weeks, over both changes of the clocks.
    expect(sumS(of([word()]), '2025-01-01', '2025-12-31')).toBe(52 * 4 * 3600);
  });

  it('weighs as the ground that was named does', () => {
    const [smooth, rough] = (['smooth', 'rough'] as const).map(
      (ground) => declaredRides(of([word({ ground })]), day('2025-03-01'), day('2025-03-02'))[0]!,
    );
    expect(smooth!.groundMs).toBe(smooth!.movingS * 500);
    expect(rough!.groundMs).toBe(rough!.movingS * 2000);
  });

  it('does not count today, which is not over, nor days outside its months or its time', () => {
    const summer = word({ months: [4, 5, 6, 7, 8, 9, 10], from: day('2025-03-20'), to: day('2025-11-05') });
    const days = daysOf(of([summer]));
    expect([days[0], days.at(-1)]).toEqual(['2025-04-01', '2025-10-31']);
    expect(daysOf(of([summer]), '2025-04-03')).toEqual(['2025-04-01', '2025-04-02']);
    expect(daysOf(of([word({ to: day('2025-01-03') })]))).toEqual(['2025-01-01', '2025-01-02']);
  });

  it('gives way to a later word from that word’s first day on', () => {
    const later = word({ from: day('2025-02-01'), hoursAWeek: 2, to: day('2025-02-15') });
    const both = of([later, word()]);
    expect(holdsOn(both, day('2025-01-31'))!.hoursAWeek).toBe(4);
    expect(holdsOn(both, day('2025-02-01'))!.hoursAWeek).toBe(2);
    expect(holdsOn(both, day('2025-02-15'))!.hoursAWeek).toBe(4);
  });

  it('ends on the day from which nobody rides it', () => {
    const ended = of([word(), word({ from: day('2025-02-01'), hoursAWeek: 0 })]);
    expect(daysOf(ended).at(-1)).toBe('2025-01-31');
    expect(holdsOn(ended, day('2025-03-01'))).toBeNull();
    expect(declaredHabit(ended, day('2025-03-01'))).toEqual([]);
  });

  it('counts before the first file and after a lapsed hand-over only, rest days too', () => {
    const told = of([word()], { from: day('2025-03-01') });
    expect(daysOf(told).at(-1)).toBe('2025-02-28');
    const lapsed = daysOf(of([word()], { from: day('2025-03-01'), upTo: day('2025-06-30') }));
    expect(lapsed).toContain('2025-02-28');
    expect(lapsed).not.toContain('2025-03-01');
    expect(lapsed).not.toContain('2025-06-30');
    expect(lapsed).toContain('2025-07-01');
  });
});

describe('what is foreseen from it', () => {
  it('is a year as it was told, before the day on which it was said', () => {
    const said = of([word({ from: day('2025-11-20') })]);
    const habit = declaredHabit(said, day('2025-12-01'));
    expect(habit).toHaveLength(364 - 11);
    expect(daysOf(said)).toHaveLength(11);
  });

  it('is nothing where files ever told of the bike', () => {
    const lapsed = of([word()], { from: day('2025-03-01'), upTo: day('2025-06-30') });
    expect(declaredHabit(lapsed, day('2025-12-01'))).toEqual([]);
  });
});
