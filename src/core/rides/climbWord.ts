/** Which of a day's climbs count as ridden: by a person's word, else as is likely. */

import { type Seconds, secondsOfMs } from '../../units.js';
import { isLikelyRidden } from '../ground/climbs/dayClimbs.js';
import { lengthOf, type Stretch, without } from '../ground/samples/intervals.js';
import type { Climb } from '../ground/samples/reading.js';
import { hasMotor } from '../ground/sport.js';
import type { ClimbsSaid, Part } from './ride.js';

/** Whether the bike helped with a motor, by the file or by what is known of the bike. */
export const wasHelped = ({ reading }: Pick<Part, 'reading'>, bike?: { readonly motor?: boolean }): boolean =>
  bike?.motor === true || hasMotor(reading);

/** Until climbs were asked about, ways up by road stood in the question about vehicles. */
export const wordOfBefore = (reading: Part['reading'], answer: Part['answer']): boolean | undefined =>
  reading.doubtful === null ? answer.ride?.vehicle : undefined;

const climbLength = ({ fromMs, toMs }: Climb): Stretch[] => [[fromMs, toMs]];
const covers = (said: readonly Stretch[], climb: Climb): boolean =>
  lengthOf(without(climbLength(climb), said)) < (climb.toMs - climb.fromMs) / 2;

/** Returns whether each climb of a recording counts as ridden, in their order. */
export function climbsRidden(
  { reading, answer }: Pick<Part, 'reading' | 'answer'>,
  motor: boolean,
): boolean[] {
  const said = answer.climbs;
  return (reading.climbs ?? []).map((climb) => {
    if (said !== undefined && covers(said.ridden, climb)) return true;
    if (said === undefined && wordOfBefore(reading, answer) === true) return true;
    if (said !== undefined && covers(said.notRidden, climb)) return false;
    return isLikelyRidden(climb, motor);
  });
}

/** A day of the same rider on which a person said what was ridden. */
export interface SaidDay {
  readonly climbs: readonly Climb[];
  readonly said: ClimbsSaid;
}

/** The same way up on another day, by another receiver perhaps. Units: metres. */
const LIKE_UP_M = 15;
const LIKE_SHARE = 0.1;
/** A day is like another where so much of its height is found there. */
const LIKE_DAY = 0.8;

const isLikeWay = (a: Climb, b: Climb): boolean =>
  Math.abs(a.upM - b.upM) <= Math.max(LIKE_UP_M, LIKE_SHARE * a.upM) &&
  Math.abs(a.wayM - b.wayM) <= LIKE_SHARE * a.wayM;

/**
 * Returns what a word on another day would say of each climb; null altogether where the days are not alike. A climb is
 * null where that day has none like it, or says both of such ones.
 */
export function wordOfLikeDay(climbs: readonly Climb[], day: SaidDay): (boolean | null)[] | null {
  const words = climbs.map((climb) => {
    const like = day.climbs.filter((other) => isLikeWay(climb, other));
    const ridden = like.filter((other) => covers(day.said.ridden, other)).length;
    const not = like.filter((other) => covers(day.said.notRidden, other)).length;
    return ridden > 0 && not === 0 ? true : not > 0 && ridden === 0 ? false : null;
  });
  const all = climbs.reduce((sum, { upM }) => sum + upM, 0);
  const told = climbs.reduce((sum, { upM }, i) => sum + (words[i] === null ? 0 : upM), 0);
  return all > 0 && told >= LIKE_DAY * all ? words : null;
}

/** What a person's or the bike's word changes of what a reading counts. Shape: as the reading's own. */
export interface ClimbChange {
  readonly added: readonly Stretch[];
  readonly left: readonly Stretch[];
  readonly classS: readonly number[];
}

/** Returns what of a recording's climbs is not as its reading counted them. */
export function climbChange(part: Pick<Part, 'reading' | 'answer'>, motor: boolean): ClimbChange {
  const { climbs = [], terrain } = part.reading;
  const ridden = climbsRidden(part, motor);
  const changed = climbs.flatMap((climb, i) =>
    ridden[i] === climb.isIn ? [] : [{ climb, isIn: ridden[i]! }],
  );
  const left = climbs.flatMap((climb, i) => (ridden[i] ? [] : climb.moving));
  return {
    added: changed.flatMap(({ climb, isIn }) => (isIn ? climb.moving : [])),
    left,
    classS: terrain.classS.map((s, k) =>
      changed.reduce((sum, { climb, isIn }) => Math.max(0, sum + (isIn ? 1 : -1) * climb.classS[k]!), s),
    ),
  };
}

/** Returns the seconds on climbs that do not count, as what was left out; nothing where there are none. */
export function carriedSeconds(
  part: Pick<Part, 'reading' | 'answer'>,
  motor: boolean,
): { readonly code: 'lift'; readonly s: Seconds }[] {
  const { reading } = part;
  // A reading of a former reader has no climbs, and keeps what it left out.
  if (reading.climbs === undefined)
    return reading.leftOut.flatMap(({ code, s }) => (code === 'lift' ? [{ code, s }] : []));
  const s = secondsOfMs(lengthOf(climbChange(part, motor).left));
  return s > 0 ? [{ code: 'lift', s }] : [];
}
