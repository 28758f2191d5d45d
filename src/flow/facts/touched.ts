/** What a change of facts puts out of date, and bringing it up to date. */
import { canonical } from '../../core/canonical.js';
import type { Fact, FactBodies, FactKind, FittingFact, IntervalFact } from '../../core/ledger/facts.js';
import { momentOf } from '../../core/ledger/moment.js';
import type { UnitKind } from '../../core/tokens.js';
import { SAY_NOTHING, type SayLeft } from '../../ports/loops.js';
import type { Tx } from '../../ports/store.js';
import { type Instant, instant } from '../../units.js';
import { recountUnit } from '../due/refreshDue.js';
import { deriveBooking } from '../plan/deriveBooking.js';
import { deriveAllRides, deriveEntries } from '../rides/deriveRides.js';
import { settleReadings } from '../rides/settleReadings.js';
import { getWorkshop } from '../settings.js';

export interface Touched {
  readonly unitIds: Set<string>;
  readonly unitKinds: Set<UnitKind>;
  /** Bikes whose units are counted again. */
  readonly bikeIds: Set<string>;
  /** Bikes whose rides are derived again, for they weigh otherwise or are another's. */
  readonly changedBikeIds: Set<string>;
  /** Riders whose rides may find another bike by themselves. */
  readonly riderIds: Set<string>;
  readonly readingIds: Set<string>;
  /** Bikes that had a unit otherwise for a time: rides of then that no word put on a bike may find another. */
  readonly refitted: { readonly bikeId: string; readonly from: Instant; readonly until: Instant }[];
  /** Hand-entered hours. */
  readonly entryIds: Set<string>;
  /** Whose rows follow from another step. */
  readonly bookingIds: Set<string>;
  allUnits: boolean;
  allRides: boolean;
}

export const nothingTouched = (): Touched => ({
  unitIds: new Set(),
  unitKinds: new Set(),
  bikeIds: new Set(),
  changedBikeIds: new Set(),
  riderIds: new Set(),
  readingIds: new Set(),
  refitted: [],
  entryIds: new Set(),
  bookingIds: new Set(),
  allUnits: false,
  allRides: false,
});

/** A fact as it stood and as it stands; null where it did not, or does not any more. */
export interface Change<K extends FactKind = FactKind> {
  readonly kind: K;
  readonly entityId: string;
  readonly before: FactBodies[K] | null;
  readonly after: FactBodies[K] | null;
}

type Touch<K extends FactKind> = (
  touched: Touched,
  change: Change<K>,
  /** Before and after, as far as there are such. */
  bodies: readonly FactBodies[K][],
  tx: Tx,
) => Promise<void> | void;

const ofUnit = (touched: Touched, _change: unknown, bodies: readonly { readonly unitId: string }[]): void => {
  for (const { unitId } of bodies) touched.unitIds.add(unitId);
};

const nothing = (): void => {};

const TOUCH: { readonly [K in FactKind]: Touch<K> } = {
  workshop: (touched, { before, after }) => {
    if (before?.timeZone !== after?.timeZone) touched.allRides = touched.allUnits = true;
    if (before?.noticeDays !== after?.noticeDays) touched.allUnits = true;
  },
  weights: (touched) => {
    touched.allRides = touched.allUnits = true;
  },
  rider: nothing,
  fleet: nothing,
  reread: nothing,
  race: nothing,
  part: nothing,
  shelf: nothing,
  bike: (touched, { entityId, before, after }, bodies) => {
    const isSame =
      before !== null &&
      after !== null &&
      before.riderId === after.riderId &&
      canonical([before.fleetId, before.formerFleets ?? []]) ===
        canonical([after.fleetId, after.formerFleets ?? []]) &&
      before.type === after.type &&
      before.motor === after.motor &&
      (before.sold ?? null) === (after.sold ?? null) &&
      (before.usual ?? null) === (after.usual ?? null);
    if (isSame) return;
    touched.changedBikeIds.add(entityId);
    touched.bikeIds.add(entityId);
    for (const { riderId } of bodies) if (riderId !== null) touched.riderIds.add(riderId);
  },
  unit: (touched, { entityId }) => void touched.unitIds.add(entityId),
  fitting: async (touched, { before, after }, bodies, tx) => {
    for (const { unitId } of bodies) touched.unitIds.add(unitId);
    const { timeZone } = await getWorkshop(tx);
    touched.refitted.push(...refittedBy(before, after, timeZone));
    if (before?.bikeId === after?.bikeId) return;
    for (const { bikeId } of bodies) await touchSuspension(touched, bikeId, before === null, tx);
  },
  serviceKind: (touched, _change, bodies) => {
    for (const { unitKind } of bodies) touched.unitKinds.add(unitKind);
  },
  clocks: (touched) => {
    touched.allUnits = true;
  },
  membership: ofUnit,
  gone: ofUnit,
  service: ofUnit,
  mark: ofUnit,
  bench: ofUnit,
  job: ofUnit,
  claim: nothing,
  heard: nothing,
  // Its hours are facts of their own.
  hire: nothing,
  booking: nothing,
  photo: nothing,
  // What came up stands with the unit's standings, and was made with them.
  comingUp: nothing,
  told: nothing,
  setUp: nothing,
  // It holds a reminder back; the service that comes of it is a fact of its own.
  atHome: nothing,
  jobQuestion: nothing,
  invited: nothing,
  inspection: nothing,
  sheet: nothing,
  interval: (touched, _change, bodies) => {
    for (const body of bodies) touchRule(touched, body);
  },
  hours: (touched, { entityId }, bodies) => {
    touched.entryIds.add(entityId);
    for (const { bikeId } of bodies) touched.bikeIds.add(bikeId);
  },
  unrecorded: (touched, _change, bodies) => {
    for (const { bikeId } of bodies) touched.bikeIds.add(bikeId);
  },
  declared: (touched, _change, bodies) => {
    for (const { bikeId } of bodies) touched.bikeIds.add(bikeId);
  },
  answer: (touched, _change, bodies) => {
    for (const { readingId } of bodies) touched.readingIds.add(readingId);
  },
};

