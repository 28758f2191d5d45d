import { normalQuantile } from '../../../src/core/chance/normalQuantile.js';
import { type Random, seededRandom } from '../../../src/core/chance/seededRandom.js';
import { dayNumber, dayOfNumber } from '../../../src/core/days/dayNumber.js';
import { forecastRiding, type RidingForecast } from '../../../src/core/forecast/forecast.js';
import type { RidingHabits } from '../../../src/core/forecast/ridingHabits.js';
import { HOUR_MS } from '../../../src/units.js';
import { earlierPassages } from '../earlierLaw.js';
import type { Cut } from './forecastCuts.js';
import { croston, teunterSyntetosBabai } from './intermittentDemand.js';

/** Five years stand for "not within the horizon", in every forecast alike. */
export const HORIZON_DAYS = 1820;
const QUANTILES = 19;
const PATHS = 300;

/** Days ahead at 5, 10, … 95 %; a point forecast gives the same day for all. */
export type Forecaster = (cut: Cut, goalHours: number) => readonly number[];

const point = (goalHours: number, hoursAWeek: number): readonly number[] =>
  Array<number>(QUANTILES).fill(
    hoursAWeek > 0 ? Math.min(HORIZON_DAYS, (goalHours / hoursAWeek) * 7) : HORIZON_DAYS,
  );

const mean = (values: readonly number[]): number =>
  values.length === 0 ? 0 : values.reduce((sum, value) => sum + value, 0) / values.length;

const rate =
  (weeks: number): Forecaster =>
  (cut, goalHours) =>
    point(goalHours, mean(cut.weeks.slice(0, weeks)));

/** Steps a path week by week until the goal; `begin` gives the hours of each next week. */
const simulate = (goalHours: number, random: Random, begin: (random: Random) => () => number) => {
  const days = Array.from({ length: PATHS }, () => {
    const nextWeek = begin(random);
    let hours = 0;
    for (let week = 0; week * 7 < HORIZON_DAYS; week++) {
      const more = nextWeek();
      if (hours + more >= goalHours)
        return week * 7 + Math.max(1, Math.ceil((7 * (goalHours - hours)) / more));
      hours += more;
    }
    return HORIZON_DAYS;
  }).sort((a, b) => a - b);
  return Array.from(
    { length: QUANTILES },
    (_, i) => days[Math.ceil(((i + 1) * PATHS) / (QUANTILES + 1)) - 1]!,
  );
};

const pick = (values: readonly number[], random: Random): number =>
  values[Math.floor(random() * values.length)] ?? 0;

const bootstrap =
  (window: number): Forecaster =>
  (cut, goalHours) => {
    const weeks = cut.weeks.slice(0, window);
    return simulate(goalHours, seededRandom(`${cut.rider} ${cut.at}`), (random) => () => pick(weeks, random));
  };

/** Shares of ride weeks after a rest week and after a ride week. */
const chances = (weeks: readonly number[]): readonly [afterRest: number, afterRide: number] => {
  const after = (ridden: boolean): number =>
    mean(
      weeks
        .slice(0, -1)
        .filter((_, i) => weeks[i + 1]! > 0 === ridden)
        .map((hours) => Number(hours > 0)),
    );
  return [after(false), after(true)];
};

/** Ride weeks and rest weeks as a two-state chain over a year, times one lognormal factor a path. */
export const chain =
  (sigma: number): Forecaster =>
  (cut, goalHours) => {
    const weeks = cut.weeks.slice(0, 52);
    const ridden = weeks.filter((hours) => hours > 0);
    const [afterRest, afterRide] = chances(weeks);
    return simulate(goalHours, seededRandom(`${cut.rider} ${cut.at}`), (random) => {
      const factor = Math.exp(sigma * normalQuantile(Math.max(1e-9, random())));
      let riding = (weeks[0] ?? 0) > 0;
      return () => {
        riding = random() < (riding ? afterRide : afterRest);
        return riding ? factor * pick(ridden, random) : 0;
      };
    });
  };

const oldestFirst = (cut: Cut): readonly number[] => [...cut.weeks].reverse();

const crostonRate: Forecaster = (cut, goalHours) =>
  point(goalHours, croston(oldestFirst(cut), 0.1).perPeriod);

const tsbRate: Forecaster = (cut, goalHours) => {
  const series = oldestFirst(cut);
  const ridden = series.filter((hours) => hours > 0);
  const start = { size: ridden[0] ?? 0, chance: series.length === 0 ? 0 : ridden.length / series.length };
  return point(goalHours, teunterSyntetosBabai(series, { alpha: 0.1, beta: 0.1, ...start }));
};

const inDays = (sorted: Float64Array): readonly number[] =>
  Array.from({ length: QUANTILES }, (_, i) =>
    Math.min(HORIZON_DAYS, sorted[Math.ceil(((i + 1) * sorted.length) / (QUANTILES + 1)) - 1]!),
  );

/** The forecast as it was before it knew the season in hours. */
const earlier: Forecaster = (cut, goalHours) =>
  inDays(
    earlierPassages(
      cut.rides,
      dayOfNumber(cut.at),
      { terrainMs: goalHours * HOUR_MS, movingS: null },
      `${cut.rider} ${cut.at}`,
    ),
  );

/** The forecast that Stanchion makes, with habits and as many paths as asked; a cut's paths are drawn once. */
export const oursWith = (habits: RidingHabits, paths?: number): Forecaster => {
  let last: { readonly cut: Cut; readonly riding: RidingForecast } | null = null;
  return (cut, goalHours) => {
    const today = dayOfNumber(cut.at);
    const known = {
      today,
      knownUpTo: today,
      filesBy: today,
      rides: cut.rides,
      hemisphere: 1,
      seed: `${cut.rider} ${cut.at}`,
    } as const;
    if (last?.cut !== cut) last = { cut, riding: forecastRiding(known, habits, paths) };
    const { quantileDays } = last.riding.reach({ terrainMs: goalHours * HOUR_MS, movingS: null });
    return quantileDays.map((on) => (on === null ? HORIZON_DAYS : dayNumber(on) - cut.at));
  };
};

export const RIVALS: readonly { readonly name: string; readonly forecast: Forecaster }[] = [
  { name: 'hours left ÷ rate of 12 weeks', forecast: rate(12) },
  { name: 'hours left ÷ rate of 52 weeks', forecast: rate(52) },
  { name: 'Croston, α 0.1', forecast: crostonRate },
  { name: 'TSB, α β 0.1', forecast: tsbRate },
  { name: 'bootstrap of 52 weeks', forecast: bootstrap(52) },
  { name: 'chain × lognormal 0.7', forecast: chain(0.7) },
  { name: 'ours before', forecast: earlier },
];
