/** Whether two recordings of one rider or one bike are the same ride: one ride is one place at one time. */
import { MINUTE_MS, SECOND_MS } from '../../units.js';
import { lengthOf, type Stretch, unionOf, without } from '../ground/samples/intervals.js';
import { neverMet, type PlaceMarks, sharedMinutes } from '../ground/samples/placeMarks.js';
import { sameTrack } from '../ground/sketch.js';
import { type Fit, fitsOf, isZoneStep, ONE_MOMENT_MS } from './rhythm.js';

/** What of a recording decides it. Units: milliseconds since 1970, seconds. */
export interface Outing {
  readonly startMs: number;
  readonly endMs: number;
  /** Shape: sorted, disjoint. */
  readonly moving: readonly Stretch[];
  readonly movingS: number;
  readonly sketch: readonly number[] | null;
  readonly marks: PlaceMarks | undefined;
  /** Its recorder's local time less UTC, where it says so. */
  readonly zoneMs: number | null;
}

/**
 * `same`: one ride, once the second clock is moved by `shiftMs`; `unclear` and `shifted`: a person must say, and if it is
 * one, it is so; `elsewhere`: moving at one time in two places; `apart`: two rides.
 */
export interface Relation {
  readonly kind: 'same' | 'unclear' | 'shifted' | 'elsewhere' | 'apart';
  readonly shiftMs: number;
  /** One rhythm says more of the clocks than one place. */
  readonly isCopy?: true;
}

/** Overlap up to this much is skew between two clocks. */
export const CLOCK_SKEW_MS = MINUTE_MS;

/** A copy coincides in so much of its moving time and of its moments of setting off and halting. */
const COPY_SHARE = 0.95;
const COPY_MOMENTS = 0.9;
/** So many moments that coincide are no chance. */
const SURE_EVIDENCE = 3;
/** Another recorder sees other halts; then more must coincide, and the places with them. */
const OTHER_MOMENTS = 0.6;
const OTHER_EVIDENCE = 5;
const OTHER_TOGETHER = 0.8;
/** What may be a copy and may not. */
const LIKE_SHARE = 0.8;
const LIKE_MOMENTS = 0.5;
const LIKE_EVIDENCE = 2;
/** Of the minutes that both were out, in so many they were at one place; in fewer than the second, they were not. */
const TOGETHER = 0.6;
const APART = 0.2;
/** Within a halt this long a rider is out still. */
const LONG_HALT_MS = 30 * MINUTE_MS;
/** A copy keeps its seconds. Units: milliseconds. */
const EXACT_MS = 2 * SECOND_MS;

/** Returns how two recordings relate; shifts are looked at before overlap. */
export function relationOf(a: Outing, b: Outing): Relation {
  const shorterMs = Math.min(lengthOf(a.moving), lengthOf(b.moving));
  const overlapMs = lengthOf(a.moving) - lengthOf(without(a.moving, b.moving));
  const overlaps = overlapMs > Math.min(CLOCK_SKEW_MS, shorterMs / 2);
  const fits = neverMet(a.marks, b.marks) === true ? [] : fitsOf(a.moving, b.moving);
  const copy = bestCopy(a, b, fits, overlaps);
  if (copy) {
    const isSure = copy.evidence >= SURE_EVIDENCE;
    return { kind: 'same', shiftMs: copy.shiftMs, ...(isSure && { isCopy: true }) };
  }
  const byPlace = overlaps ? placeOf(a, b) : null;
  if (byPlace?.kind === 'same') return { kind: 'same', shiftMs: alignedBy(a, b, fits) };
  const like = fits.find((fit) => isLike(a, b, fit));
  if (like) return { kind: 'shifted', shiftMs: like.shiftMs };
  return byPlace ?? { kind: 'apart', shiftMs: 0 };
}

/** At one place at one time, with part of it missing: the clocks still differ by what most of it says. */
function alignedBy(a: Outing, b: Outing, fits: readonly Fit[]): number {
  const clear = fits.filter(
    (fit) =>
      fit.share >= LIKE_SHARE &&
      fit.moments >= LIKE_MOMENTS &&
      fit.evidence >= SURE_EVIDENCE &&
      (placeAt(a, b, fit.shiftMs) ?? 1) >= TOGETHER,
  );
  return clear.sort((x, y) => y.togetherMs - x.togetherMs)[0]?.shiftMs ?? 0;
}