function touchRule(touched: Touched, { unitKind, scope }: IntervalFact): void {
  if (scope.unitId === null) touched.unitKinds.add(unitKind);
  else touched.unitIds.add(scope.unitId);
}

const EVER = instant(Number.MAX_SAFE_INTEGER);

/** Returns the times in which a bike had the unit by one word and not by the other. */
function refittedBy(
  before: FittingFact | null,
  after: FittingFact | null,
  zone: string,
): Touched['refitted'] {
  const timeOf = ({ bikeId, from, to }: FittingFact) => ({
    bikeId,
    from: momentOf(from, zone) ?? instant(0),
    until: to === null ? EVER : (momentOf(to, zone) ?? EVER),
  });
  const times = [before, after].filter((body) => body !== null).map(timeOf);
  const [one, two] = times;
  if (one === undefined || two === undefined || one.bikeId !== two.bikeId) return times;
  const between = (a: Instant, b: Instant) => ({
    bikeId: one.bikeId,
    from: instant(Math.min(a, b)),
    until: instant(Math.max(a, b)),
  });
  return [between(one.from, two.from), between(one.until, two.until)].filter(
    ({ from, until }) => from < until,
  );
}

/** Returns the recordings of rides that found their bike by its suspension, or none, in the times that changed. */
async function listRefitted(tx: Tx, refitted: Touched['refitted']): Promise<string[]> {
  const readingIds: string[] = [];
  for (const { bikeId, from, until } of refitted) {
    const riderId = (await tx.facts.current('bike', bikeId))?.body.riderId;
    if (!riderId) continue;
    for (const ride of await tx.rides.listOf({ riderIds: [riderId], bikeIds: [] })) {
      const isOpen = ride.bikeId === null || ride.bikeRule === 'only-suspended';
      if (isOpen && ride.start !== null && ride.start >= from && ride.start < until)
        readingIds.push(...ride.readingIds);
    }
  }
  return readingIds;
}

/** A bike that has suspension at last, or no longer, may find its rider's rides by itself. */
async function touchSuspension(touched: Touched, bikeId: string, isAdded: boolean, tx: Tx): Promise<void> {
  if (isAdded && (await tx.facts.list('fitting', { object: bikeId })).length > 1) return;
  const bike = await tx.facts.current('bike', bikeId);
  if (bike?.body.riderId) touched.riderIds.add(bike.body.riderId);
}

/** Adds to `touched` what the change, which is written already, puts out of date. */
export async function touch<K extends FactKind>(tx: Tx, touched: Touched, change: Change<K>): Promise<void> {
  const { before, after } = change;
  // A row says by whom and when, which changes though nothing else does.
  if (change.kind === 'booking') touched.bookingIds.add(change.entityId);
  if (before !== null && after !== null && canonical(before) === canonical(after)) return;
  const bodies = [before, after].filter((body) => body !== null);
  await (TOUCH[change.kind] as Touch<K>)(touched, change, bodies, tx);
}

/** Brings rides, hours and states up to date; forecasts follow with the next refresh. */
export async function follow(
  tx: Tx,
  touched: Touched,
  now: Instant,
  told: SayLeft = SAY_NOTHING,
): Promise<void> {
  if (touched.allRides) await deriveAllRides(tx);
  const rides = await tx.rides.listOf({
    bikeIds: [...touched.changedBikeIds],
    riderIds: [...touched.riderIds],
  });
  const readingIds = new Set([
    ...touched.readingIds,
    ...rides.flatMap((ride) => ride.readingIds),
    ...(await listRefitted(tx, touched.refitted)),
  ]);
  if (readingIds.size > 0) await settleReadings(tx, [...readingIds], now);
  const entryIds = new Set(touched.entryIds);
  for (const bikeId of touched.changedBikeIds)
    for (const entry of await tx.facts.list('hours', { subject: bikeId })) entryIds.add(entry.entityId);
  await deriveEntries(tx, entryIds);
  for (const id of touched.bookingIds) await deriveBooking(tx, id);
  const unitIds = [...(await listUnitIds(tx, touched))];
  for (const [i, unitId] of unitIds.entries()) {
    await told('counting the hours of units', unitIds.length - i);
    await recountUnit(tx, unitId, now);
  }
}

async function listUnitIds(tx: Tx, touched: Touched): Promise<Set<string>> {
  const unitIds = new Set(touched.unitIds);
  for (const bikeId of touched.bikeIds)
    for (const { body } of await tx.facts.list('fitting', { object: bikeId })) unitIds.add(body.unitId);
  if (!touched.allUnits && touched.unitKinds.size === 0) return unitIds;
  const isTouched = ({ body }: Fact<'unit'>): boolean =>
    touched.allUnits || touched.unitKinds.has(body.unitKind);
  for (const unit of (await tx.facts.list('unit')).filter(isTouched)) unitIds.add(unit.entityId);
  return unitIds;
}
