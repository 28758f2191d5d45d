/** Lists as rows for a spreadsheet, by the names that files have. */
import { groupOf } from '../../core/ledger/benchYear.js';
import { fittingNow } from '../../core/ledger/ledger.js';
import { STATES, type State } from '../../core/tokens.js';
import type { MailState } from '../../ports/mails.js';
import type { Tx } from '../../ports/store.js';
import { hoursOfSeconds, hoursOfThousandths, type Instant, isoTime } from '../../units.js';
import { getBenchYear } from '../due/benchYear.js';
import { listDue } from '../due/listDue.js';
import { isSought, withNames } from '../due/namedRows.js';
import { getContact } from '../facts/ridersPage.js';
import { getFleet } from '../fittings/fleet.js';
import { listLeads } from '../plan/listLeads.js';
import { getWorkshop } from '../settings.js';
import { fittingOf } from '../unitLedger.js';

export type ListRow = Readonly<Record<string, string | number | boolean | null | undefined>>;

/** What a list is narrowed to. */
export interface ListFilter {
  readonly state?: string | undefined;
  readonly find?: string | undefined;
  /** As four digits. */
  readonly year?: string | undefined;
  /** Whose units alone are listed. */
  readonly fleetId?: string | null | undefined;
}

/** Returns the units of the fleet that a list is narrowed to; null for all. */
async function unitsOf(tx: Tx, { fleetId }: ListFilter, now: Instant): Promise<ReadonlySet<string> | null> {
  if (fleetId == null) return null;
  return new Set((await getFleet(tx, fleetId, now)).units.map(({ unit }) => unit.id));
}

type List = (tx: Tx, filter: ListFilter, now: Instant) => Promise<ListRow[]>;

const MOST_MAILS = 20_000;

/** Each as its page shows it, with the same filter. */
export const LISTS = {
  due: dueRows,
  units: unitRows,
  riders: riderRows,
  bookings: bookingRows,
  services: serviceRows,
  mails: mailRows,
  bench: benchRows,
} as const satisfies Readonly<Record<string, List>>;
export type ListName = keyof typeof LISTS;

async function dueRows(tx: Tx, filter: ListFilter, now: Instant): Promise<ListRow[]> {
  const { state, find = '' } = filter;
  const own = await unitsOf(tx, filter, now);
  const isIn = (one: State): boolean => !STATES.includes(state as State) || one === state;
  return (await withNames(tx, await listDue(tx, now)))
    .filter((row) => own?.has(row.unitId) ?? true)
    .filter((row) => isIn(row.state) && (find === '' || isSought(row, find)))
    .map(({ unitId: _u, bikeId: _b, riderId: _r, interval, likely, asOf, ...row }) => ({
      ...row,
      'interval.terrainHours': interval.terrainHours,
      'interval.months': interval.months,
      'interval.movingHoursCeiling': interval.movingHoursCeiling,
      'likely.p10': likely.p10,
      'likely.p50': likely.p50,
      'likely.p90': likely.p90,
      asOf: isoTime(asOf),
    }));
}

/** Handles of bikes and of their riders, by unit. */
async function bikesNow(tx: Tx, now: Instant) {
  const { timeZone } = await getWorkshop(tx);
  const bikes = new Map((await tx.facts.list('bike')).map((fact) => [fact.entityId, fact.body]));
  const riders = await tx.handles.all('rider');
  const on = new Map<string, { bike: string; bikeName: string; rider: string | null }>();
  for (const fact of await tx.facts.list('fitting')) {
    const bike = bikes.get(fact.body.bikeId);
    if (bike === undefined || !fittingNow([fittingOf(fact, timeZone)], now)) continue;
    const rider = bike.riderId === null ? null : (riders.get(bike.riderId) ?? null);
    on.set(fact.body.unitId, { bike: bike.handle, bikeName: bike.name, rider });
  }
  return on;
}

async function unitRows(tx: Tx, filter: ListFilter, now: Instant): Promise<ListRow[]> {
  const on = await bikesNow(tx, now);
  const own = await unitsOf(tx, filter, now);
  const units = (await tx.facts.list('unit')).filter(({ entityId }) => own?.has(entityId) ?? true);
  return units.map(({ entityId, body: { spec: _, history, ...unit } }) => ({
    ...{ ...unit, spring: unit.spring, modelYear: unit.modelYear, travelMm: unit.travelMm },
    history: typeof history === 'string' ? history : null,
    'history.terrainHours': typeof history === 'string' ? null : history.terrainHours,
    'history.movingHours': typeof history === 'string' ? null : history.movingHours,
    'history.asOf': typeof history === 'string' ? null : history.asOf,
    ...(on.get(entityId) ?? { bike: null, bikeName: null, rider: null }),
  }));
}

async function riderRows(tx: Tx): Promise<ListRow[]> {
  const handles = await tx.handles.all('rider');
  const bikes = await tx.facts.list('bike');
  return (await tx.contacts.list()).map(({ riderId, name, email, phone, language, confirmedAt }) => ({
    ...{ id: handles.get(riderId), name, email, phone, language, addressConfirmed: confirmedAt !== null },
    bikes: bikes
      .filter(({ body }) => body.riderId === riderId)
      .map(({ body }) => body.name)
      .join('; '),
  }));
}

async function bookingRows(tx: Tx, _filter: ListFilter, now: Instant): Promise<ListRow[]> {
  const leads = await listLeads(tx, now, ['asked-for', 'booked', 'open']);
  return leads.map(({ day, state, unit, unitKind, serviceKind, bike, riderName, phone, benchMinutes }) => ({
    ...{ day, state, unit, unitKind, serviceKind, bike, riderName, phone, benchMinutes },
  }));
}

