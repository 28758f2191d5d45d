/** From a recording to a reading: one way through, a stage a line. */

import { type Problem, problem } from '../../problems.js';
import { type Instant, instant, MINUTE_MS, seconds, secondsIn } from '../../units.js';
import type { ReadingQuestion } from '../tokens.js';
import { asksAboutClimbs, type DayClimb, isLikelyRidden } from './climbs/dayClimbs.js';
import { GAP, MOVING, MOVING_MPS } from './moving/moving.js';
import { leftOut, movingIntervals, riddenMetres, secondsOfIntervals } from './moving/stepSums.js';
import {
  type Aboard,
  type AboardSteps,
  aboardOf,
  DRIVEN,
  LIFTED,
  markSteps,
  RIDDEN,
  type Survey,
  surveyOf,
} from './moving/survey.js';
import { partsBetweenRests, REST_MS, recordingWithin } from './restedParts.js';
import { clockBounds, clockQuestion } from './samples/clock.js';
import { climbOf, climbThreshold, heightsOf } from './samples/elevation.js';
import type { HeightEvidence } from './samples/heightEvidence.js';
import type { Stretch } from './samples/intervals.js';
import { landingsOf } from './samples/landings.js';
import { isMissing } from './samples/missing.js';
import { summedNotes } from './samples/notes.js';
import { type Mark, placeMarksOf } from './samples/placeMarks.js';
import { type Climb, READER_VERSION, type Reading } from './samples/reading.js';
import type { Note, Recording } from './samples/recording.js';
import { sampleOrder } from './samples/sampleOrder.js';
import { type KeptSamples, keepSamples } from './samples/steps.js';
import { type GroundPath, groundPaths } from './severity/ground.js';
import { heightsAtRest } from './severity/heightsAtRest.js';
import type { MovingPath } from './severity/movingPath.js';
import { profileOf } from './severity/profile.js';
import { classesOfPart, estimateTerrain, type TerrainEstimate } from './severity/severity.js';
import { sketchOf } from './sketch.js';
import { hasMotor, type SportVerdict, speedsDoubtBicycle, sportVerdict } from './sport.js';
import { reopened } from './unstarted.js';

export type ReadingOutcome =
  | { readonly readings: readonly Reading[] }
  | { readonly problem: Problem; readonly outcome: 'no-ride' | 'set-aside' };

/** What reading is given: the time, and what marks places and numbers under a key; without it nothing is marked. */
export interface ReadHow {
  readonly now: Instant;
  readonly mark?: Mark;
}

/** A device's speed holds for the moment: steps up to this tell whether the bike stood still meanwhile. */
const TELLING_STEP_MS = MINUTE_MS;

/**
 * Returns what a recording says, once and for all, a reading for each ride in it; or why it is no ride.
 * Errors: problems `other-sport`, `no-track` and `no-moving` (no ride), `unreadable` (set aside: samples, but none to rely
 * on).
 */
export function readRecording(recording: Recording, how: ReadHow): ReadingOutcome {
  const verdict = sportVerdict(recording.sport, recording.subSport);
  if (verdict === 'other') return refused('no-ride', 'other-sport', otherSport(recording.sport));
  const { recording: opened, doubtful } = reopened(recording);
  const measured = measure(opened, verdict, doubtful, how);
  const nothing = whyNothing(opened, measured.survey.kept, verdict);
  if (nothing) return nothing;
  const parts = partsBetweenRests(measured.survey);
  const isWhole = parts.length === 1 && parts[0]!.fromMs === -Infinity && parts[0]!.toMs === Infinity;
  const most = Math.max(...parts.map((part) => part.steps));
  const readings = isWhole
    ? [readingOf(measured, recording.samples.count, how)]
    : parts.map((part) => {
        const within = recordingWithin(opened, part);
        const samples = within.spans.reduce((sum, { from, to }) => sum + to - from, 0);
        const read = readingOf(measure(within, verdict, doubtful, how), samples, how);
        // Which side of a jump has the right clock is where most of the recording lies.
        return part.jumps && part.steps < most ? { ...read, question: 'clock-unset' as const } : read;
      });
  const moved = readings.filter(moves);
  if (moved.length === 0)
    return hasOneTime(opened)
      ? refused('set-aside', 'unreadable', ONE_TIME)
      : refused('no-ride', 'no-moving', NO_MOVING);
  if (moved.every(isTooShort)) return refused('no-ride', 'no-moving', TOO_SHORT);
  return { readings: moved };
}

