import { dayOf } from '../../core/days/calendar.js';
import type { Landings } from '../../core/ground/samples/landings.js';
import type { ClaimFact, Fact, InspectionFact, JobFact } from '../../core/ledger/facts.js';
import { type Bike, fittingNow, type Unit } from '../../core/ledger/ledger.js';
import { eveningOf, momentOf } from '../../core/ledger/moment.js';
import type { AddedServiceKind } from '../../core/ledger/serviceKinds.js';
import { fleetOf, type Gone, goneOn } from '../../core/ledger/whereabouts.js';
import type { Going, ServiceKind } from '../../core/tokens.js';
import type { StandingRow } from '../../ports/standings.js';
import type { Tx } from '../../ports/store.js';
import { type Day, type Instant, instant } from '../../units.js';
import { findClaim } from '../facts/claims.js';
import { placeOf } from '../fittings/checkFitting.js';
import { type Fleet, getFleet, listFleetFacts } from '../fittings/fleet.js';
import { listFittingsOn } from '../fittings/unitFittings.js';
import { getIdOf } from '../names.js';
import { listPhotos, type ShownPhoto } from '../photos/photos.js';
import { type BenchVisit, findVisit, visitOf } from '../plan/card.js';
import { findJob, type ShownJob } from '../plan/jobs.js';
import { listFormer } from '../rides/formerRides.js';
import type { OwnFleet } from '../rights.js';
import { getWorkshop, listAddedKinds } from '../settings.js';
import { getUnitLedger, type UnitLedger } from '../unitLedger.js';
import { listForeseenOf } from './foreseen.js';
import { type Charged, listCharged, sumLandings } from './listCharged.js';
import { type DueRow, listDueOf } from './listDue.js';
import { type NamedRow, withNames } from './namedRows.js';
import { listPartAges, type PartAge } from './partAges.js';
import type { PeriodHours } from './periodHours.js';
import { getUnitPast, type UnitCurve } from './unitCurves.js';

const RIDES_SHOWN = 12;

/** One line of a unit's service book. */
export type BookLine = {
  readonly factId: string;
  readonly day: Day;
  readonly by: string;
  readonly at: Instant;
} & (
  | { readonly kind: 'service'; readonly fact: Fact<'service'> }
  /** The bike is null where it is none of the fleet's. */
  | {
      readonly kind: 'on' | 'off';
      readonly bike: string | null;
      readonly isEvening: boolean;
      /** The tag of what it took the place of, or what took its place, in the same moment. */
      readonly other: string | null;
    }
  | { readonly kind: 'gone'; readonly how: Going }
  /** The fleet's name; null for none. */
  | { readonly kind: 'fleet'; readonly fleet: string | null }
  | { readonly kind: 'mark' | 'clear'; readonly why: string }
  | { readonly kind: 'inspection'; readonly inspection: InspectionFact }
  | { readonly kind: 'in' | 'out' }
  | { readonly kind: 'job'; readonly job: JobFact }
  | { readonly kind: 'claim'; readonly claim: ClaimFact }
);

/** All that a unit's page shows. */
export interface UnitPage {
  readonly unitId: string;
  readonly fact: Fact<'unit'>;
  readonly ledger: UnitLedger;
  readonly rows: readonly NamedRow[];
  readonly periods: readonly PeriodHours[];
  readonly ages: readonly PartAge[];
  /** Of its rides since the last service; null where no recorder of them records any. */
  readonly landings: Landings | null;
  readonly rides: readonly Charged[];
  /** Ids of those of them that an earlier reader read, whose file is no longer kept. */
  readonly former: ReadonlySet<string>;
  /** Of each service kind, the most pressing first. */
  readonly curves: readonly UnitCurve[];
  readonly book: readonly BookLine[];
  readonly photos: readonly ShownPhoto[];
  /** Handle and name of every bike, for putting the unit on one; null where there are too many to list. */
  readonly bikes: readonly { readonly handle: string; readonly name: string }[] | null;
  readonly addedKinds: readonly AddedServiceKind[];
  /** That it left for good; null while it is there. */
  readonly gone: Gone | null;
  /** Its fleet now, by handle; null for none. */
  readonly fleet: string | null;
  readonly fleets: readonly { readonly handle: string; readonly name: string }[];
  /** Its stay at the workshop that has not ended. */
  readonly job: ShownJob | null;
  /** Until when it is on loan on the bike that it is on; null where it is not. */
  readonly loan: Day | null;
  /** Its claim under warranty that waits for an answer. */
  readonly claim: Fact<'claim'> | null;
  /** What the unit comes for, as its bench card has it. */
  readonly visit: BenchVisit;
  /** The largest job of it. */
  readonly comingJob: ServiceKind | null;
  /** Whether a mechanic sees it: what lies outside of the fleet is named to nobody then. */
  readonly isOfTeam: boolean;
  /** Other units of its kind; null where there are too many to list. */
  readonly others: readonly OtherUnit[] | null;
}

