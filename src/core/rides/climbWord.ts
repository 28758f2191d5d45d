/** Which of a day's climbs count as ridden: by a person's word, else as is likely. */

import { type Seconds, secondsOfMs } from '../../units.js';
import { isLikelyRidden } from '../ground/climbs/dayClimbs.js';
import { lengthOf, type Stretch, without } from '../ground/samples/intervals.js';
import type { Climb } from '../ground/samples/reading.js';
import { hasMotor } from '../ground/sport.js';
import type { Part } from './ride.js';

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
