/** The climbs of a day on which not all of them may have been ridden. */
import { secondsIn } from '../../../units.js';
import type { Climb } from '../samples/reading.js';
import { GRID_S, stretchOf, type TimeGrid } from '../samples/timeGrid.js';
import { HARDLY, type JudgedClimb, judgeClimbs, SURELY } from './climbs.js';
import { chordM } from './stages.js';

/** What is believed of a climb: ridden, not ridden, or to be asked. */
export type Belief = 'ridden' | 'carried' | 'unsure';

export const beliefOf = (chance: number): Belief =>
  chance >= SURELY ? 'carried' : chance <= HARDLY ? 'ridden' : 'unsure';

/** A climb by the clock. Units: milliseconds since 1970, metres. */
export interface DayClimb {
  readonly fromMs: number;
  readonly toMs: number;
  readonly upM: number;
  readonly wayM: number;
  readonly chance: number;
  readonly motorChance: number;
  readonly heartBpm: number | null;
  readonly cadenceRpm: number | null;
  readonly powerW: number | null;
}

/** Shorter ones are a part of what lies beside them. Units: seconds. */
const BRIEF_S = 60;
const MOST = 60;
/** Units: metres. */
const LOWEST_M = 15;

/** Returns the climbs in order of time; none where all were surely ridden, with a motor or without. */
export function dayClimbs(grids: readonly TimeGrid[]): DayClimb[] {
  const stages = joined(judgeClimbs(grids));
  const isDoubted = ({ chance, motorChance }: DayClimb): boolean => Math.max(chance, motorChance) > HARDLY;
  if (!stages.some(isDoubted)) return [];
  return stages.slice(0, MOST);
}

/** Stages of one way up of which the same is believed are one climb; a brief one goes with what is beside it. */
function joined(stages: readonly JudgedClimb[]): DayClimb[] {
  const climbs: JudgedClimb[][] = [];
  for (const stage of stages) {
    const last = climbs.at(-1);
    const before = last?.at(-1)?.stage;
    const follows = before?.grid === stage.stage.grid && before.to === stage.stage.from;
    const isSame = last !== undefined && beliefOf(longestOf(last).chance) === beliefOf(stage.chance);
    const isBrief = stage.seconds < BRIEF_S || last?.every(({ seconds }) => seconds < BRIEF_S);
    if (follows && (isSame || isBrief)) last!.push(stage);
    else climbs.push([stage]);
  }
  return climbs.map(climbOf).filter(({ upM }) => upM >= LOWEST_M);
}

/** A line as lifts have it. */
const isLine = ({ straightness, unsteadiness }: JudgedClimb): boolean =>
  straightness >= 0.975 && unsteadiness <= 0.16;

/** At the ends of a lift, cells that do not rise or go like any straight stage of it are the queue or the ride. */
const END_RISE_SHARE = 0.4;
const END_SPEED_RATIO = 2;
const END_CELLS = 15 / GRID_S;

/** Returns the nodes between which a lift goes on. */
function endsOf(stages: readonly JudgedClimb[]): readonly [from: number, to: number] {
  const longest = longestOf(stages);
  const { grid } = longest.stage;
  const paces = stages
    .filter((one) => one === longest || (one.seconds >= BRIEF_S && isLine(one)))
    .map(({ upM, wayM, seconds }) => ({ rise: (upM * GRID_S) / seconds, way: (wayM * GRID_S) / seconds }));
  const belongs = (a: number, b: number): boolean => {
    const metres = chordM(grid, a, b) / (b - a);
    const up = (grid.zM[b]! - grid.zM[a]!) / (b - a);
    return paces.some(
      ({ rise, way }) =>
        metres <= END_SPEED_RATIO * way && metres >= way / END_SPEED_RATIO && up >= END_RISE_SHARE * rise,
    );
  };
  const rises = ({ upM, seconds }: JudgedClimb): boolean =>
    paces.some(({ rise }) => upM * GRID_S >= END_RISE_SHARE * rise * seconds);
  let from = (stages.find(rises) ?? stages[0]!).stage.from;
  let to = (stages.findLast(rises) ?? stages.at(-1)!).stage.to;
  while (from + END_CELLS < to && !belongs(from, from + END_CELLS)) from += 1;
  while (to - END_CELLS > from && !belongs(to - END_CELLS, to)) to -= 1;
  return [from, to];
}

const wholeOf = (stages: readonly JudgedClimb[]): readonly [from: number, to: number] => [
  stages[0]!.stage.from,
  stages.at(-1)!.stage.to,
];

const longestOf = (stages: readonly JudgedClimb[]): JudgedClimb =>
  stages.reduce((a, b) => (b.seconds > a.seconds ? b : a));

function climbOf(stages: readonly JudgedClimb[]): DayClimb {
  const longest = longestOf(stages);
  const { grid } = longest.stage;
  const isLift = longest.chance > HARDLY && isLine(longest);
  const [from, to] = isLift ? endsOf(stages) : wholeOf(stages);
  const sum = (value: (stage: JudgedClimb) => number): number =>
    stages.reduce((all, stage) => all + value(stage), 0);
  return {
    fromMs: stretchOf(grid, from, from)[0],
    toMs: stretchOf(grid, to, to)[0],
    upM: Math.round(sum(({ upM }) => upM)),
    wayM: Math.round(sum(({ wayM }) => wayM)),
    chance: longest.chance,
    motorChance: longest.motorChance,
    heartBpm: longest.heartBpm === null ? null : Math.round(longest.heartBpm),
    cadenceRpm: longest.cadenceRpm === null ? null : Math.round(longest.cadenceRpm),
    powerW: longest.powerW === null ? null : Math.round(longest.powerW),
  };
}

/** Fewer doubtful seconds than these are not worth a question; what is likelier counts. */
const WORTH_ASKING_S = 120;
const WORTH_ASKING_SHARE = 0.04;

/** Whether somebody must say which of these climbs were ridden. With a motor nothing is left out in silence. */
export function asksAboutClimbs(climbs: readonly Climb[], motor: boolean, movingS: number): boolean {
  const isOpen = (climb: Climb): boolean =>
    motor ? climb.motorChance >= 0.5 : beliefOf(climb.chance) === 'unsure';
  const openS = climbs
    .filter(isOpen)
    .reduce((sum, { moving }) => sum + moving.reduce((all, [from, to]) => all + secondsIn(to - from), 0), 0);
  return openS > Math.max(WORTH_ASKING_S, motor ? 0 : WORTH_ASKING_SHARE * movingS);
}

/** Whether a climb counts as ridden while nobody says otherwise. */
export const isLikelyRidden = (
  { chance, motorChance }: Pick<Climb, 'chance' | 'motorChance'>,
  motor: boolean,
): boolean => (motor ? motorChance : chance) < 0.5;
