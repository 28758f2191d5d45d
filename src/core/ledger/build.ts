/** How a unit is built, as far as the work on it differs. */
import type { UnitSort } from './serviceKinds.js';

export type Build = 'air-fork' | 'coil-fork' | 'air-shock' | 'coil-shock';

export const FORKS: readonly Build[] = ['air-fork', 'coil-fork'];
export const SHOCKS: readonly Build[] = ['air-shock', 'coil-shock'];
export const WITH_AIR: readonly Build[] = ['air-fork', 'air-shock'];
export const WITH_COIL: readonly Build[] = ['coil-fork', 'coil-shock'];
export const ALL_BUILDS: readonly Build[] = [...FORKS, ...SHOCKS];

/** Returns how a unit is built. */
export const buildOf = ({ unitKind, spring = 'air' }: UnitSort): Build =>
  unitKind === 'fork' ? `${spring}-fork` : unitKind;
