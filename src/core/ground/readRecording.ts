/** From a recording to a reading: one way through, a stage a line. */

import { type Problem, problem } from '../../problems.js';
import { DAY_MS, type Instant, instant, seconds, secondsIn } from '../../units.js';
import { MOVING } from './moving/moving.js';
import { leftOut, movingIntervals, riddenMetres, secondsOfIntervals } from './moving/stepSums.js';
import { type Aboard, aboardOf, DRIVEN, LIFTED, RIDDEN, type Survey, surveyOf } from './moving/survey.js';
import { climbOf, climbThreshold } from './samples/elevation.js';
import { READER_VERSION, type Reading, type ReadingQuestion } from './samples/reading.js';
import type { Note, Recording } from './samples/recording.js';
import { sampleOrder } from './samples/sampleOrder.js';
import { type KeptSamples, keepSamples } from './samples/steps.js';
import { type GroundPath, groundPaths } from './severity/ground.js';
import { profileOf } from './severity/profile.js';
import { estimateTerrain, type TerrainEstimate } from './severity/severity.js';
import { sketchOf } from './sketch.js';
import { type SportVerdict, speedsDoubtBicycle, sportVerdict } from './sport.js';

export type ReadingOutcome =
  | { readonly reading: Reading }
  | { readonly problem: Problem; readonly outcome: 'no-ride' | 'set-aside' };

/** 2001-01-01: no recorder wrote these formats before, and clocks that were never set stand at 1980, 1989, 1999 or 2000. */
const CLOCK_SET_MS = 978_307_200_000;
/** Local time written as UTC is up to 14 hours ahead, so a whole day is left before the future begins. */
const AHEAD_MS = DAY_MS;

/**
 * Returns what a recording says, once and for all, or why it is no ride.
 * Errors: problems `other-sport` and `no-track` (no ride), `unreadable` (set aside: samples, but none to rely on).
 */
export function readRecording(recording: Recording, { now }: { readonly now: Instant }): ReadingOutcome {
  const verdict = sportVerdict(recording.sport, recording.subSport);
  if (verdict === 'other') return refused('no-ride', 'other-sport', otherSport(recording.sport));
  const order = sampleOrder(recording, { earliestMs: CLOCK_SET_MS, latestMs: now + AHEAD_MS });
  const { kept, notes } = keepSamples(recording, order);
  const nothing = whyNothing(recording, kept, verdict);
  if (nothing) return nothing;
  const indoor = verdict === 'indoor-bicycle';
  const survey = surveyOf(kept, indoor);
  const aboard = aboardOf(survey, indoor);
  const firstMs = order.firstMs;
  const question = clockQuestion(firstMs, order.untimed, now) ?? rideQuestion(survey, aboard, verdict);
  return { reading: readingOf(recording, survey, aboard, { indoor, firstMs, question, notes }) };
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
    const message = 'None of its points can be relied on. Export the ride again, or enter its hours by hand.';
    return refused('set-aside', 'unreadable', message);
  }
  const isEmpty = [kept.lat, kept.distM, kept.speedMps].every((column) => column.every(Number.isNaN));
  if (isEmpty && verdict !== 'indoor-bicycle') {
    const message = 'It holds no place, distance or speed, so there is no track in it.';
    return refused('no-ride', 'no-track', message);
  }
  return null;
}

function readingOf(
  recording: Recording,
  survey: Survey,
  aboard: Uint8Array,
  {
    indoor,
    firstMs,
    question,
    notes,
  }: {
    readonly indoor: boolean;
    readonly firstMs: number;
    readonly question: ReadingQuestion | null;
    readonly notes: readonly Note[];
  },
): Reading {
  const { kept, untimed } = survey;
  const lastMs = untimed ? firstMs : kept.timeMs[kept.count - 1]!;
  const paths = pathsOf(survey, aboard, RIDDEN);
  const { terrain, cells } = terrainOf(survey, paths);
  const moving = movingIntervals(survey, aboard, RIDDEN);
  return {
    readerVersion: READER_VERSION,
    format: recording.format,
    start: Number.isNaN(firstMs) ? null : instant(untimed ? firstMs : kept.timeMs[0]!),
    end: Number.isNaN(firstMs) ? null : instant(lastMs),
    sport: recording.sport,
    subSport: recording.subSport,
    indoor,
    damage: recording.damage,
    elapsedS: seconds(untimed ? 0 : secondsIn(lastMs - kept.timeMs[0]!)),
    movingS: secondsOfIntervals(moving),
    distanceM: Math.round(riddenMetres(survey, aboard) * 10) / 10,
    ...climbedOn(paths, climbThreshold(kept.timeMs, survey.eleM)),
    moving,
    terrain,
    doubtful: doubtfulOf(survey, aboard),
    leftOut: leftOut(survey, aboard),
    spans: recording.spans.length,
    samples: recording.samples.count,
    profile: profileOf(paths, cells),
    sketch: sketchOf(survey.plane),
    sensors: recording.sensors,
    notes: merged([...recording.notes, ...notes, ...survey.notes]),
    question,
  };
}

