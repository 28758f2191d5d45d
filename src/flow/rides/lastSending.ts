/** What became of the rides that a rider sent last, as a sum. */
import { momentOf } from '../../core/ledger/moment.js';
import type { RideRow } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';
import { DAY_MS, type Day, type Instant, instant, type Seconds, seconds } from '../../units.js';
import { getWorkshop } from '../settings.js';

/** What came within so long before now is one sending. */
const ONE_SENDING_MS = DAY_MS;

/** Why a ride adds no hours, though nothing is asked of it. */
export const NO_HOURS = ['unfitted', 'unsuspended', 'indoors', 'no-ride'] as const;
export type NoHours = (typeof NO_HOURS)[number];

export interface LastSending {
  readonly rides: number;
  readonly movingS: Seconds;
  /** The first day of them; null where none has one. */
  readonly from: Day | null;
  readonly counted: number;
  readonly asking: number;
  readonly noHours: Readonly<Record<NoHours, number>>;
}

/** Returns the sum of what came from a rider within the last day; null where nothing did. */
export async function getLastSending(tx: Tx, riderId: string, now: Instant): Promise<LastSending | null> {
  const rides = await tx.rides.listCame(riderId, instant(now - ONE_SENDING_MS));
  if (rides.length === 0) return null;
  const whyOf = await openWhy(tx);
  const noHours: Record<NoHours, number> = { unfitted: 0, unsuspended: 0, indoors: 0, 'no-ride': 0 };
  let counted = 0;
  const asking = rides.filter(({ question, dismissed }) => question !== null && !dismissed);
  for (const ride of rides) {
    if (asking.includes(ride)) continue;
    const why = await whyOf(ride);
    if (why === null) counted += 1;
    else noHours[why] += 1;
  }
  const days = rides.flatMap(({ day }) => (day === null ? [] : [day])).sort();
  return {
    rides: rides.length,
    movingS: seconds(rides.reduce((sum, { movingS }) => sum + movingS, 0)),
    from: days[0] ?? null,
    ...{ counted, asking: asking.length, noHours },
  };
}

async function openWhy(tx: Tx): Promise<(ride: RideRow) => Promise<NoHours | null>> {
  const { timeZone } = await getWorkshop(tx);
  const fittings = new Map<string, readonly (readonly [from: Instant, to: Instant | null])[]>();
  const fittedOn = async (bikeId: string) => {
    const known = fittings.get(bikeId);
    if (known) return known;
    const own = (await tx.facts.list('fitting', { object: bikeId })).map(
      ({ body: { from, to } }) =>
        [momentOf(from, timeZone)!, to === null ? null : momentOf(to, timeZone)] as const,
    );
    fittings.set(bikeId, own);
    return own;
  };
  return async ({ dismissed, indoor, bikeId, start }) => {
    if (dismissed) return 'no-ride';
    if (indoor) return 'indoors';
    if (bikeId === null || start === null) return 'unfitted';
    const fitted = await fittedOn(bikeId);
    if (fitted.length === 0) return 'unsuspended';
    const isFitted = fitted.some(([from, to]) => from <= start && (to === null || start < to));
    return isFitted ? null : 'unfitted';
  };
}
