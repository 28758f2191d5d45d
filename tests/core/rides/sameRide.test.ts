import { describe, expect, it } from 'vitest';
import type { Stretch } from '../../../src/core/ground/samples/intervals.js';
import type { PlaceMarks } from '../../../src/core/ground/samples/placeMarks.js';
import { type Outing, relationOf } from '../../../src/core/rides/sameRide.js';

const MINUTE = 60_000;
/** A sketch is compared by core/ground/sketch; any one is the same as itself. */
const LOOP = [
  12_000,
  3_000,
  ...Array.from({ length: 48 }, (_, i) => Math.round(1000 * Math.sin((Math.PI * (i + 1)) / 49))),
  700,
  300,
  300,
  700,
];

/** Moves in these minutes. */
function outing(stretches: readonly Stretch[], rest: Partial<Outing> = {}): Outing {
  const moving = stretches.map(([from, to]): Stretch => [from * MINUTE, to * MINUTE]);
  return {
    startMs: moving[0]![0],
    endMs: moving.at(-1)![1],
    moving,
    movingS: moving.reduce((sum, [from, to]) => sum + to - from, 0) / 1000,
    sketch: null,
    marks: undefined,
    zoneMs: null,
    ...rest,
  };
}
const plain = (from: number, to: number, sketch: readonly number[] | null = null): Outing =>
  outing([[from, to]], { sketch });
/** Rides on through cells from the given one on, one a minute. */
const cells = (from: number, count: number, first: number): PlaceMarks => ({
  key: 'k',
  recorder: null,
  fromMinute: from,
  cells: Array.from({ length: count }, (_, i) => String(1000 + first + i)).join(''),
});
const kindOf = (a: Outing, b: Outing): string => relationOf(a, b).kind;
const shiftOf = (a: Outing, b: Outing): number => relationOf(a, b).shiftMs / MINUTE;

describe('where the place is not known', () => {
  it('two recorders that share at least half of the shorter are one ride, either way round', () => {
    expect(kindOf(plain(0, 120), plain(10, 140))).toBe('same');
    expect(kindOf(plain(0, 120), plain(100, 140))).toBe('same');
    expect(kindOf(plain(0, 300), plain(100, 110))).toBe('same');
    expect(kindOf(plain(100, 140), plain(0, 120))).toBe('same');
  });

  it('one after the other is two rides, also where clocks differ by a minute', () => {
    expect(kindOf(plain(0, 60), plain(60, 120))).toBe('apart');
    expect(kindOf(plain(0, 61), plain(60, 120))).toBe('apart');
  });

  it('more than a minute in common and less than half is asked', () => {
    expect(kindOf(plain(0, 62), plain(60, 120))).toBe('unclear');
    expect(kindOf(plain(0, 89), plain(60, 120))).toBe('unclear');
  });

  it('a recording that only lies around another, without moving meanwhile, has nothing to do with it', () => {
    const around = outing([
      [0, 30],
      [300, 330],
    ]);
    expect(kindOf(around, plain(100, 160))).toBe('apart');
  });
});

describe('where the place is known', () => {
  it('one place at one time is one ride, however little they share', () => {
    const a = outing([[0, 60]], { marks: cells(0, 60, 0) });
    const b = outing([[55, 120]], { marks: cells(55, 65, 55) });
    expect(kindOf(a, b)).toBe('same');
  });

  it('two places at one time are two', () => {
    const a = outing([[0, 60]], { marks: cells(0, 60, 0) });
    const b = outing([[0, 60]], { marks: cells(0, 60, 500) });
    expect(kindOf(a, b)).toBe('elsewhere');
  });

  it('marks under another key say nothing', () => {
    const a = outing([[0, 60]], { marks: cells(0, 60, 0) });
    const b = outing([[0, 60]], { marks: { ...cells(0, 60, 500), key: 'other' } });
    expect(kindOf(a, b)).toBe('same');
  });
});

describe('under another clock', () => {
  const RHYTHM: readonly Stretch[] = [
    [0, 13],
    [15, 41],
    [44, 58],
    [70, 100],
  ];
  const later = (minutes: number): readonly Stretch[] =>
    RHYTHM.map(([from, to]) => [from + minutes, to + minutes]);

  it.each([0.5, -0.5, 10, -10, 60, 120, 330, -585, 840, 900])(
    'a copy of the same rhythm is moved by %d minutes and is one ride',
    (minutes) => {
      const [a, b] = [outing(RHYTHM), outing(later(minutes))];
      expect([kindOf(a, b), shiftOf(a, b)]).toEqual(['same', -minutes]);
      expect([kindOf(b, a), shiftOf(b, a)]).toEqual(['same', minutes]);
    },
  );

  it('more than 15 hours are no clock', () => {
    expect(kindOf(outing(RHYTHM), outing(later(905)))).toBe('apart');
  });

  it('the same way in another rhythm is another ride', () => {
    const again = outing(
      [
        [120, 150],
        [158, 181],
        [190, 225],
      ],
      { sketch: LOOP },
    );
    expect(kindOf(outing(RHYTHM, { sketch: LOOP }), again)).toBe('apart');
  });

  it('a copy without halts needs the same way, the same length and a shift that clocks have', () => {
    expect([
      kindOf(plain(0, 60, LOOP), plain(75, 135, LOOP)),
      shiftOf(plain(0, 60, LOOP), plain(75, 135, LOOP)),
    ]).toEqual(['same', -75]);
    expect(kindOf(plain(0, 60, LOOP), plain(67, 127, LOOP))).toBe('shifted');
    expect(kindOf(plain(0, 60), plain(75, 135))).toBe('apart');
    const inTown = outing([[67, 127]], { sketch: LOOP, zoneMs: 67 * MINUTE });
    expect(kindOf(plain(0, 60, LOOP), inTown)).toBe('same');
    expect(kindOf(plain(0, 60, LOOP), plain(1440, 1500, LOOP))).toBe('apart');
  });

  it('half of it is a copy too', () => {
    const half = outing(later(60).slice(1));
    expect([kindOf(outing(RHYTHM), half), shiftOf(outing(RHYTHM), half)]).toEqual(['same', -60]);
  });

  it('no shift brings together what never was in one place', () => {
    const a = outing(RHYTHM, { marks: cells(0, 100, 0) });
    const b = outing(later(120), { marks: cells(120, 100, 500) });
    expect(kindOf(a, b)).toBe('apart');
  });
});
