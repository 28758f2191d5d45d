/** Ways up that may have been on a lift or in a vehicle: the whole day is judged, not a window of it. */
import { joined, quantile } from '../../chance/quantile.js';
import type { TimeGrid } from '../samples/timeGrid.js';
import { GRID_S } from '../samples/timeGrid.js';
import { ascentsOf, type Stage, stagesOf } from './stages.js';
import { climbedAndGone, type Traits, traitsOf } from './traits.js';

/** A stretch upward with what was seen of it and how likely it was not ridden. */
export interface JudgedClimb extends Traits {
  readonly stage: Stage;
  /** That it was not ridden, 0 to 1: by a rider alone, and with a motor that helps. */
  readonly chance: number;
  readonly motorChance: number;
}

/** From here on a climb is surely not ridden; up to here it surely is. What lies between is asked. */
export const SURELY = 0.9;
export const HARDLY = 0.1;

/** Before anything is seen, that a way up begins carried. Units: logarithm of odds, as all below. */
const BEFORE = -3.5;
const MOTOR_BEFORE = -4.5;
/** Getting on, and off, on the way: after a halt, and without one. */
const AT_HALT = { on: -4, off: -0.5 } as const;
const GOING = { on: -5, off: -4 } as const;
const HALT_S = 15;
/** Nobody climbs more often in a day: so many are each judged by itself, or a made-up file would take all day. */
const MOST_LAPS = 200;

/** Shape: rising in order, one a stage; the effort of the whole day is what its parts are held against. */
export function judgeClimbs(grids: readonly TimeGrid[]): JudgedClimb[] {
  const day = dayOf(grids);
  const ascents = grids.flatMap(ascentsOf).map((whole): Ascent => {
    const stages = stagesOf(whole).map((stage) => ({ stage, traits: traitsOf(stage) }));
    const { upM, wayM } = climbedAndGone(whole);
    return { whole, stages, upM, wayM, seconds: secondsOf(whole) };
  });
  const laps = ascents.length <= MOST_LAPS ? ascents : [];
  const judge = (motor: boolean): number[][] => {
    const isOpen = motor || day.isTold ? () => false : (at: number) => isAllOrNothing(laps, at);
    const work = ascents.map(({ stages }) => stages.map(({ traits }) => byWorkOf(traits, motor)));
    const seen = ascents.map(({ stages }) => stages.map(({ traits }) => seenOf(traits, day, motor)));
    return ascents.map((ascent, at) => {
      const chances = chancesOf(
        ascent,
        seen[at]!.map((own, i) => own + work[at]![i]! + likeness(laps, seen, at, i)),
        paceOf(laps, at) + (motor ? MOTOR_BEFORE : BEFORE),
      );
      const isCarried = chances.some((chance) => chance >= SURELY);
      return isCarried || !isOpen(at) ? chances : chances.map((chance) => Math.max(OPEN, chance));
    });
  };
  const [chances, motorChances] = [judge(false), judge(true)];
  return ascents.flatMap(({ stages }, at) =>
    stages.map(({ stage, traits }, i) => judged(stage, traits, chances[at]![i]!, motorChances[at]![i]!)),
  );
}

/** Field by field, for a spread object is slow to make and slow to read. */
const judged = (stage: Stage, traits: Traits, chance: number, motorChance: number): JudgedClimb => ({
  stage,
  chance,
  motorChance,
  seconds: traits.seconds,
  upM: traits.upM,
  wayM: traits.wayM,
  work: traits.work,
  straightness: traits.straightness,
  unsteadiness: traits.unsteadiness,
  heartBpm: traits.heartBpm,
  cadenceRpm: traits.cadenceRpm,
  powerW: traits.powerW,
  pedalled: traits.pedalled,
});

/**
 * Returns how likely each stage was not ridden. Whoever is carried up seldom gets off on the way: each stage is judged
 * with those before and after it, forward and backward over two states.
 */
function chancesOf({ stages }: Ascent, seen: readonly number[], before: number): number[] {
  const n = seen.length;
  const haltS = (i: number): number => secondsOf(stages[i]!.stage) - stages[i]!.traits.seconds;
  const change = (i: number): { on: number; off: number } => {
    const { on, off } = Math.max(haltS(i), haltS(i - 1)) >= HALT_S ? AT_HALT : GOING;
    return { on: chanceOf(on), off: chanceOf(off) };
  };
  const odds = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let prior = before;
    if (i > 0) {
      const { on, off } = change(i);
      const carried = chanceOf(odds[i - 1]!);
      const then = carried * (1 - off) + (1 - carried) * on;
      prior = Math.log(then / (1 - then));
    }
    odds[i] = prior + seen[i]!;
  }
  const back = new Float64Array(n);
  for (let i = n - 2; i >= 0; i--) {
    const { on, off } = change(i + 1);
    const next = Math.exp(within(back[i + 1]! + seen[i + 1]!, -30, 30));
    back[i] = Math.log(((1 - off) * next + off) / (on * next + 1 - on));
  }
  return seen.map((_, i) => chanceOf(odds[i]! + back[i]!));
}

