/** Whether a recording is a bicycle ride, by what it says of itself and, where it says nothing, by its speeds. */

import type { Reading } from './samples/reading.js';
import type { RecorderWords } from './samples/recording.js';

const BICYCLE_SPORTS = new Set(['cycling', 'e_biking']);
/** Sub-sports of riding on the spot; a velodrome is ridden. Source: FIT profile, sub_sport 5, 6, 58 and 77. */
const INDOOR_SUB_SPORTS = new Set(['indoor_cycling', 'spin', 'virtual_activity', 'esport']);
/** Sports under which a bicycle on the spot is filed too, told by the sub-sport. */
const GYM_SPORTS = new Set(['fitness_equipment', 'training']);
const GYM_BICYCLES = new Set(['indoor_cycling', 'spin']);

export type SportVerdict = 'bicycle' | 'indoor-bicycle' | 'other' | 'unsaid';

/** Returns what the file's own words say; a sport without a sub-sport counts by itself. Shape: names of the FIT profile. */
export function sportVerdict(sport: string | null, subSport: string | null): SportVerdict {
  if (sport === null) return 'unsaid';
  if (GYM_SPORTS.has(sport) && subSport !== null && GYM_BICYCLES.has(subSport)) return 'indoor-bicycle';
  if (!BICYCLE_SPORTS.has(sport)) return 'other';
  return subSport !== null && INDOOR_SUB_SPORTS.has(subSport) ? 'indoor-bicycle' : 'bicycle';
}

/** Speeds are judged over windows of this much moving time, and only from so much of it in all. Units: seconds. */
const WINDOW_S = 30;
const ENOUGH_S = 300;
/**
 * Bicycles roll: on all but the slowest rides a twentieth of the moving time is faster than people walk or run.
 * Source: common practice, no source (walking 1.4 m/s, running 2.5 to 4 m/s).
 */
const ROLLS_MPS = 4.5;
/** Half of the moving time, or a twentieth of it, faster than this is a motor, rails or sails. */
const MOTOR_MEDIAN_MPS = 12;
const MOTOR_FAST_MPS = 17;

/**
 * Returns whether the speeds of moving steps say otherwise than a bicycle: no faster than on foot, or as fast as a
 * motor. A slow boat or a motor in town looks like a bicycle and passes.
 * Units: metres and seconds of the moving steps.
 */
export function speedsDoubtBicycle(stepsM: ArrayLike<number>, stepsS: ArrayLike<number>): boolean {
  const speeds: number[] = [];
  let metres = 0;
  let seconds = 0;
  let all = 0;
  for (let i = 0; i < stepsM.length; i++) {
    metres += stepsM[i]!;
    seconds += stepsS[i]!;
    all += stepsS[i]!;
    if (seconds < WINDOW_S) continue;
    speeds.push(metres / seconds);
    metres = 0;
    seconds = 0;
  }
  if (all < ENOUGH_S) return false;
  speeds.sort((a, b) => a - b);
  const median = speeds[Math.floor(speeds.length / 2)]!;
  const fast = speeds[Math.min(speeds.length - 1, Math.floor(speeds.length * 0.95))]!;
  return fast < ROLLS_MPS || fast > MOTOR_FAST_MPS || median > MOTOR_MEDIAN_MPS;
}

/** Whether the file says that a motor helps. Source: FIT SDK, profile, sport and sub_sport. */
export const hasMotor = ({
  sport,
  subSport,
  recorder,
}: Pick<Reading, 'sport' | 'subSport'> & { readonly recorder?: RecorderWords | null }): boolean =>
  sport === 'e_biking' || (subSport ?? '').startsWith('e_bike') || (recorder?.motor ?? null) !== null;
