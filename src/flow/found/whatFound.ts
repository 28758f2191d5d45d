/** What was found and done at a service, as its rider is told. */
import { addDays, dayOf, startOfDay } from '../../core/days/calendar.js';
import type { Fact, Findings, ServiceFact, SetUpFact } from '../../core/ledger/facts.js';
import { type Matters, mattersOf, type SeenLook, seenBeside, setUpIn } from '../../core/notices/matters.js';
import type { ServiceKind } from '../../core/tokens.js';
import type { StandingRow } from '../../ports/standings.js';
import type { Tx } from '../../ports/store.js';
import { type Day, hoursOfSeconds, hoursOfThousandths, type Instant } from '../../units.js';
import { listPeriodHours } from '../due/periodHours.js';
import { listPhotos, type ShownPhoto } from '../photos/photos.js';
import { getWorkshop } from '../settings.js';
import { getUnitLedger, type UnitLedger } from '../unitLedger.js';

type SetUpValues = SetUpFact['values'];

export interface WhatFound {
  readonly on: Day;
  /** All services of that day, the one that is told first. */
  readonly did: readonly ServiceKind[];
  readonly matters: Matters;
  readonly found: readonly SeenLook[];
  readonly setUp: readonly SeenLook[];
  /** How it was set as it came for this service, and as it was handed over; null where nobody wrote it down. */
  readonly came: SetUpValues | null;
  readonly left: SetUpValues | null;
  readonly parts: NonNullable<ServiceFact['parts']>;
  /** As typed with the service; null where nobody did. */
  readonly price: string | null;
  /** Of the period that this service ended; null where nobody knows when it began. */
  readonly hours: { readonly terrainHours: number; readonly movingHours: number } | null;
  /** What is likely next; null where nothing can be foretold. */
  readonly next: StandingRow | null;
  /** Without those that show a person or a name. */
  readonly photos: readonly ShownPhoto[];
}

/**
 * Returns what a rider is told of a service; null where it does not stand, was not done here, or was done when the unit
 * was another’s.
 */
export async function findWhatFound(
  tx: Tx,
  {
    riderId,
    unitId,
    serviceId,
  }: { readonly riderId: string; readonly unitId: string; readonly serviceId: string },
  now: Instant,
): Promise<WhatFound | null> {
  const told = await tx.facts.current('service', serviceId);
  if (told?.body.unitId !== unitId || told.body.by !== 'here') return null;
  const { timeZone } = await getWorkshop(tx);
  const { on, serviceKind } = told.body;
  const ledger = await getUnitLedger(tx, unitId, timeZone);
  if (ownerOn(ledger, on) !== riderId) return null;
  const here = (await tx.facts.list('service', { subject: unitId })).filter(({ body }) => body.by === 'here');
  const sameDay = here.filter(({ body }) => body.on === on);
  const all = [told, ...sameDay.filter(({ entityId }) => entityId !== serviceId)];
  const did = [...new Set(all.map(({ body }) => body.serviceKind))];
  const findings: Findings = Object.assign({}, ...all.toReversed().map(({ body }) => body.findings ?? {}));
  const matters = mattersOf(findings, did);
  const ended = (await listPeriodHours(tx, ledger, now)).find(
    (one) => one.serviceKind === serviceKind && one.to === on && one.period.isKnown,
  );
  const ids = new Set(all.map(({ entityId }) => entityId));
  return {
    ...{ on, did, matters, found: seenBeside(findings, matters), setUp: setUpIn(findings) },
    ...(await setUpsAround(tx, unitId, on, here)),
    parts: all.flatMap(({ body }) => body.parts ?? []),
    price: told.body.price ?? null,
    hours: ended
      ? { terrainHours: hoursOfThousandths(ended.terrainMs), movingHours: hoursOfSeconds(ended.movingS) }
      : null,
    next: nextOf(await tx.standings.listOf(unitId), dayOf(now, timeZone)),
    photos: (await listPhotos(tx, unitId)).filter(
      (photo) =>
        photo.serviceId !== null &&
        ids.has(photo.serviceId) &&
        photo.riderId === riderId &&
        !photo.showsPerson,
    ),
  };
}

/** How the unit was set before and after the services of a day; what belongs to another service here is not taken. */
async function setUpsAround(
  tx: Tx,
  unitId: string,
  on: Day,
  here: readonly Fact<'service'>[],
): Promise<Pick<WhatFound, 'came' | 'left'>> {
  const days = here.map(({ body }) => body.on).sort();
  const before = days.findLast((day) => day < on);
  const after = days.find((day) => day > on);
  const sets = (await tx.facts.list('setUp', { subject: unitId })).map(({ body }) => body);
  const isBefore = (day: Day): boolean => day <= on && (before === undefined || day > before);
  const isAfter = (day: Day): boolean => day >= on && (after === undefined || day < after);
  const left = sets.findLast((set) => set.stage === 'left' && isAfter(set.on));
  const came = sets.findLast((set) => set.stage === 'came' && isBefore(set.on));
  return { came: came?.values ?? null, left: left?.values ?? null };
}

/** Whose bike it was on that day, or before it came off for the work. */
function ownerOn({ fittings, bikes, zone }: UnitLedger, on: Day): string | null {
  const end = startOfDay(addDays(on, 1), zone);
  const last = fittings.filter(({ from }) => from < end).sort((a, b) => b.from - a.from)[0];
  return last === undefined ? null : (bikes.get(last.bikeId)?.riderId ?? null);
}

/** What comes first of what is not there yet. */
function nextOf(standings: readonly StandingRow[], today: Day): StandingRow | null {
  const ahead = standings.filter(({ likely }) => likely.p50 !== null && likely.p50 >= today);
  return ahead.sort((a, b) => (a.likely.p50! < b.likely.p50! ? -1 : 1))[0] ?? null;
}

/** Returns the latest service that was done here since a day, of those entered last the last. */
export async function findToldService(tx: Tx, unitId: string, since: Day): Promise<Fact<'service'> | null> {
  const done = (await tx.facts.list('service', { subject: unitId })).filter(
    ({ body }) => body.by === 'here' && body.on >= since,
  );
  return (
    done.sort((a, b) => (a.body.on === b.body.on ? b.seq - a.seq : a.body.on < b.body.on ? 1 : -1))[0] ?? null
  );
}