/** What a unit may be swapped with. */
export interface OtherUnit {
  readonly tag: string;
  /** It has the mark that it must not be ridden. */
  readonly isStopped: boolean;
}

/** When the latest service was; its beginning where none is known. */
const lastServiceOf = (running: readonly PeriodHours[]): Instant =>
  instant(Math.max(0, ...running.map(({ period }) => period.from ?? 0)));

/** Returns what a unit's page shows to somebody who sees the whole workshop or one fleet. Errors: `not-found`. */
export async function getUnitPage(
  tx: Tx,
  tag: string,
  { now, fleet }: { readonly now: Instant; readonly fleet: OwnFleet | null },
): Promise<UnitPage> {
  const unitId = await getIdOf(tx, 'unit', tag);
  const { timeZone: zone } = await getWorkshop(tx);
  const ledger = await getUnitLedger(tx, unitId, zone);
  const { bikes, units } =
    fleet === null ? await listAll(tx) : await getFleet(tx, fleet.id, now).then(ofFleet);
  const rows = await listDueOf(tx, unitId, now);
  const fleets = await listFleetFacts(tx);
  const [foreseen] = await listForeseenOf(tx, now, [unitId]);
  const past = await getUnitPast(tx, ledger, await standingsIn(tx, unitId, rows), now);
  const rides = await listCharged(tx, ledger, now, RIDES_SHOWN);
  const stopped = new Set(await tx.standings.listUnitsIn(['stop-riding']));
  const visit = foreseen === undefined ? visitOf(null) : await findVisit(tx, foreseen, dayOf(now, zone));
  return {
    unitId,
    fact: (await tx.facts.current('unit', unitId))!,
    ledger,
    rows: await withNames(tx, rows),
    periods: past.running,
    landings: await sumLandings(tx, ledger, now, lastServiceOf(past.running)),
    ages: await listPartAges(tx, ledger, now),
    curves: past.curves,
    former: await listFormer(
      tx,
      rides.map(({ ride }) => ride),
    ),
    rides: rides.filter(({ ride }) => fleet === null || ledger.bikes.get(ride.bikeId!)?.fleetId === fleet.id),
    book: await listBook(tx, ledger, fleet),
    photos: await listPhotos(tx, unitId),
    isOfTeam: fleet !== null,
    bikes:
      bikes?.map(({ handle, name }) => ({ handle, name })).sort((a, b) => (a.name < b.name ? -1 : 1)) ?? null,
    addedKinds: await listAddedKinds(tx),
    gone: goneOn(ledger.departures, dayOf(now, zone)),
    fleet: fleets.find(({ entityId }) => entityId === fleetOf(ledger, now, zone))?.body.handle ?? null,
    fleets: fleets.map(({ body }) => body),
    job: ledger.stay === null ? null : await findJob(tx, now, unitId),
    loan: await findLoan(tx, ledger, now),
    claim: await findClaim(tx, unitId),
    visit,
    comingJob: visit.job,
    others:
      units
        ?.filter((one) => one.unitKind === ledger.unit.unitKind && one.tag !== ledger.unit.tag)
        .map(({ id, tag }) => ({ tag, isStopped: stopped.has(id) }))
        .sort((a, b) => (a.tag < b.tag ? -1 : 1)) ?? null,
  };
}

async function findLoan(tx: Tx, { unit, fittings }: UnitLedger, now: Instant): Promise<Day | null> {
  const on = fittingNow(fittings, now);
  const facts = on === undefined ? [] : await tx.facts.list('fitting', { subject: unit.id });
  return facts.find(({ entityId }) => entityId === on?.id)?.body.loanUntil ?? null;
}

/** In the order of the rows. */
async function standingsIn(tx: Tx, unitId: string, rows: readonly DueRow[]): Promise<StandingRow[]> {
  const place = ({ serviceKind }: StandingRow): number =>
    rows.findIndex((row) => row.serviceKind === serviceKind);
  return [...(await tx.standings.listOf(unitId))].sort((a, b) => place(a) - place(b));
}

/** Where there are many, a list of all is of no use to anybody: it is typed. */
const MOST_LISTED = 150;

