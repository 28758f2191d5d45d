import type { Standing } from '../../core/ledger/due.js';
import { type Offer, offersFor } from '../../core/ledger/offer.js';
import { isReached } from '../../core/states.js';
import type { ServiceKind, State } from '../../core/tokens.js';
import type { Day } from '../../units.js';
import type { ForeseenUnit } from '../due/foreseen.js';

/** A unit on the bench shows that in place of what its hours say, so its likely day is asked. */
const isDueOn = ({ state, likely }: Standing, on: Day): boolean =>
  isReached(state) || (state === 'on-the-bench' && likely.p50 !== null && likely.p50 <= on);

/** Returns what to offer a unit by a day, the larger job in place of a smaller one; none where nothing is due. */
export function dueOffers({ foreseen }: Pick<ForeseenUnit, 'foreseen'>, on: Day): Offer[] {
  const jobs = foreseen.map(({ standing, restarts }) => {
    const state: State = isDueOn(standing, on) ? 'due' : 'in-time';
    return { standing: { ...standing, state }, restarts };
  });
  return offersFor(jobs, on);
}

/** Returns the jobs that a unit wants by a day; none where nothing is due. */
export const dueKinds = (one: Pick<ForeseenUnit, 'foreseen'>, on: Day): ServiceKind[] =>
  dueOffers(one, on).map(({ serviceKind }) => serviceKind);
