import { type AddedServiceKind, serviceKindsOf, WIPERS_ONLY } from '../../core/ledger/serviceKinds.js';
import type { UnitKind } from '../../core/tokens.js';

/** Returns the jobs that may be logged for a kind of unit. */
export const jobsOf = (unitKind: UnitKind, added: readonly AddedServiceKind[]): string[] => [
  ...serviceKindsOf(unitKind, added).map((kind) => kind.name),
  ...(unitKind === 'fork' ? [WIPERS_ONLY] : []),
];
