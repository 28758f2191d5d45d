import { minutesIn } from '../../units.js';
import type { Reading, Terrain } from '../ground/samples/reading.js';
import type { WeighedTime } from './weight.js';

/** Quality below this is poor. */
export const POOR_QUALITY = 0.4;
const GOOD_QUALITY = 0.7;
/** Less than this is not worth a word. */
const LEAST_TOLD_S = 60;

/** English; a translation has the same keys and slots. */
export const EXPLANATION_TEXTS = {
  smooth: 'ground about as smooth as a road',
  'below-typical': 'ground between a smooth road and a typical trail',
  typical: 'ground like a typical trail',
  'above-typical': 'ground rougher than a typical trail',
  rough: 'rough ground',
  good: 'the elevation in the file is good',
  fair: 'the elevation in the file is fair, so {percent} % is assumed from the kind of ride and how it was ridden',
  poor: 'the elevation in the file is poor, so {percent} % is assumed from the kind of ride and how it was ridden',
  none: 'there is no usable elevation in the file, so the kind of ride alone decides',
  wet: 'marked as wet',
  lift: '{minutes} min on a lift left out',
  vehicle: '{minutes} min left out that may have been in a vehicle',
} as const;

export type ExplanationCode = keyof typeof EXPLANATION_TEXTS;

/** One clause of why a ride has its weight. Shape: the slots of the text of that code. */
export interface ExplanationPart {
  readonly code: ExplanationCode;
  readonly values: Readonly<Record<string, number>>;
}

/** Returns why a ride has its weight, as clauses: the ground, how well it is known, the mark, what was left out. */
export function explainWeight(
  terrain: Terrain,
  { severity }: Pick<WeighedTime, 'severity'>,
  { wet, leftOut }: { readonly wet: boolean; readonly leftOut: Reading['leftOut'] },
): ExplanationPart[] {
  const secondsOf = (kind: string): number =>
    leftOut.reduce((sum, { code, s }) => sum + (code === kind ? s : 0), 0);
  return [
    { code: groundCode(severity), values: {} },
    evidence(terrain),
    ...(wet ? [{ code: 'wet' as const, values: {} }] : []),
    ...minutesPart('lift', secondsOf('lift')),
    ...minutesPart('vehicle', secondsOf('vehicle')),
  ];
}

/** Returns the clauses as one sentence that calls itself an estimate. */
export function explanationText(
  parts: readonly ExplanationPart[],
  texts: Readonly<Record<ExplanationCode, string>> = EXPLANATION_TEXTS,
  lead = 'An estimate',
): string {
  const clause = ({ code, values }: ExplanationPart): string =>
    texts[code].replace(/\{(\w+)\}/g, (_, slot: string) => String(values[slot]));
  return `${lead}: ${parts.map(clause).join('; ')}.`;
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

function evidence({ quality, classS }: Terrain): ExplanationPart {
  const code = classS.every((s) => s === 0) ? 'none' : qualityWord(quality);
  const isAssumed = code === 'fair' || code === 'poor';
  return { code, values: isAssumed ? { percent: Math.round(100 * (1 - quality!)) } : {} };
}

const minutesPart = (code: 'lift' | 'vehicle', s: number): ExplanationPart[] =>
  s < LEAST_TOLD_S ? [] : [{ code, values: { minutes: Math.round(minutesIn(s)) } }];