/** A ride is longer: so little is left of a damaged file, or of a recorder that was started by mistake. */
const SHORTEST_S = 3;

/** Nothing in it is asked either, so that a person's answer could not make it a ride. */
const isTooShort = ({ movingS, doubtful, question, leftOut: left }: Reading): boolean =>
  movingS < SHORTEST_S && doubtful === null && question === null && left.length === 0;

const TOO_SHORT =
  'It holds less than three seconds of riding, so nothing counts. If it was a ride, export it again, or enter its hours by hand.';

/** Of so many points at one time the rest tells nothing. */
const SAME_SHARE = 0.8;
const LEAST_POINTS = 10;

/** Nearly all of its points carry one time, and so tell where it went but not when. */
function hasOneTime({ samples: { timeMs } }: Recording): boolean {
  const counts = new Map<number, number>();
  for (const time of timeMs) if (!Number.isNaN(time)) counts.set(time, (counts.get(time) ?? 0) + 1);
  const most = [...counts.values()].reduce((a, b) => Math.max(a, b), 0);
  return most >= LEAST_POINTS && most >= SAME_SHARE * timeMs.length;
}

const ONE_TIME =
  'Nearly all of its points carry one time, so it does not say for how long it moved. Export the ride again, or enter its hours by hand.';

const NO_MOVING =
  'Nothing in it moved, so there is nothing to count. If it was a ride, enter its hours by hand.';

/** What has no times, or is too sparse to tell, may have moved. */
const moves = ({ moving, doubtful, question, leftOut }: Reading): boolean =>
  moving.length > 0 || doubtful !== null || question !== null || leftOut.some(({ code }) => code === 'lift');

/** A recording with all that is measured of it. */
interface Measured extends AboardSteps {
  readonly recording: Recording;
  readonly verdict: SportVerdict;
  readonly survey: Survey;
  readonly motor: boolean;
  readonly firstMs: number;
  readonly notes: readonly Note[];
}

function measure(
  recording: Recording,
  verdict: SportVerdict,
  doubtful: readonly Stretch[],
  { now }: ReadHow,
): Measured {
  const order = sampleOrder(recording, clockBounds(now));
  const { kept, notes } = keepSamples(recording, order);
  const indoor = verdict === 'indoor-bicycle';
  const survey = surveyOf(kept, indoor);
  const motor = hasMotor(recording);
  const aboard = aboardOf(survey, { indoor, motor }, doubtful);
  return { recording, verdict, survey, motor, ...aboard, firstMs: order.firstMs, notes };
}

const refused = (outcome: 'no-ride' | 'set-aside', code: string, message: string): ReadingOutcome => ({
  outcome,
  problem: problem(code, message, 'recording'),
});

const otherSport = (sport: string | null): string =>
  `The recorder was set to "${(sport ?? '').replaceAll('_', ' ')}", which is no bicycle ride. If it was one, enter its hours by hand.`;

function whyNothing(recording: Recording, kept: KeptSamples, verdict: SportVerdict): ReadingOutcome | null {
  const samples = recording.spans.reduce((sum, { from, to }) => sum + to - from, 0);
  const hadMore = recording.damage !== null || recording.notes.some(({ code }) => code.startsWith('time-'));
  if (samples < 2 && !hadMore)
    return refused('no-ride', 'no-track', 'It holds fewer than two points, so there is no track in it.');
  if (kept.count < 2) {
    if (hasOneTime(recording)) return refused('set-aside', 'unreadable', ONE_TIME);
    const message = 'None of its points can be relied on. Export the ride again, or enter its hours by hand.';
    return refused('set-aside', 'unreadable', message);
  }
  const isEmpty = [kept.lat, kept.distM, kept.speedMps].every(isMissing);
  if (isEmpty && verdict !== 'indoor-bicycle') {
    const message = 'It holds no place, distance or speed, so there is no track in it.';
    return refused('no-ride', 'no-track', message);
  }
  return null;
}

