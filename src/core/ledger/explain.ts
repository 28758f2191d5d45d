import { minutesIn } from '../../units.js';
import type { Reading, Terrain } from '../ground/samples/reading.js';
import { heightErrorOf } from '../ground/severity/heightError.js';
import type { ExplanationCode } from '../tokens.js';
import type { Weights } from './ledger.js';
import { DEFAULT_WEIGHTS, landingSeconds, type WeighedTime } from './weight.js';

/** Quality below this is poor. */
export const POOR_QUALITY = 0.4;
export const GOOD_QUALITY = 0.7;
/** Less than this is not worth a word. */
const LEAST_TOLD_S = 60;

/** One clause of why a ride has its weight. Shape: the slots of the text of that code. */
export interface ExplanationPart {
  readonly code: ExplanationCode;
  readonly values: Readonly<Record<string, number>>;
}

/** What a ride's weight follows from beside its ground. */
export interface Explained {
  readonly wet: boolean;
  readonly leftOut: Reading['leftOut'];
  /** The defaults where left out. */
  readonly weights?: Weights;
}

/** Returns why a ride has its weight, as clauses: the ground, how well it is known, the mark, what was left out. */
export function explainWeight(
  terrain: Terrain,
  { severity }: Pick<WeighedTime, 'severity'>,
  { wet, leftOut, weights = DEFAULT_WEIGHTS }: Explained,
): ExplanationPart[] {
  const secondsOf = (kind: string): number =>
    leftOut.reduce((sum, { code, s }) => sum + (code === kind ? s : 0), 0);
  return [
    { code: groundCode(severity), values: {} },
    ...evidence(terrain),
    ...landingsPart(terrain, weights),
    ...(wet ? [{ code: 'wet' as const, values: {} }] : []),
    ...minutesPart('lift', secondsOf('lift')),
    ...minutesPart('vehicle', secondsOf('vehicle')),
  ];
}

function groundCode(severity: number): ExplanationCode {
  if (severity < 0.4) return 'smooth';
  if (severity < 0.8) return 'below-typical';
  if (severity < 1.25) return 'typical';
  return severity < 1.75 ? 'above-typical' : 'rough';
}

/** Returns how well the elevation tells the ground, as a word. */
export function qualityWord(quality: number | null): 'good' | 'fair' | 'poor' | 'none' {
  if (quality === null) return 'none';
  if (quality >= GOOD_QUALITY) return 'good';
  return quality >= POOR_QUALITY ? 'fair' : 'poor';
}

/** Noise is a reason where it is this share of what ground of this kind does to heights 80 m apart. */
const TOLD_NOISE = 0.5;
const GROUND_LAG_M = 80;
/**
 * Heights that err by so much are a satellite receiver's and not an altimeter's. Source: common practice, no source.
 */
const RECEIVER_M = 0.7;

function evidence({ quality, classS, noiseM, gradientChange, heights }: Terrain): ExplanationPart[] {
  const code = classS.every((s) => s === 0) ? 'none' : qualityWord(quality);
  if (code !== 'fair' && code !== 'poor') return [{ code, values: {} }];
  const assumed = { code, values: { percent: Math.round(100 * (1 - quality!)) } };
  if (noiseM === null || gradientChange === null) return [assumed];
  const groundM = gradientChange * GROUND_LAG_M;
  const centimetres = Math.round(100 * noiseM);
  const isSeen = heights !== undefined && heightErrorOf(heights).shownBy !== null;
  if (centimetres === 0 || noiseM < TOLD_NOISE * groundM)
    return heights === undefined || isSeen ? [assumed] : [assumed, { code: 'unseen', values: {} }];
  const isReceiver = isSeen && noiseM >= RECEIVER_M;
  return [assumed, { code: isReceiver ? 'receiver' : 'noisy', values: { centimetres } }];
}

function landingsPart(terrain: Terrain, weights: Weights): ExplanationPart[] {
  const { count = 0, hangS = 0 } = terrain.landings ?? {};
  if (count === 0) return [];
  const addedS = landingSeconds(terrain, weights);
  const values = {
    count,
    seconds: hangS === 0 ? 0 : Math.max(1, Math.round(hangS)),
    minutes: Math.round(minutesIn(addedS)),
  };
  return [{ code: addedS < LEAST_TOLD_S ? 'landed' : 'landings', values }];
}

const minutesPart = (code: 'lift' | 'vehicle', s: number): ExplanationPart[] =>
  s < LEAST_TOLD_S ? [] : [{ code, values: { minutes: Math.round(minutesIn(s)) } }];
