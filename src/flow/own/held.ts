/** What is held of a rider, as a page shows it: the same as the file, in lists that somebody can read. */
import { dayOf } from '../../core/days/calendar.js';
import type { BikeFact, UnitFact } from '../../core/ledger/facts.js';
import type { FileRow } from '../../ports/files.js';
import type { LeadRow } from '../../ports/leads.js';
import type { MailRow } from '../../ports/mails.js';
import type { Tx } from '../../ports/store.js';
import type { Day } from '../../units.js';
import { type ListRow, listHistory } from '../counter/lists.js';
import { getWorkshop } from '../settings.js';

/** So many of each are shown; the file has all. */
const MOST_SHOWN = 200;

export interface HeldFile extends Pick<FileRow, 'outcome' | 'code' | 'bytes'> {
  readonly name: string;
  readonly day: Day | null;
}

export interface HeldBooking extends Pick<LeadRow, 'state' | 'day' | 'serviceKind'> {
  readonly unit: UnitFact;
}

/** Newest first, each list cut where it is long. */
export interface HeldOfRider {
  readonly bikes: readonly BikeFact[];
  /** Every one that was on a bike of theirs. */
  readonly units: readonly UnitFact[];
  /** Rides, hours, services, fittings. */
  readonly history: readonly ListRow[];
  readonly files: readonly HeldFile[];
  readonly mails: readonly (Pick<MailRow, 'mail' | 'state' | 'day'> & { readonly subject: string | null })[];
  readonly bookings: readonly HeldBooking[];
  /** How many there are of what was cut. */
  readonly counts: Readonly<Record<'history' | 'files' | 'mails', number>>;
}

export async function getHeld(tx: Tx, riderId: string): Promise<HeldOfRider> {
  const { timeZone } = await getWorkshop(tx);
  const bikes = await tx.facts.list('bike', { object: riderId });
  const fittings = await tx.facts.listTouching(
    'fitting',
    bikes.map(({ entityId }) => entityId),
  );
  const unitIds = [...new Set(fittings.map(({ body }) => body.unitId))];
  const units = await tx.facts.listMany('unit', unitIds);
  const history = (await listHistory(tx, riderId)).reverse();
  const files = await tx.files.listOfRider(riderId);
  const shown = files.slice(-MOST_SHOWN).reverse();
  const arrivals = await tx.files.listArrivals(shown.map(({ id }) => id));
  const nameOf = new Map(arrivals.map((one) => [one.fileId, one]));
  const mails = [...(await tx.mails.listTo(riderId))].sort((a, b) => b.queuedAt - a.queuedAt);
  const bookings: HeldBooking[] = [];
  for (const { entityId, body } of units)
    for (const { state, day, serviceKind, riderId: whose } of await tx.leads.listOfUnit(entityId))
      if (whose === riderId) bookings.push({ state, day, serviceKind, unit: body });
  return {
    bikes: bikes.map(({ body }) => body),
    units: units.map(({ body }) => body),
    history: history.slice(0, MOST_SHOWN),
    files: shown.map(({ id, outcome, code, bytes }) => {
      const came = nameOf.get(id);
      return { outcome, code, bytes, name: came?.name ?? '', day: came ? dayOf(came.at, timeZone) : null };
    }),
    mails: mails
      .slice(0, MOST_SHOWN)
      .map(({ mail, state, day, written }) => ({ mail, state, day, subject: written?.subject ?? null })),
    bookings,
    counts: { history: history.length, files: files.length, mails: mails.length },
  };
}
