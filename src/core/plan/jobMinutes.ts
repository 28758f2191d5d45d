import type { JobMinutes } from '../ledger/facts.js';
import { type AddedServiceKind, findServiceKind, jobsOf, type UnitSort } from '../ledger/serviceKinds.js';
import type { ServiceKind } from '../tokens.js';

/** What decides how long jobs take. */
export interface MinuteTerms {
  /** The workshop's own kinds, which say it themselves. */
  readonly added: readonly AddedServiceKind[];
  /** The workshop's own minutes for all others. */
  readonly own: readonly JobMinutes[];
}

/** A job without a clock takes so long until the workshop says otherwise. */
const UNCLOCKED_MINUTES = 60;

/** Returns the bench minutes of a job; undefined where such a unit has no such job. */
export function jobMinutes(
  sort: UnitSort,
  kind: ServiceKind,
  { added, own }: MinuteTerms,
): number | undefined {
  if (!jobsOf(sort, added).includes(kind)) return undefined;
  const typed = own.find((one) => one.unitKind === sort.unitKind && one.serviceKind === kind);
  const isAdded = added.some((one) => one.unitKind === sort.unitKind && one.name === kind);
  return isAdded || !typed
    ? (findServiceKind(sort, kind, added)?.benchMinutes ?? UNCLOCKED_MINUTES)
    : typed.minutes;
}