/** Of several shifts the one that brings them to one place most; of equals the clocks as they are. */
function bestCopy(a: Outing, b: Outing, fits: readonly Fit[], overlaps: boolean): Fit | undefined {
  const copies = fits.filter((fit) => isCopy(a, b, fit, overlaps));
  const rank = (fit: Fit): number => Math.round(20 * (placeAt(a, b, fit.shiftMs) ?? 1) * fit.share);
  return copies.sort(
    (x, y) => rank(y) - rank(x) || y.togetherMs - x.togetherMs || Math.abs(x.shiftMs) - Math.abs(y.shiftMs),
  )[0];
}

function isCopy(a: Outing, b: Outing, fit: Fit, overlaps: boolean): boolean {
  if (fit.share < COPY_SHARE) return false;
  const place = placeAt(a, b, fit.shiftMs);
  if (place !== null && place < TOGETHER) return false;
  if (fit.moments >= COPY_MOMENTS && fit.evidence >= SURE_EVIDENCE) return true;
  const isOther = fit.moments >= OTHER_MOMENTS && fit.evidence >= OTHER_EVIDENCE;
  if (isOther && place !== null && place >= OTHER_TOGETHER) return true;
  // Without halts, length and way are all there is: then both must be the same, and the shift one that clocks have.
  return (
    isWhole(a, b, fit) && isOneWay(a, b, place) && (overlaps || isClockShift(a, b, fit.shiftMs, EXACT_MS))
  );
}

function isLike(a: Outing, b: Outing, fit: Fit): boolean {
  const place = placeAt(a, b, fit.shiftMs);
  if (fit.shiftMs === 0 || (place !== null && place < TOGETHER) || !isOneWay(a, b, place)) return false;
  if (isWhole(a, b, fit)) return true;
  if (fit.share >= LIKE_SHARE && fit.moments >= LIKE_MOMENTS && fit.evidence >= LIKE_EVIDENCE) return true;
  if (place === null || place < OTHER_TOGETHER) return false;
  // At the same places under a shift that clocks have: a piece without halts, or a sparse recording of as much riding.
  const isPiece = fit.share >= COPY_SHARE && isClockShift(a, b, fit.shiftMs, ONE_MOMENT_MS);
  const isAsLong = Math.abs(a.movingS - b.movingS) <= (1 - COPY_SHARE) * Math.max(a.movingS, b.movingS);
  return isPiece || (isAsLong && fit.share >= LIKE_SHARE && isClockShift(a, b, fit.shiftMs, CLOCK_SKEW_MS));
}

/** From end to end, to the second. */
const isWhole = (a: Outing, b: Outing, { share, evidence }: Fit): boolean =>
  share >= COPY_SHARE && evidence >= 1 && Math.abs(extentOf(a) - extentOf(b)) <= EXACT_MS;

const extentOf = ({ moving }: Outing): number => moving.at(-1)![1] - moving[0]![0];

const isOneWay = (a: Outing, b: Outing, place: number | null): boolean =>
  place !== null || (a.sketch !== null && b.sketch !== null && sameTrack(a.sketch, b.sketch));

/** Of the minutes of both, the part in one place; null where it cannot be told. */
function placeAt(a: Outing, b: Outing, shiftMs: number): number | null {
  const shared = sharedMinutes(a.marks, b.marks, shiftMs);
  return shared === null ? null : shared.together / shared.minutes;
}

/** A step between zones, or what a recorder says that its own zone is. */
const isClockShift = (a: Outing, b: Outing, shiftMs: number, withinMs: number): boolean =>
  isZoneStep(shiftMs, withinMs) ||
  [a.zoneMs, b.zoneMs].some(
    (zoneMs) => zoneMs !== null && Math.abs(Math.abs(zoneMs) - Math.abs(shiftMs)) <= withinMs,
  );

/** Both move at one time: where they were decides, and where that is not known, for how long. */
function placeOf(a: Outing, b: Outing): Relation {
  const place = placeAt(a, b, 0);
  if (place !== null && place >= TOGETHER) return { kind: 'same', shiftMs: 0 };
  if (place !== null && place <= APART) return { kind: 'elsewhere', shiftMs: 0 };
  const isOut = place === null && outMs(a, b) >= Math.min(lengthOf(outOf(a)), lengthOf(outOf(b))) / 2;
  return { kind: isOut ? 'same' : 'unclear', shiftMs: 0 };
}

/** Recorders see other halts, and nobody goes on another ride in a short one. */
const outOf = ({ moving }: Outing): Stretch[] =>
  unionOf(moving.map(([from, to]) => [from, to + LONG_HALT_MS])).map(([from, to]) => [
    from,
    to - LONG_HALT_MS,
  ]);

const outMs = (a: Outing, b: Outing): number => lengthOf(outOf(a)) - lengthOf(without(outOf(a), outOf(b)));