async function listAll(tx: Tx): Promise<Reachable> {
  const isFew = async (kind: 'bike' | 'unit'): Promise<boolean> =>
    !(await tx.handles.areMoreThan(kind, MOST_LISTED));
  return {
    bikes: (await isFew('bike')) ? (await tx.facts.list('bike')).map((fact) => fact.body) : null,
    units: (await isFew('unit'))
      ? (await tx.facts.list('unit')).map((fact) => ({ ...fact.body, id: fact.entityId }))
      : null,
  };
}

/** What the unit's forms may name; null where that is typed. */
interface Reachable {
  readonly bikes: readonly Pick<Bike, 'handle' | 'name'>[] | null;
  readonly units: readonly Pick<Unit, 'id' | 'tag' | 'unitKind'>[] | null;
}

const ofFleet = ({ bikes, units }: Fleet): Reachable => ({ bikes, units: units.map(({ unit }) => unit) });

/** Newest first. */
async function listBook(
  tx: Tx,
  { unit, bikes, zone }: UnitLedger,
  fleet: OwnFleet | null,
): Promise<BookLine[]> {
  const of = { subject: unit.id };
  const lines: BookLine[] = [];
  for (const fact of await tx.facts.list('service', of))
    lines.push({
      kind: 'service',
      factId: fact.id,
      fact,
      day: fact.body.on,
      by: fact.recordedBy,
      at: fact.since,
    });
  for (const { id: factId, body, recordedBy: by } of await tx.facts.list('fitting', of)) {
    const { name, fleetId } = bikes.get(body.bikeId)!;
    const bike = fleet === null || fleetId === fleet.id ? name : null;
    const moments = { on: momentOf(body.from, zone), off: body.to === null ? null : momentOf(body.to, zone) };
    for (const kind of ['on', 'off'] as const) {
      const at = moments[kind];
      if (at === null) continue;
      const isEvening = eveningOf(at, zone) !== null;
      const other = bike === null ? null : await findOther(tx, { bikeId: body.bikeId, unit, at, kind }, zone);
      lines.push({ kind, factId, bike, isEvening, other, day: dayOf(at, zone), by, at });
    }
  }
  for (const { id: factId, body, recordedBy: by, since: at } of await tx.facts.list('gone', of))
    lines.push({ kind: 'gone', factId, how: body.how, day: body.on, by, at });
  for (const { id: factId, body, recordedBy: by, since: at } of await tx.facts.list('membership', of)) {
    const name =
      body.fleetId === null ? null : ((await tx.facts.current('fleet', body.fleetId))?.body.name ?? '');
    lines.push({ kind: 'fleet', factId, fleet: name, day: body.from ?? dayOf(at, zone), by, at });
  }
  for (const { id: factId, body, recordedBy: by, since: at } of await tx.facts.list('mark', of))
    lines.push({ kind: body.stop ? 'mark' : 'clear', factId, why: body.why, day: dayOf(at, zone), by, at });
  for (const { id: factId, body, recordedBy: by, since: at } of await tx.facts.list('inspection', of))
    lines.push({ kind: 'inspection', factId, inspection: body, day: body.on, by, at });
  for (const { id: factId, body, recordedBy: by, since: at } of await tx.facts.list('bench', of))
    lines.push({ kind: body.in ? 'in' : 'out', factId, day: dayOf(at, zone), by, at });
  for (const { id: factId, body, recordedBy: by, since: at } of await tx.facts.list('job', of))
    lines.push({ kind: 'job', factId, job: body, day: body.arrivedOn, by, at });
  for (const { id: factId, body, recordedBy: by, since: at } of await tx.facts.list('claim', of))
    lines.push({ kind: 'claim', factId, claim: body, day: body.openedOn, by, at });
  return lines.sort((a, b) => (a.day < b.day ? 1 : a.day > b.day ? -1 : b.at - a.at));
}

/** What was on the bike in the unit's place until that moment, or from then on. */
async function findOther(
  tx: Tx,
  {
    bikeId,
    unit,
    at,
    kind,
  }: { readonly bikeId: string; readonly unit: Unit; readonly at: Instant; readonly kind: 'on' | 'off' },
  zone: string,
): Promise<string | null> {
  for (const { fact, from, to } of await listFittingsOn(tx, bikeId, zone)) {
    if ((kind === 'on' ? to : from) !== at || fact.body.unitId === unit.id) continue;
    const other = (await tx.facts.current('unit', fact.body.unitId))?.body;
    if (other && placeOf(other.unitKind) === placeOf(unit.unitKind)) return other.tag;
  }
  return null;
}
