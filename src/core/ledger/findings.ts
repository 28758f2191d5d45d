/** What may be looked at inside a unit, and in which words it is told. */

import type { UnitKind } from '../tokens.js';
import type { Findings } from './facts.js';

export const FINDING_WORDS = {
  foamRings: 'foam rings',
  oil: 'oil',
  water: 'water',
  stanchions: 'stanchions',
  bushings: 'bushing play',
  damper: 'damper',
  airSpring: 'air spring',
  crown: 'crown',
  eyelets: 'eyelets',
} as const;

export type FindingName = keyof typeof FINDING_WORDS;

export const FINDINGS: Readonly<Record<UnitKind, readonly FindingName[]>> = {
  fork: ['foamRings', 'oil', 'water', 'stanchions', 'bushings', 'damper', 'airSpring', 'crown'],
  'air-shock': ['oil', 'water', 'stanchions', 'bushings', 'damper', 'airSpring', 'eyelets'],
  'coil-shock': ['oil', 'water', 'stanchions', 'bushings', 'damper', 'eyelets'],
};

/** How foam rings look; a fixed list, because the share gone dark is reckoned from it. */
export const FOAM_RINGS = ['pale', 'honey', 'dark'] as const;

/**
 * What each may look like, in the words that the ledger keeps: a page tells them in its own language. What else was seen
 * is kept as it was typed, but for foam rings. Common practice, no source.
 */
export const LOOKS: Readonly<Record<FindingName, readonly string[]>> = {
  foamRings: FOAM_RINGS,
  oil: ['clear', 'brown', 'milky'],
  water: ['none', 'some'],
  stanchions: ['clean', 'scratched', 'worn'],
  bushings: ['none', 'some', 'much'],
  damper: ['smooth', 'noisy', 'leaks'],
  airSpring: ['holds', 'loses air'],
  crown: ['quiet', 'creaks', 'cracked'],
  eyelets: ['tight', 'play', 'cracked'],
};

/** Returns what is wrong with findings for a kind of unit, or null. */
export function findingsFault(unitKind: UnitKind, findings: Findings): FindingsFault | null {
  const names: readonly string[] = FINDINGS[unitKind];
  const unknown = Object.keys(findings).filter((name) => !names.includes(name));
  if (unknown.length > 0) return { code: 'no-finding', unknown, names };
  const { foamRings: said } = findings;
  return said === undefined || FOAM_RINGS.some((look) => look === said)
    ? null
    : { code: 'foam-rings', said, looks: FOAM_RINGS };
}

export type FindingsFault =
  | { readonly code: 'no-finding'; readonly unknown: readonly string[]; readonly names: readonly string[] }
  | { readonly code: 'foam-rings'; readonly said: string; readonly looks: readonly string[] };
