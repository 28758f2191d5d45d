import { expect, it } from 'vitest';
import { seededRandom } from '../../../src/core/chance/seededRandom.js';
import {
  compared,
  groupOf,
  LEAST_EACH,
  lastMonths,
  type ServicedUnit,
  sumsOf,
} from '../../../src/core/ledger/benchYear.js';
import { day } from '../../../src/units.js';

const visit = (on: string, of: Partial<ServicedUnit> & { readonly share?: number } = {}): ServicedUnit => {
  const { share, ...rest } = of;
  const clock = { serviceKind: 'lower-leg', terrainHours: 0, movingHours: 0, limitHours: 50 } as const;
  return {
    ...{ unitId: 'u1', on: day(on), serviceKinds: ['lower-leg'], isKnown: true, wasUp: false },
    clock: share === undefined ? null : { ...clock, limit: 'terrain-hours', share },
    isDark: null,
    ...rest,
  };
};

it('what no reminder could help is on neither side, nor what nobody knew the last service of', () => {
  const begun = day('2026-03-01');
  expect(groupOf(visit('2026-02-28'), begun)).toBe('before');
  expect(groupOf(visit('2026-03-01'), begun)).toBe('since');
  expect(groupOf(visit('2026-03-01', { wasUp: true }), begun)).toBe('up-already');
  expect(groupOf(visit('2026-02-01', { isKnown: false }), begun)).toBe('not-known');
  expect(groupOf(visit('2026-04-01', { isKnown: false }), begun)).toBe('not-known');
  expect(groupOf(visit('2026-04-01'), null)).toBe('before');
});

it('sums count only what was counted and looked at; over begins at a quarter beyond', () => {
  const sums = sumsOf([
    visit('2026-01-01', { share: 1.25, isDark: true }),
    visit('2026-01-02', { share: 1.24, isDark: false }),
    visit('2026-01-03', { share: 0.4 }),
    visit('2026-01-04'),
  ]);
  expect(sums).toEqual({
    visits: 4,
    over: { hits: 1, of: 3 },
    dark: { hits: 1, of: 2 },
    middleShare: 1.24,
  });
  expect(sumsOf([])).toEqual({
    visits: 0,
    over: { hits: 0, of: 0 },
    dark: { hits: 0, of: 0 },
    middleShare: null,
  });
});

it('twelve months end with the one of today, over any year', () => {
  const months = lastMonths(
    [visit('2025-03-31'), visit('2025-04-01', { share: 2 }), visit('2026-03-02'), visit('2026-04-01')],
    day('2026-03-31'),
  );
  expect(months).toHaveLength(12);
  expect(months[0]).toEqual({ from: '2025-04-01', visits: 1, over: 1 });
  expect(months.at(-1)).toEqual({ from: '2026-03-01', visits: 1, over: 0 });
});

it('too few on one side are told as so many missing', () => {
  expect(compared({ hits: 3, of: LEAST_EACH - 1 }, { hits: 0, of: 400 })).toEqual({
    missing: { before: 1, since: 0 },
  });
  expect(compared({ hits: 3, of: LEAST_EACH }, { hits: 3, of: LEAST_EACH })).toMatchObject({
    verdict: 'undecided',
  });
});

/** Services of units that differ from one another, one to three a unit on each side: what the range must bear. */
function seenOn(side: 'before' | 'since', share: number, count: number, units: number[], seed: string) {
  const random = seededRandom(`${seed} ${side}`);
  let hits = 0;
  for (let i = 0; i < count; i++) {
    const unit = units[Math.floor(i / 2) % units.length]!;
    if (random() < Math.min(1, Math.max(0, share + unit))) hits += 1;
  }
  return { hits, of: count };
}

/** Invented: units whose own chance lies up to a fifth beside the mean, the same on both sides. */
const unitsOf = (count: number, seed: string): number[] => {
  const random = seededRandom(seed);
  return Array.from({ length: count }, () => 0.4 * (random() - 0.5));
};

it.each([
  [20, 0.45, 0.45],
  [40, 0.45, 0.25],
  [160, 0.35, 0.35],
  [160, 0.45, 0.25],
])(
  'of 1 000 simulations with %i on each side the range holds the truth about eight times of ten',
  (count, before, since) => {
    let [holds, rarer, moreOften] = [0, 0, 0];
    for (let i = 0; i < 1000; i++) {
      const seed = `${count} ${before} ${since} ${i}`;
      const units = unitsOf(count, seed);
      const said = compared(
        seenOn('before', before, count, units, seed),
        seenOn('since', since, count, units, seed),
      );
      if ('missing' in said) throw new Error(seed);
      if (said.change.low <= since - before && since - before <= said.change.high) holds += 1;
      if (said.verdict === 'rarer') rarer += 1;
      if (said.verdict === 'more-often') moreOften += 1;
    }
    expect(holds).toBeGreaterThanOrEqual(750);
    expect(holds).toBeLessThanOrEqual(880);
    // Where nothing changed, each word is said by chance in about one of ten.
    if (before === since) expect(Math.max(rarer, moreOften)).toBeLessThan(140);
    else expect(rarer).toBeGreaterThan(moreOften * 20);
  },
);
