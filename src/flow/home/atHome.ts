/** A job that a rider does at home: chosen on the own page, picked up at the counter, logged by its rider. */
import { dayOf } from '../../core/days/calendar.js';
import type { AtHomeFact, Fact, Findings, HomeJob, UnitFact } from '../../core/ledger/facts.js';
import type { UnitSheet } from '../../core/ledger/sheet.js';
import type { Matters } from '../../core/notices/matters.js';
import { findHomeJob, homeMatters, isToAsk } from '../../core/plan/atHome.js';
import { holdsPlace, jobsOfVisit } from '../../core/plan/leads.js';
import type { PartUse } from '../../core/plan/parts.js';
import type { ServiceKind } from '../../core/tokens.js';
import type { Ids } from '../../ports/ids.js';
import type { StandingRow } from '../../ports/standings.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import { getUnitSheet } from '../counter/sheets.js';
import { listRiderBikes, type RiderUnit } from '../due/riderUnits.js';
import type { Entry } from '../entry.js';
import { addFact } from '../facts/changeFact.js';
import { addService, findSameService, markUnit } from '../facts/enterFacts.js';
import { giveUp } from '../mail/answerLink.js';
import { addPhoto, type KeptPhoto } from '../photos/photos.js';
import { listTaken } from '../plan/partsShelf.js';
import { getWorkshop } from '../settings.js';
import { changeHome, findChosen } from './steps.js';

/** What the page of a job at home shows. */
export interface HomePage {
  readonly of: RiderUnit;
  readonly bike: string;
  readonly unit: UnitFact;
  readonly standing: StandingRow;
  /** What the workshop allows; null where it does not, or no longer. */
  readonly job: HomeJob | null;
  /** What the rider chose, while it is to be done. */
  readonly chosen: Fact<'atHome'> | null;
  /** The rest is over, and the page asks whether it is still to come. */
  readonly isAsked: boolean;
  readonly parts: readonly PartUse[];
  readonly sheet: UnitSheet;
  /** Oils, torques and the like that were typed for this unit alone. */
  readonly spec: Readonly<Record<string, string>>;
}

/** Returns a job on a unit that is on a bike of the rider's; null where there is no such. */
export async function findHomePage(
  tx: Tx,
  riderId: string,
  { unitId, serviceKind }: { readonly unitId: string | null; readonly serviceKind: ServiceKind | null },
  now: Instant,
): Promise<HomePage | null> {
  const bikes = await listRiderBikes(tx, riderId, now);
  const found = bikes
    .flatMap(({ bike, units }) => units.map((of) => ({ bike: bike.name, of })))
    .find(({ of }) => of.unitId === unitId);
  const standing = found?.of.standings.find((one) => one.serviceKind === serviceKind);
  if (!found || !standing) return null;
  const { unit } = found.of;
  const workshop = await getWorkshop(tx);
  const chosen = await findChosen(tx, riderId, standing);
  const today = dayOf(now, workshop.timeZone);
  return {
    ...found,
    ...{ unit, standing, chosen },
    job: findHomeJob(workshop.homeJobs ?? [], unit, standing) ?? null,
    isAsked: chosen !== null && isToAsk(chosen.body, today),
    parts: chosen?.body.pickedUp?.parts ?? (await listTaken(tx, unit, standing.serviceKind)),
    sheet: await getUnitSheet(tx, found.of.unitId, unit),
    spec: unit.spec ?? {},
  };
}

/**
 * Says that its rider does a job at home: its kit is to be picked up, and no place is held. A day for this job alone is
 * given up. Returns false where it was chosen already, or a visit with other jobs has a day.
 */
export async function chooseHome(
  tx: Tx,
  riderId: string,
  { of: { unitId }, standing, job, chosen }: HomePage,
  entry: Entry,
  ids: Ids,
): Promise<boolean> {
  if (job === null || chosen !== null) return false;
  const { serviceKind, periodId } = standing;
  const placed = (await tx.leads.listOfUnit(unitId)).find(holdsPlace);
  if (placed && jobsOfVisit(placed).some((one) => one !== serviceKind)) return false;
  await giveUp(tx, unitId, entry, ids);
  const body: AtHomeFact = {
    ...{ unitId, serviceKind, periodId, riderId, step: 'chosen' },
    chosenOn: dayOf(entry.at, (await getWorkshop(tx)).timeZone),
    ...{ pickedUp: null, stillOn: null, serviceId: null, calledOn: null },
  };
  await addFact(tx, { kind: 'atHome', body }, entry);
  return true;
}

/** What a rider says of a job that was done at home. */
export interface HomeAnswer {
  readonly on: Day;
  readonly findings: Findings;
  readonly photos: readonly KeptPhoto[];
  /** What the photographs show. */
  readonly shows: 'rings' | 'stanchions';
  /** Words of the stop mark, where what was seen forbids riding. */
  readonly stopWhy: (seen: Matters['stop']) => string;
}

/**
 * Logs a job as done at home, with what was seen. What forbids riding sets the stop mark. Returns what the workshop has
 * to look at; null where the same stands in the book. Errors: `refused`.
 */
export async function logHome(
  tx: Tx,
  { of: { unitId }, standing: { serviceKind }, parts }: HomePage,
  chosen: Fact<'atHome'>,
  { on, findings, photos, shows, stopWhy }: HomeAnswer,
  entry: Entry,
): Promise<Matters | null> {
  if (await findSameService(tx, { unitId, serviceKind, on })) return null;
  const done = { unitId, serviceKind, on, by: 'at-home', findings, note: null } as const;
  const used = chosen.body.pickedUp === null ? {} : { parts };
  const factId = await addService(tx, { ...done, ...used }, entry);
  const serviceId = (await tx.facts.find(factId))!.entityId;
  await changeHome(tx, chosen, { step: 'done', serviceId }, entry);
  const said = { unitId, serviceId, shows, showsPerson: false, takenBy: 'rider' } as const;
  for (const photo of photos) await addPhoto(tx, photo, said, entry);
  const matters = homeMatters(findings);
  if (matters.stop.length > 0) await markUnit(tx, unitId, true, stopWhy(matters.stop), entry);
  return matters;
}
