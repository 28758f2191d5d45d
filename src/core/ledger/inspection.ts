/**
 * What is looked at after a crash, and on a unit whose history nobody knows: with the words of the bench, and what forbids
 * riding. Source: common practice; the maker's manual comes first.
 */

import type { InspectionCause } from '../tokens.js';
import type { Findings } from './facts.js';
import { type FindingName, type LookField, lookFields } from './findings.js';
import type { UnitSort } from './serviceKinds.js';

const CRASH: readonly FindingName[] = [
  'outside',
  'crown',
  'axle',
  'arch',
  'eyelets',
  'stanchions',
  'shaft',
  'bushings',
  'fullTravel',
  'extends',
  'damper',
  'airSpring',
];
/** The last two only where the unit was opened. */
const LOOKS: Readonly<Record<InspectionCause, readonly FindingName[]>> = {
  crash: CRASH,
  history: [...CRASH, 'foamRings', 'oil'],
};

/** What forbids riding after a crash, by what was looked at; the first of the two levels of caution. */
export const HARM: Readonly<Partial<Record<FindingName, readonly string[]>>> = {
  outside: ['damaged'],
  crown: ['creaks', 'loose', 'cracked'],
  axle: ['damaged', 'cracked'],
  arch: ['cracked'],
  eyelets: ['cracked'],
  bushings: ['much'],
  fullTravel: ['short'],
  extends: ['stays-compressed'],
  damper: ['leaks', 'loses-damping'],
  airSpring: ['loses-air', 'stuck-down'],
};

/** Returns what is looked at on such a unit, in the order of the work. */
export const inspectionLooks = (sort: UnitSort, cause: InspectionCause): LookField[] =>
  lookFields(sort).filter(({ name }) => LOOKS[cause].includes(name));

/** Why a unit cannot be ridden after a crash: nobody looked at these, or these were seen. */
export type RideFault =
  | { readonly code: 'ride-unseen'; readonly names: readonly FindingName[] }
  | { readonly code: 'ride-harmed'; readonly seen: readonly (readonly [FindingName, string])[] };

/** Returns what forbids riding by what was seen after a crash, or null. */
export function rideFault(sort: UnitSort, findings: Findings): RideFault | null {
  const fields = inspectionLooks(sort, 'crash');
  const harm = fields.flatMap(({ name }) => {
    const seen = findings[name];
    return seen !== undefined && HARM[name]?.includes(seen) ? [[name, seen] as const] : [];
  });
  if (harm.length > 0) return { code: 'ride-harmed', seen: harm };
  const unseen = fields.filter(({ name, looks }) => !looks.includes(findings[name] ?? ''));
  return unseen.length > 0 ? { code: 'ride-unseen', names: unseen.map(({ name }) => name) } : null;
}
