import type { PartStay } from '../../core/ledger/partAge.js';
import { groundOf } from '../../core/ledger/rideWeight.js';
import { unrecordedBeside } from '../../core/ledger/unrecorded.js';
import { WET_FACTOR } from '../../core/ledger/weight.js';
import { type GroundHours, noGround, withRide } from '../../core/scale/groundHours.js';
import { type GroundSeen, teachWeights, type WeightsTaught } from '../../core/scale/ownWeights.js';
import type { RideRow } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';
import { hoursOfSeconds, type Instant, instant, seconds } from '../../units.js';
import { getWeightBounds } from '../facts/checkFact.js';
import { listDeclared, listUnrecorded, toCountedRides, toDeclaredRides } from '../rides/countedRides.js';
import { getWeights, getWorkshop } from '../settings.js';
import { getUnitLedger, type UnitLedger } from '../unitLedger.js';
import { listLookedAt, looksOf } from './ringsSeen.js';

/** More are not looked at: their rides would take seconds to read. */
const MOST_LOOKS = 400;

/** Returns what foam rings seen so far say of the three weights. */
export async function getWeightsTaught(tx: Tx, now: Instant): Promise<WeightsTaught> {
  const { timeZone } = await getWorkshop(tx);
  const looked = (await listLookedAt(tx)).slice(-MOST_LOOKS);
  const seen: GroundSeen[] = [];
  for (const unitId of new Set(looked.map(({ body }) => body.unitId)))
    seen.push(...(await listSeen(tx, await getUnitLedger(tx, unitId, timeZone), now)));
  return teachWeights(seen, await getWeights(tx), await getWeightBounds(tx));
}

/** Looks at rings whose age is known, and whose riding is; where it was only declared its ground is a word. */
async function listSeen(tx: Tx, ledger: UnitLedger, now: Instant): Promise<GroundSeen[]> {
  const looks = looksOf(ledger, now).filter(({ stay }) => stay.gap === null && stay.from !== null);
  if (looks.length === 0) return [];
  const since = instant(Math.min(...looks.map(({ stay }) => stay.from!)));
  const rides = await listRidesOf(tx, ledger, since);
  const shares = await listUnrecorded(tx, ledger.bikes.keys(), ledger.zone);
  const declared = toDeclaredRides(
    await listDeclared(tx, ledger.bikes.values(), now, ledger.zone),
    since,
    now,
  );
  return looks.flatMap(({ stay, isDark }): GroundSeen[] => {
    const own = rides.filter((ride) => isIn(stay, ride.start!));
    if (own.every(({ movingS }) => movingS === 0) || declared.some((one) => isIn(stay, one.start))) return [];
    const more = (ride: RideRow): number => {
      const [counted] = toCountedRides([ride], []);
      return 1 + (unrecordedBeside(counted!, shares)?.movingS ?? 0) / Math.max(1, ride.movingS);
    };
    const ground = own.reduce(
      (sum, ride) => withOne(sum, ledger, ride, ride.source === 'recorded' ? more(ride) : 1),
      noGround(),
    );
    return [{ ground, isDark }];
  });
}

const isIn = ({ from, to }: PartStay, at: Instant): boolean => at >= from! && (to === null || at < to);

async function listRidesOf(tx: Tx, { bikes, fittings }: UnitLedger, since: Instant): Promise<RideRow[]> {
  const all: RideRow[] = [];
  for (const bikeId of bikes.keys()) all.push(...(await tx.rides.listCounted(bikeId, since)));
  return all.filter(({ bikeId, start }) =>
    fittings.some(
      (one) => one.bikeId === bikeId && one.from <= start! && (one.to === null || start! < one.to),
    ),
  );
}

function withOne(
  ground: GroundHours,
  { unit, bikes }: UnitLedger,
  ride: RideRow,
  times: number,
): GroundHours {
  const factor = times * unit.factor * (ride.wet === true ? WET_FACTOR : 1);
  return withRide(ground, {
    parts: groundOf(ride, bikes.get(ride.bikeId!)),
    movingHours: factor * hoursOfSeconds(ride.movingS),
    airHours: factor * hoursOfSeconds(seconds(ride.terrain?.landings?.hangS ?? 0)),
  });
}