async function serviceRows(tx: Tx, filter: ListFilter, now: Instant): Promise<ListRow[]> {
  const { year } = filter;
  const own = await unitsOf(tx, filter, now);
  const units = new Map((await tx.facts.list('unit')).map((fact) => [fact.entityId, fact.body]));
  const on = await bikesNow(tx, now);
  return (await tx.facts.list('service'))
    .filter(({ body }) => own?.has(body.unitId) ?? true)
    .filter(({ body }) => !year || body.on.startsWith(`${year}-`))
    .sort((a, b) => (a.body.on < b.body.on ? -1 : 1))
    .map(({ body, recordedBy }) => ({
      on: body.on,
      unit: units.get(body.unitId)?.tag,
      unitKind: units.get(body.unitId)?.unitKind,
      model: units.get(body.unitId)?.model,
      ...(on.get(body.unitId) ?? { bike: null, bikeName: null, rider: null }),
      serviceKind: body.serviceKind,
      by: body.by,
      restarts: body.restarts.join(' '),
      findings: Object.entries(body.findings ?? {})
        .map(([name, look]) => `${name}: ${look}`)
        .join('; '),
      parts: (body.parts ?? []).map(({ part, count, measure }) => `${count} ${measure} ${part}`).join('; '),
      technician: body.technician,
      price: body.price,
      note: body.note,
      recordedBy,
    }));
}

/** Each unit on the day of its service, as the year of the bench counts it. */
async function benchRows(tx: Tx, filter: ListFilter, now: Instant): Promise<ListRow[]> {
  const own = await unitsOf(tx, filter, now);
  const units = new Map((await tx.facts.list('unit')).map((fact) => [fact.entityId, fact.body]));
  const { visits, begunOn } = await getBenchYear(tx, now);
  return visits
    .filter(({ unitId }) => own?.has(unitId) ?? true)
    .map((visit) => ({
      on: visit.on,
      unit: units.get(visit.unitId)?.tag,
      unitKind: units.get(visit.unitId)?.unitKind,
      model: units.get(visit.unitId)?.model,
      serviceKinds: visit.serviceKinds.join(' '),
      clock: visit.clock?.serviceKind,
      terrainHours: visit.clock?.terrainHours,
      movingHours: visit.clock?.movingHours,
      limit: visit.clock?.limit,
      limitHours: visit.clock?.limitHours,
      used: visit.clock?.share.toFixed(3),
      ringsDark: visit.isDark,
      group: groupOf(visit, begunOn),
    }))
    .sort((a, b) => (a.on === b.on ? String(a.unit).localeCompare(String(b.unit)) : a.on < b.on ? -1 : 1));
}

async function mailRows(tx: Tx, { state }: ListFilter): Promise<ListRow[]> {
  const handles = await tx.handles.all('rider');
  const rows = await tx.mails.listLatest({ state: state as MailState | undefined, most: MOST_MAILS });
  return rows.map((mail) => ({
    ...{ day: mail.day, to: handles.get(mail.to) ?? mail.to, kind: mail.mail, state: mail.state },
    ...{ queuedAt: isoTime(mail.queuedAt), tries: mail.tries, answer: mail.answer },
  }));
}

/** Returns what a rider rode and what was done to their units, in order of days. Errors: `not-found`. */
export const listRiderHistory = async (tx: Tx, handle: string): Promise<ListRow[]> =>
  listHistory(tx, (await getContact(tx, handle)).riderId);

/** Returns the same of a rider by id. */
export async function listHistory(tx: Tx, riderId: string): Promise<ListRow[]> {
  const bikes = await tx.facts.list('bike', { object: riderId });
  const names = new Map(bikes.map(({ entityId, body }) => [entityId, body.name]));
  const bikeIds = [...names.keys()];
  const rows: ListRow[] = [];
  const row = (of: ListRow): void => {
    const none = {
      bike: null,
      unit: null,
      serviceKind: null,
      movingHours: null,
      terrainHours: null,
      note: null,
    };
    rows.push({ on: null, what: null, ...none, ...of });
  };
  // What somebody else rode on the rider's bike is somebody else's.
  for (const bikeId of bikeIds)
    for (const ride of await tx.rides.listCounted(bikeId))
      if (ride.riderId === riderId || ride.riderId === null)
        row({
          ...{
            on: ride.day,
            what: ride.source === 'hand' ? 'hours by hand' : 'ride',
            bike: names.get(bikeId),
          },
          movingHours: hoursOfSeconds(ride.movingS),
          terrainHours: hoursOfThousandths(ride.terrainMs),
        });
  const fittings = await tx.facts.listTouching('fitting', bikeIds);
  const unitIds = [...new Set(fittings.map(({ body }) => body.unitId))];
  const tags = await tx.handles.listOf('unit', unitIds);
  for (const { body } of fittings) {
    const of = { bike: names.get(body.bikeId), unit: tags.get(body.unitId) };
    row({ ...of, on: body.from.slice(0, 10), what: 'on the bike' });
    if (body.to !== null) row({ ...of, on: body.to.slice(0, 10), what: 'off the bike' });
  }
  for (const { body } of await tx.facts.listMany('service', unitIds)) {
    const wasTheirs = fittings.some(
      ({ body: on }) =>
        on.unitId === body.unitId &&
        on.from.slice(0, 10) <= body.on &&
        (on.to === null || body.on <= on.to.slice(0, 10)),
    );
    const { on, serviceKind, note } = body;
    if (wasTheirs) row({ on, what: 'service', unit: tags.get(body.unitId), serviceKind, note });
  }
  return rows.sort((a, b) => (String(a.on ?? '') < String(b.on ?? '') ? -1 : 1));
}