const chanceOf = (odds: number): number => 1 / (1 + Math.exp(-odds));
const within = (value: number, low: number, high: number): number => Math.min(high, Math.max(low, value));
const share = (value: number, low: number, high: number): number =>
  within((value - low) / (high - low), 0, 1);

interface DayEffort {
  /** Whether anything recorded says what the rider did. */
  readonly isTold: boolean;
  /** What the heart does when this rider works; null where that cannot be told. */
  readonly hardBpm: number | null;
  readonly pedals: boolean;
}

const HARD_BPM = 125;
const HEART_RANGE_BPM = 25;
const PEDALS = 0.02;

function dayOf(grids: readonly TimeGrid[]): DayEffort {
  const beats = joined(
    grids.flatMap(({ heartBpm }) => (heartBpm === null ? [] : [beatsAbove(heartBpm, 30)])),
  );
  const hardBpm = quantile(beats, 0.95);
  const told = hardBpm >= HARD_BPM && hardBpm - quantile(beats, 0.1) >= HEART_RANGE_BPM;
  let [turns, known] = [0, 0];
  for (const { cadenceRpm, powerW, count } of grids) {
    if (cadenceRpm === null && powerW === null) continue;
    for (let k = 0; k < count; k++) {
      const rpm = cadenceRpm === null ? Number.NaN : cadenceRpm[k]!;
      const watts = powerW === null ? Number.NaN : powerW[k]!;
      if (!Number.isNaN(rpm) || !Number.isNaN(watts)) known += 1;
      if (rpm >= 25 || watts >= 30) turns += 1;
    }
  }
  const pedals = known > 0 && turns / known >= PEDALS;
  return { isTold: told || pedals, hardBpm: told ? hardBpm : null, pedals };
}

function beatsAbove(heartBpm: Float64Array, least: number): Float64Array {
  const beats = new Float64Array(heartBpm.length);
  let count = 0;
  for (let k = 0; k < heartBpm.length; k++) if (heartBpm[k]! > least) beats[count++] = heartBpm[k]!;
  return beats.subarray(0, count);
}

/** What riders keep up for so many seconds, for each kilogram of rider and bike; a motor adds to it. Units: W/kg. */
const lastingWork = (seconds: number, motor: boolean): number =>
  (motor ? 7.5 : 4.2) + 250 / Math.max(60, seconds);

/** Wind, a wheel in front and a bicycle pushed uphill look like what they are not. */
const climbsAt = ({ seconds, upM }: Traits): number => share(upM / seconds, 0.08, 0.2);
const rollsAt = ({ seconds, wayM }: Traits): number => share(wayM / seconds, 1.3, 1.9);

/** What the work says that a rider would have had to do. It is no other on the day's other laps. */
function byWorkOf(traits: Traits, motor: boolean): number {
  const { seconds, work } = traits;
  if (seconds === 0) return 0;
  const beyond = 2.2 * (work - lastingWork(seconds, motor));
  if (beyond > 0) return Math.min(6, beyond) * climbsAt(traits) * share(seconds, 30, 150);
  return within(beyond, work < 1 ? -0.6 : -1.8, 0) * share(seconds, 30, 300);
}

/** What else a stage says by itself: a line as lifts have it, a heart that rests, pedals that stand still. */
function seenOf(traits: Traits, day: DayEffort, motor: boolean): number {
  const { seconds, work, straightness, unsteadiness, upM, wayM, heartBpm, pedalled } = traits;
  if (seconds === 0) return 0;
  const isLine =
    share(straightness, 0.982, 0.994) *
    share(-unsteadiness, -0.13, -0.06) *
    share(upM / Math.max(1, wayM), 0.1, 0.15) *
    share(seconds, 60, 360);
  const byLine = Number.isNaN(isLine) ? 0 : 7 * isLine * rollsAt(traits);
  const works = share(work, 0.5, 2);
  const byHeart =
    heartBpm === null || day.hardBpm === null
      ? 0
      : 4.5 * (1 - 2 * share(heartBpm / day.hardBpm, 0.6, 0.84)) * works;
  const stands = pedalled === null || !day.pedals ? 0 : 1 - 2 * share(pedalled, 0.03, 0.4);
  const byPedals = stands > 0 ? 4 * stands * works * rollsAt(traits) : 6 * stands;
  return share(seconds, 30, 150) * (byLine + (motor ? within(byHeart, -4, 1) : byHeart) + byPedals);
}

