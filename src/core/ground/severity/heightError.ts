import type { HeightEvidence } from '../samples/heightEvidence.js';
import { REFERENCE_M } from './gradientChange.js';

/** How much of V is error, 0 to 1; how unsure that is; and what shows it, null where nothing does. */
export interface HeightError {
  readonly share: number;
  readonly unsure: number;
  readonly shownBy: 'again' | 'rest' | null;
}

/** Of heights of which nothing is known, none is taken for error, and much may be. */
export const UNSEEN: HeightError = { share: 0, unsure: 0.42, shownBy: null };
const AGAIN_UNSURE = 0.15;
const REST_UNSURE = 0.08;
const REST_UNSURE_SHARE = 0.35;
/** Some ground is always left. */
const MOST = 0.95;
/** Errors that have nothing to do with one another change by twice their variance. */
const OF_CHANGE = 0.5;

/** Returns how much of V at the reference lag is error: of two signs the worse. */
export function heightErrorOf({ variance, again, rest }: HeightEvidence): HeightError {
  const seen: HeightError[] = [];
  if (again !== null) seen.push({ share: again.errorShare, unsure: AGAIN_UNSURE, shownBy: 'again' });
  if (rest !== null && variance > 0) {
    const share = Math.min(1, (OF_CHANGE * rest.changeM ** 2) / variance);
    seen.push({ share, unsure: REST_UNSURE + REST_UNSURE_SHARE * share, shownBy: 'rest' });
  }
  if (seen.length === 0) return UNSEEN;
  const worst = seen.reduce((a, b) => (b.share > a.share ? b : a));
  return { ...worst, share: Math.min(MOST, worst.share) };
}

/** Returns how much of V is error at a lag: error grows more slowly than ground. Units: square metres. */
export const errorAt = ({ share }: HeightError, variance: number, lagM: number): number =>
  share * variance * Math.sqrt(lagM / REFERENCE_M);