function readingOf(
  { recording, verdict, survey, motor, aboard, climbs: found, firstMs, notes }: Measured,
  samples: number,
  how: ReadHow,
): Reading {
  const { kept, untimed } = survey;
  const lastMs = untimed ? firstMs : kept.timeMs[kept.count - 1]!;
  const paths = pathsOf(survey, aboard, RIDDEN);
  const { terrain, cells } = terrainOf(survey, paths);
  const moving = movingIntervals(survey, aboard, RIDDEN);
  const movingS = secondsOfIntervals(moving);
  const doubtful = doubtfulOf(survey, aboard, terrain.heights);
  const climbs = found.map((climb) => keptClimb(survey, climb, motor, terrain.heights));
  const landings = untimed ? null : landingsOf(recording.recorder, kept.timeMs[0]!, lastMs);
  return {
    readerVersion: READER_VERSION,
    format: recording.format,
    start: Number.isNaN(firstMs) ? null : instant(untimed ? firstMs : kept.timeMs[0]!),
    end: Number.isNaN(firstMs) ? null : instant(lastMs),
    sport: recording.sport,
    subSport: recording.subSport,
    indoor: verdict === 'indoor-bicycle',
    damage: recording.damage,
    elapsedS: seconds(untimed ? 0 : secondsIn(lastMs - kept.timeMs[0]!)),
    movingS,
    distanceM: Math.round(riddenMetres(survey, aboard) * 10) / 10,
    ...climbedOn(paths, climbThreshold(kept.timeMs, survey.eleM)),
    moving,
    terrain: landings === null ? terrain : { ...terrain, landings },
    doubtful,
    ...(climbs.length > 0 && { climbs, heights: heightsOf(kept.timeMs, survey.eleM) }),
    leftOut: leftOut(survey, aboard),
    spans: recording.spans.length,
    samples,
    profile: profileOf(paths, cells),
    sketch: sketchOf(survey.plane),
    sensors: recording.sensors,
    notes: summedNotes([...recording.notes, ...notes, ...survey.notes]),
    recorder: recording.recorder ?? null,
    // One question at a time, the one that the others depend on first.
    question:
      clockQuestion(firstMs, untimed, how.now) ??
      rideQuestion({ survey, aboard, verdict, motor, climbs, movingS, isDriven: doubtful !== null }),
    ...(how.mark && { marks: placeMarksOf(kept, recording.serial ?? null, how.mark) }),
  };
}

function pathsOf({ kept, eleM, distances, states }: Survey, aboard: Uint8Array, whose: Aboard): GroundPath[] {
  const { stepM, speedMps } = distances;
  return groundPaths(kept, { eleM, stepM, speedMps, states }, aboard, whose);
}

function terrainOf(survey: Survey, paths: readonly GroundPath[]): TerrainEstimate {
  const { kept, eleM, states } = survey;
  return estimateTerrain(asRead(survey, paths), heightsAtRest(kept, eleM, states));
}

/**
 * Severity needs speed; without times there is no ground to judge. Its constants were set on altitude as read, the
 * change during halts included: taken out, mountain rides with a wandering altimeter read as smooth as roads.
 */
const asRead = ({ untimed }: Survey, paths: readonly GroundPath[]): MovingPath[] =>
  untimed ? [] : paths.map(({ path, readM }) => ({ ...path, zM: readM }));