/** Reader and core may have noted the same. */
function merged(notes: readonly Note[]): Note[] {
  const counts = new Map<string, number>();
  for (const { code, count } of notes) counts.set(code, (counts.get(code) ?? 0) + count);
  return [...counts].map(([code, count]) => ({ code, count }));
}

function pathsOf({ kept, eleM, distances, states }: Survey, aboard: Uint8Array, whose: Aboard): GroundPath[] {
  const { stepM, speedMps } = distances;
  const taken = aboard.map((one) => (one === whose ? 1 : 0));
  return groundPaths(kept, { eleM, stepM, speedMps, states }, taken);
}

function terrainOf({ untimed }: Survey, paths: readonly GroundPath[]): TerrainEstimate {
  // Severity needs speed; without times there is no ground to judge. Its constants were set on altitude as read, the
  // change during halts included: taken out, mountain rides with a wandering altimeter read as smooth as roads.
  return estimateTerrain(untimed ? [] : paths.map(({ path, readM }) => ({ ...path, zM: readM })));
}

function climbedOn(paths: readonly GroundPath[], thresholdM: number): Pick<Reading, 'ascentM' | 'descentM'> {
  const known = paths.filter(({ path }) => !path.zM.every(Number.isNaN));
  if (known.length === 0) return { ascentM: null, descentM: null };
  const climbs = known.map(({ path }) => climbOf(path.zM, thresholdM));
  return {
    ascentM: Math.round(climbs.reduce((sum, { ascentM }) => sum + ascentM, 0)),
    descentM: Math.round(climbs.reduce((sum, { descentM }) => sum + descentM, 0)),
  };
}

function doubtfulOf(survey: Survey, aboard: Uint8Array): Reading['doubtful'] {
  const moving = movingIntervals(survey, aboard, DRIVEN);
  if (moving.length === 0) return null;
  return { moving, classS: terrainOf(survey, pathsOf(survey, aboard, DRIVEN)).terrain.classS };
}

/** One question at a time, the one that the others depend on first. */
function clockQuestion(firstMs: number, untimed: boolean, now: Instant): ReadingQuestion | null {
  if (firstMs < CLOCK_SET_MS) return 'clock-unset';
  if (firstMs > now + AHEAD_MS) return 'clock-future';
  return untimed ? 'no-times' : null;
}

function rideQuestion(survey: Survey, aboard: Uint8Array, verdict: SportVerdict): ReadingQuestion | null {
  if (verdict === 'unsaid' && speedsDoubtBicycle(...movingSpeeds(survey, aboard))) return 'sport-unclear';
  return movingIntervals(survey, aboard, DRIVEN).length > 0 ? 'vehicle' : null;
}

/** Metres and seconds of all moving steps but those on lifts, which skiers ride too. */
function movingSpeeds({ kept, states, distances }: Survey, aboard: Uint8Array): [number[], number[]] {
  const metres: number[] = [];
  const secondsOf: number[] = [];
  for (let i = 1; i < kept.count; i++) {
    const isMoving = states[i] === MOVING && aboard[i] !== LIFTED;
    if (!isMoving || Number.isNaN(distances.stepM[i]!)) continue;
    metres.push(distances.stepM[i]!);
    secondsOf.push(secondsIn(kept.timeMs[i]! - kept.timeMs[i - 1]!));
  }
  return [metres, secondsOf];
}
