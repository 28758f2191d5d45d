import { serviceKindsOf, WIPERS_ONLY } from '../core/serviceKinds.js';
import type { UnitKind } from '../core/tokens.js';

/** What may be looked at inside a unit of each kind. */
export const FINDINGS: Readonly<Record<UnitKind, readonly string[]>> = {
  fork: ['foamRings', 'oil', 'water', 'stanchions', 'bushings', 'damper', 'airSpring', 'crown'],
  'air-shock': ['oil', 'water', 'bushings', 'damper', 'airSpring', 'crown'],
  'coil-shock': ['oil', 'bushings', 'damper', 'crown'],
};

/** How foam rings look, as the share gone dark is reckoned from. */
export const RINGS = ['pale', 'honey', 'dark'] as const;

/** Returns the jobs that may be logged for a kind of unit. */
export const jobsOf = (unitKind: UnitKind): string[] => [
  ...serviceKindsOf(unitKind, []).map((kind) => kind.name),
  ...(unitKind === 'fork' ? [WIPERS_ONLY] : []),
];
