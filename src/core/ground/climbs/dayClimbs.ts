/** The climbs of a day on which not all of them may have been ridden. */
import { secondsIn } from '../../../units.js';
import type { Climb } from '../samples/reading.js';
import { stretchOf, type TimeGrid } from '../samples/timeGrid.js';
import { BRIEF_S, ENDS_UNKNOWN, endsOf, isLine, longestOf, wholeOf } from './climbEnds.js';
import { HARDLY, type JudgedClimb, judgeClimbs, SURELY } from './climbs.js';
import type { WayEnds } from './driveEnds.js';

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
  const high = climbs.filter((stages) => upOf(stages) >= LOWEST_M);
  const all = high.map((stages, i) => climbOf(stages, roomOf(high, i)));
  return askUneven(all, (climb) => !isLine(longestOf(high[all.indexOf(climb)]!)));
}

/** Of drives up the same road none is so much shorter than the usual one, unless its ends were not seen. */
const ALIKE = { upShare: 0.06, least: 3, shorter: 0.93 } as const;

/** Returns the climbs, a drive that is shorter than those like it as one of which the ends are unknown. */
function askUneven(climbs: readonly DayClimb[], isDrive: (climb: DayClimb) => boolean): DayClimb[] {
  const longMs = ({ fromMs, toMs }: DayClimb): number => toMs - fromMs;
  const drives = climbs.filter((climb) => climb.chance >= SURELY && isDrive(climb));
  return climbs.map((climb) => {
    if (!drives.includes(climb)) return climb;
    const like = drives
      .filter(({ upM }) => Math.abs(upM - climb.upM) <= ALIKE.upShare * climb.upM)
      .map(longMs)
      .sort((a, b) => a - b);
    const usual = like[Math.floor(like.length / 2)]!;
    const isShort = like.length >= ALIKE.least && longMs(climb) < ALIKE.shorter * usual;
    return isShort ? { ...climb, chance: ENDS_UNKNOWN } : climb;
  });
}

const sumOf = (stages: readonly JudgedClimb[], value: (stage: JudgedClimb) => number): number =>
  stages.reduce((sum, stage) => sum + value(stage), 0);
const upOf = (stages: readonly JudgedClimb[]): number => Math.round(sumOf(stages, ({ upM }) => upM));

/** Returns the nodes of the same run that no other climb takes. */
function roomOf(climbs: readonly (readonly JudgedClimb[])[], i: number): WayEnds {
  const { grid } = climbs[i]![0]!.stage;
  const beside = (stages: readonly JudgedClimb[] | undefined): WayEnds | null =>
    stages === undefined || stages[0]!.stage.grid !== grid ? null : wholeOf(stages);
  return [beside(climbs[i - 1])?.[1] ?? 0, beside(climbs[i + 1])?.[0] ?? grid.count - 1];
}

function climbOf(stages: readonly JudgedClimb[], bounds: WayEnds): DayClimb {
  const longest = longestOf(stages);
  const { grid } = longest.stage;
  const { ends, chance } = endsOf(stages, bounds);
  const [from, to] = ends;
  return {
    fromMs: stretchOf(grid, from, from)[0],
    toMs: stretchOf(grid, to, to)[0],
    upM: upOf(stages),
    wayM: Math.round(sumOf(stages, ({ wayM }) => wayM)),
    chance,
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
