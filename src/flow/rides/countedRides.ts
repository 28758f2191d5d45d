import { dayOf, startOfDay } from '../../core/days/calendar.js';
import { type DeclaredOf, declaredRides, type FilesTell } from '../../core/forecast/declared.js';
import { FILES_LOOKED_AT, type HandingOver, lapsedOn } from '../../core/forecast/knownUpTo.js';
import { groupBy } from '../../core/groupBy.js';
import type { Fact } from '../../core/ledger/facts.js';
import type { Bike, CountedRide } from '../../core/ledger/ledger.js';
import { type UnrecordedShare, unrecordedBeside } from '../../core/ledger/unrecorded.js';
import type { RideHoursRow } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { getWeights } from '../settings.js';

const shareOf = ({ body }: Fact<'unrecorded'>, zone: string): UnrecordedShare => ({
  bikeId: body.bikeId,
  from: startOfDay(body.from, zone),
  to: body.to === null ? null : startOfDay(body.to, zone),
  share: body.share,
});

/** Returns what was said of riding on these bikes that went unrecorded. */
export const listUnrecorded = async (
  tx: Tx,
  bikeIds: Iterable<string>,
  zone: string,
): Promise<UnrecordedShare[]> =>
  (await tx.facts.listMany('unrecorded', [...bikeIds])).map((fact) => shareOf(fact, zone));

/** Returns a ride that counts as the core takes it. */
const toCounted = ({ id, bikeId, start, movingS, groundMs }: RideHoursRow): CountedRide => ({
  id,
  bikeId: bikeId!,
  start: start!,
  movingS,
  groundMs,
});

/** Returns rides that count as the core takes them, and what went unrecorded beside those that were recorded. */
export function toCountedRides(
  rows: readonly RideHoursRow[],
  shares: readonly UnrecordedShare[],
): CountedRide[] {
  const counted: CountedRide[] = [];
  for (const row of rows) {
    const ride = toCounted(row);
    counted.push(ride);
    const beside = row.source === 'recorded' ? unrecordedBeside(ride, shares) : null;
    if (beside !== null) counted.push(beside);
  }
  return counted;
}

/** Returns when the latest files of a rider, or of a bike, came. */
export async function listFiles(
  tx: Tx,
  of: { readonly riderId: string } | { readonly bikeId: string },
  asOf: Instant,
  zone: string,
): Promise<HandingOver[]> {
  const files = await tx.rides.listHandedOver(of, asOf, FILES_LOOKED_AT);
  return files.map(({ start, came }) => ({ ridden: dayOf(start, zone), came: dayOf(came, zone) }));
}

/** Returns what is declared of these bikes, and of which days files tell; nothing more is read where nothing is. */
export async function listDeclared(
  tx: Tx,
  bikes: Iterable<Bike>,
  asOf: Instant,
  zone: string,
): Promise<DeclaredOf[]> {
  const byId = new Map([...bikes].map((bike) => [bike.id, bike]));
  const facts = await tx.facts.listMany('declared', [...byId.keys()]);
  if (facts.length === 0) return [];
  const weights = await getWeights(tx);
  const found: DeclaredOf[] = [];
  for (const [bikeId, said] of groupBy(facts, ({ body }) => body.bikeId)) {
    const bike = byId.get(bikeId)!;
    const files = await filesTellOf(tx, bike, asOf, zone);
    found.push({ bike, said: said.map(({ body }) => body), files, weights, zone });
  }
  return found;
}

async function filesTellOf(tx: Tx, { id, riderId }: Bike, asOf: Instant, zone: string): Promise<FilesTell> {
  const first = await tx.rides.firstRecordedStart(id, asOf);
  if (first === null) return { from: null, upTo: null };
  const files = await listFiles(tx, riderId === null ? { bikeId: id } : { riderId }, asOf, zone);
  return { from: dayOf(first, zone), upTo: lapsedOn(files, dayOf(asOf, zone)) };
}

/** Returns what is declared of the days before today as rides, from a moment on. */
export const toDeclaredRides = (
  declared: readonly DeclaredOf[],
  from: Instant,
  asOf: Instant,
): CountedRide[] => declared.flatMap((of) => declaredRides(of, dayOf(from, of.zone), dayOf(asOf, of.zone)));