interface Ascent {
  readonly whole: Stage;
  readonly stages: readonly { readonly stage: Stage; readonly traits: Traits }[];
  readonly upM: number;
  readonly wayM: number;
  readonly seconds: number;
}

const secondsOf = ({ from, to }: Stage): number => (to - from) * GRID_S;

/** The same way up again: as high and as long. */
const isLike = (a: Ascent, b: Ascent): boolean =>
  Math.abs(a.upM - b.upM) <= Math.max(12, 0.06 * a.upM) && Math.abs(a.wayM - b.wayM) <= 0.05 * a.wayM;
const LIKE_AT_MOST = 4;

/** What the same part of the same way says on the day's other laps: they are not wholly of their own. */
function likeness(
  ascents: readonly Ascent[],
  seen: readonly (readonly number[])[],
  at: number,
  i: number,
): number {
  const mine = ascents[at];
  if (mine === undefined) return 0;
  const place = (ascent: Ascent, stage: Stage): number =>
    (ascent.whole.grid.zM[Math.round((stage.from + stage.to) / 2)]! -
      ascent.whole.grid.zM[ascent.whole.from]!) /
    Math.max(1, ascent.upM);
  const middle = place(mine, mine.stages[i]!.stage);
  let sum = 0;
  for (const [n, other] of ascents.entries()) {
    if (n === at || !isLike(mine, other)) continue;
    const nearest = other.stages
      .map(({ stage }, k) => ({ k, apart: Math.abs(place(other, stage) - middle) }))
      .reduce((a, b) => (b.apart < a.apart ? b : a));
    sum += 0.5 * seen[n]![nearest.k]!;
  }
  return within(sum, -LIKE_AT_MOST, LIKE_AT_MOST);
}

/**
 * Laps of which nothing recorded says who did the work. A strong rider can have done them all; so can a driver at a
 * rider's pace, and then hours are wrong by the whole day. Units: metres, m/s upward.
 */
const ALL_DAY = { laps: 4, upM: 800, upMps: 0.12 } as const;
const AS_HIGH = 0.25;
const OPEN = 0.3;

function isAllOrNothing(ascents: readonly Ascent[], at: number): boolean {
  const mine = ascents[at];
  if (mine === undefined) return false;
  const like = ascents.filter((one) => Math.abs(Math.log(one.upM / mine.upM)) <= AS_HIGH);
  const upM = like.reduce((sum, one) => sum + one.upM, 0);
  const seconds = like.reduce((sum, one) => sum + one.seconds, 0);
  return like.length >= ALL_DAY.laps && upM >= ALL_DAY.upM && upM >= ALL_DAY.upMps * seconds;
}

/** Riders fade and vary from lap to lap; a lift and a driver on the same road hardly do. */
const EVEN = 0.012;
const VARIED = 0.035;
const LEAST_WORK = 2.2;

/** What the times of the day's laps say, between a fifth and four fifths of the height. */
function paceOf(ascents: readonly Ascent[], at: number): number {
  const mine = ascents[at];
  if (mine === undefined) return 0;
  const like = ascents.filter((one, n) => n === at || isLike(mine, one));
  if (like.length < 4) return 0;
  const times = like.map(({ whole, upM }) => {
    const { zM } = whole.grid;
    const reach = (part: number): number => {
      for (let k = whole.from; k <= whole.to; k++) if (zM[k]! >= zM[whole.from]! + part * upM) return k;
      return whole.to;
    };
    return reach(0.8) - reach(0.2);
  });
  const mean = times.reduce((a, b) => a + b, 0) / times.length;
  const spread = Math.sqrt(times.reduce((sum, t) => sum + (t - mean) ** 2, 0) / (times.length - 1)) / mean;
  const works =
    mine.stages.reduce((sum, { traits }) => sum + traits.work * traits.seconds, 0) /
    mine.stages.reduce((sum, { traits }) => sum + traits.seconds, 1);
  return works < LEAST_WORK ? 0 : 5 - 6.5 * share(spread, EVEN, VARIED);
}
