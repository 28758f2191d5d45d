/** Between which nodes a climb went on, that was not ridden: a lift's by its pace, a drive's by its halts. */
import { GRID_S } from '../samples/timeGrid.js';
import { HARDLY, type JudgedClimb } from './climbs.js';
import { driveEnds, type WayEnds } from './driveEnds.js';
import { chordM } from './stages.js';

/** Shorter ones are a part of what lies beside them. Units: seconds. */
export const BRIEF_S = 60;

export const wholeOf = (stages: readonly JudgedClimb[]): WayEnds => [
  stages[0]!.stage.from,
  stages.at(-1)!.stage.to,
];

export const longestOf = (stages: readonly JudgedClimb[]): JudgedClimb =>
  stages.reduce((a, b) => (b.seconds > a.seconds ? b : a));

/** A line as lifts have it: steeper than roads are for long. */
export const isLine = ({ straightness, unsteadiness, upM, wayM }: JudgedClimb): boolean =>
  straightness >= 0.975 && unsteadiness <= 0.16 && upM >= 0.1 * wayM;

/** At the ends of a lift, cells that do not rise or go like any straight stage of it are the queue or the ride. */
const END_RISE_SHARE = 0.4;
const END_SPEED_RATIO = 2;
const END_CELLS = 15 / GRID_S;

/** Returns the nodes between which a lift goes on. */
function liftEnds(stages: readonly JudgedClimb[]): WayEnds {
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

/** A drive of which no halt says where it began or ended is asked about, however sure it is that it was one. */
export const ENDS_UNKNOWN = 0.85;

/** Returns the nodes between which a climb goes on, a lift's by its pace and a drive's by its halts; and its chance. */
export function endsOf(
  stages: readonly JudgedClimb[],
  bounds: WayEnds,
): { readonly ends: WayEnds; readonly chance: number } {
  const longest = longestOf(stages);
  const { chance } = longest;
  const whole = wholeOf(stages);
  if (chance <= HARDLY) return { ends: whole, chance };
  if (isLine(longest)) return { ends: liftEnds(stages), chance };
  const [from, to] = driveEnds(longest.stage.grid, whole, bounds);
  const isKnown = from !== null && to !== null;
  return {
    ends: [from ?? whole[0], to ?? whole[1]],
    chance: isKnown ? chance : Math.min(ENDS_UNKNOWN, chance),
  };
}
