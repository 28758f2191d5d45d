/** What the foam rings seen at services teach about the interval. */

import { isotonic } from '../chance/isotonic.js';
import { type Scored, shareRankedRight } from '../chance/rankedPairs.js';
import { hoursAtChance, RISE_CURVES } from '../chance/riseFit.js';
import { type Random, seededRandom } from '../chance/seededRandom.js';
import { groupBy } from '../groupBy.js';

/** Foam rings seen at the end of a service period. */
export interface RingsSeen {
  readonly unitId: string;
  readonly terrainHours: number;
  readonly movingHours: number;
  readonly isDark: boolean;
}

/** Under these nothing is told: too little was seen. */
export const LEAST_SERVICES = 40;
export const LEAST_DARK = 10;
/** *Default*: the interval ends while nine of ten rings are not yet dark. Common practice, no source. */
export const SHARE_DARK = 0.1;
const RESAMPLES = 400;
/** Ranges of few services are too narrow; by so many parts of one over their number they are made wider. See the evidence. */
const WIDENED = 10;
/** Eight of ten. */
const LOW = 0.1;
const HIGH = 0.9;

export interface Range {
  readonly low: number;
  readonly high: number;
}

/** The terrain hours at which nine of ten rings are not yet dark, with where they lie eight times of ten. */
export interface NineOfTen extends Range {
  readonly hours: number;
}

/** A step of the share gone dark: from these hours on. */
export interface DarkStep {
  readonly hours: number;
  readonly share: number;
  /** Services seen from this step to the next. */
  readonly services: number;
}

export interface Lesson {
  readonly steps: readonly DarkStep[];
  /** Null where the rings seen do not say: they darken no more with more hours. */
  readonly nineOfTen: NineOfTen | null;
  /** How often dark rings had more hours than others: ½ is chance, 1 always. */
  readonly terrain: number;
  readonly moving: number;
  /** Terrain less moving. */
  readonly lead: number;
  readonly leadRange: Range;
  readonly better: 'terrain-hours' | 'moving-hours' | 'undecided';
}

export interface Teaching {
  readonly services: number;
  readonly dark: number;
  /** How many more must be seen before anything is told. */
  readonly missing: { readonly services: number; readonly dark: number };
  /** Null while too little was seen. */
  readonly lesson: Lesson | null;
  /** The fewest terrain hours of rings that were all dark: when they go dark was never seen. Null where some were not. */
  readonly allDarkFrom: number | null;
}

/**
 * Returns the share gone dark by terrain hours as steps, without assuming a curve. At a service it is seen only whether
 * the rings had gone dark by then: current-status data, whose likelihood is greatest for the rising values nearest to
 * the shares seen.
 * Source: Groeneboom and Hendrickx 2017, Electronic Journal of Statistics 11(2), as described in the documentation of
 * the package curstatCI: the left derivative of the greatest convex minorant of (services, dark), summed by hours.
 */
export function darkSteps(seen: readonly Pick<RingsSeen, 'terrainHours' | 'isDark'>[]): DarkStep[] {
  const byHours = new Map<number, { value: number; weight: number }>();
  for (const { terrainHours, isDark } of seen) {
    const held = byHours.get(terrainHours) ?? { value: 0, weight: 0 };
    byHours.set(terrainHours, { value: held.value + (isDark ? 1 : 0), weight: held.weight + 1 });
  }
  const hours = [...byHours.keys()].sort((a, b) => a - b);
  const counts = hours.map((one) => byHours.get(one)!);
  const shares = isotonic(counts.map(({ value, weight }) => ({ value: value / weight, weight })));
  const steps: { hours: number; share: number; services: number }[] = [];
  for (const [i, share] of shares.entries()) {
    const last = steps.at(-1);
    // A pool's shares differ by rounding alone.
    if (last && share - last.share < 1e-9) last.services += counts[i]!.weight;
    else steps.push({ hours: hours[i]!, share, services: counts[i]!.weight });
  }
  return steps;
}

const by = (seen: readonly RingsSeen[], hours: 'terrainHours' | 'movingHours'): Scored[] =>
  seen.map((one) => ({ score: one[hours], isHit: one.isDark }));

/** Draws whole units, since the services of one are alike. */
function resampled(units: readonly (readonly RingsSeen[])[], random: Random): RingsSeen[] {
  return units.flatMap(() => units[Math.floor(random() * units.length)]!);
}

const at = (sorted: readonly number[], share: number): number =>
  sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!;

const endOf = (seen: readonly RingsSeen[], curve: (typeof RISE_CURVES)[number]): number =>
  hoursAtChance(
    seen.map(({ terrainHours, isDark }) => ({ hours: terrainHours, isHit: isDark })),
    SHARE_DARK,
    curve,
  );

/** Both curves have their part in the range, for nobody knows which is nearer to the truth. */
function nineOfTenOf(ends: readonly number[], services: number): NineOfTen | null {
  const sorted = [...ends].sort((a, b) => a - b);
  const [low, middle, high] = [at(sorted, LOW), at(sorted, 0.5), at(sorted, HIGH)];
  if (!Number.isFinite(high)) return null;
  const wider = (end: number): number => middle * (end / middle) ** (1 + WIDENED / services);
  return { hours: middle, low: wider(low), high: wider(high) };
}

function lessonOf(seen: readonly RingsSeen[], random: Random): Lesson {
  const units = [...groupBy(seen, ({ unitId }) => unitId).values()];
  const ends: number[] = [];
  const leads: number[] = [];
  for (let i = 0; i < RESAMPLES; i++) {
    const drawn = resampled(units, random);
    ends.push(endOf(drawn, RISE_CURVES[i % RISE_CURVES.length]!));
    const lead = shareRankedRight(by(drawn, 'terrainHours')) - shareRankedRight(by(drawn, 'movingHours'));
    if (!Number.isNaN(lead)) leads.push(lead);
  }
  leads.sort((a, b) => a - b);
  const [terrain, moving] = [
    shareRankedRight(by(seen, 'terrainHours')),
    shareRankedRight(by(seen, 'movingHours')),
  ];
  const leadRange = { low: at(leads, LOW), high: at(leads, HIGH) };
  return {
    steps: darkSteps(seen),
    nineOfTen: nineOfTenOf(ends, seen.length),
    terrain,
    moving,
    lead: terrain - moving,
    leadRange,
    better: leadRange.low > 0 ? 'terrain-hours' : leadRange.high < 0 ? 'moving-hours' : 'undecided',
  };
}

/** Returns what was learnt, or how much has been seen while that is too little. The seed decides what is drawn. */
export function teach(seen: readonly RingsSeen[], seed: string): Teaching {
  const dark = seen.filter((one) => one.isDark).length;
  const isEnough = seen.length >= LEAST_SERVICES && dark >= LEAST_DARK && dark < seen.length;
  return {
    services: seen.length,
    dark,
    missing: {
      services: Math.max(0, LEAST_SERVICES - seen.length),
      dark: Math.max(0, LEAST_DARK - dark),
    },
    lesson: isEnough ? lessonOf(seen, seededRandom(seed)) : null,
    allDarkFrom:
      dark >= LEAST_DARK && dark === seen.length
        ? Math.min(...seen.map(({ terrainHours }) => terrainHours))
        : null,
  };
}