function climbedOn(paths: readonly GroundPath[], thresholdM: number): Pick<Reading, 'ascentM' | 'descentM'> {
  const known = paths.filter(({ path }) => !isMissing(path.zM));
  if (known.length === 0) return { ascentM: null, descentM: null };
  const climbs = known.map(({ path }) => climbOf(path.zM, thresholdM));
  return {
    ascentM: Math.round(climbs.reduce((sum, { ascentM }) => sum + ascentM, 0)),
    descentM: Math.round(climbs.reduce((sum, { descentM }) => sum + descentM, 0)),
  };
}

function keptClimb(
  survey: Survey,
  climb: DayClimb,
  motor: boolean,
  heights: HeightEvidence | undefined,
): Climb {
  const { fromMs, toMs, ...seen } = climb;
  const marks = new Uint8Array(survey.kept.count);
  markSteps(survey.kept, marks, [[fromMs, toMs]], RIDDEN);
  const startMs = survey.kept.timeMs[0]!;
  return {
    fromMs: Math.round(fromMs - startMs),
    toMs: Math.round(toMs - startMs),
    ...seen,
    chance: Number(seen.chance.toFixed(3)),
    motorChance: Number(seen.motorChance.toFixed(3)),
    moving: movingIntervals(survey, marks, RIDDEN),
    classS: classesOfPart(asRead(survey, pathsOf(survey, marks, RIDDEN)), heights),
    isIn: isLikelyRidden(climb, motor),
  };
}

function doubtfulOf(
  survey: Survey,
  aboard: Uint8Array,
  heights: HeightEvidence | undefined,
): Reading['doubtful'] {
  const moving = movingIntervals(survey, aboard, DRIVEN);
  if (moving.length === 0) return null;
  return { moving, classS: classesOfPart(asRead(survey, pathsOf(survey, aboard, DRIVEN)), heights) };
}

function rideQuestion({
  survey,
  aboard,
  verdict,
  motor,
  climbs,
  movingS,
  isDriven,
}: Pick<Measured, 'survey' | 'aboard' | 'verdict' | 'motor'> & {
  readonly climbs: readonly Climb[];
  readonly movingS: number;
  readonly isDriven: boolean;
}): ReadingQuestion | null {
  if (verdict !== 'indoor-bicycle' && isTooSparse(survey)) return 'too-sparse';
  if (verdict === 'unsaid' && speedsDoubtBicycle(...movingSpeeds(survey, aboard))) return 'sport-unclear';
  if (isDriven) return 'vehicle';
  return asksAboutClimbs(climbs, motor, movingS) ? 'climbs' : null;
}

/**
 * Whether most of what may have been ridden lies in steps too long to tell. Steps of a resting receiver go nowhere, and
 * in the longest ones anything may have happened.
 */
function isTooSparse({ kept, states, distances }: Survey): boolean {
  const [close, sparse] = [{ ms: 0 }, { ms: 0 }];
  for (let i = 1; i < kept.count; i++) {
    const ms = kept.timeMs[i]! - kept.timeMs[i - 1]!;
    if (states[i] === MOVING) (ms > TELLING_STEP_MS ? sparse : close).ms += ms;
    else if (states[i] === GAP && ms < REST_MS && distances.stepM[i]! >= MOVING_MPS * secondsIn(ms))
      sparse.ms += ms;
  }
  return sparse.ms > close.ms;
}

/** Metres and seconds of all moving steps but those on lifts, which skiers ride too. */
function movingSpeeds({ kept, states, distances }: Survey, aboard: Uint8Array): [Float64Array, Float64Array] {
  const metres = new Float64Array(kept.count);
  const secondsOf = new Float64Array(kept.count);
  let count = 0;
  for (let i = 1; i < kept.count; i++) {
    const isMoving = states[i] === MOVING && aboard[i] !== LIFTED;
    if (!isMoving || Number.isNaN(distances.stepM[i]!)) continue;
    metres[count] = distances.stepM[i]!;
    secondsOf[count++] = secondsIn(kept.timeMs[i]! - kept.timeMs[i - 1]!);
  }
  return [metres.subarray(0, count), secondsOf.subarray(0, count)];
}
