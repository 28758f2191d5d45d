import { dayOf } from '../../core/days/calendar.js';
import { monthsEnd } from '../../core/forecast/dueChance.js';
import { type Offer, offersFor } from '../../core/ledger/offer.js';
import { type AddedServiceKind, defaultRestarts } from '../../core/ledger/serviceKinds.js';
import {
  type DigestRow,
  isToldState,
  type MailFrame,
  type ReminderItem,
  type ReminderRide,
} from '../../core/notices/mailContent.js';
import { WORKSHOP } from '../../core/notices/notice.js';
import type { Letter, MailWriter, OutgoingMail } from '../../ports/mailer.js';
import type { MailRow } from '../../ports/mails.js';
import type { NoticeRow } from '../../ports/notices.js';
import type { StandingRow } from '../../ports/standings.js';
import type { Tx } from '../../ports/store.js';
import { type Day, hoursOfSeconds, hoursOfThousandths, type Instant } from '../../units.js';
import { type DueRow, listDue } from '../due/listDue.js';
import { listOfferedDays } from '../plan/leadDays.js';
import { getWorkshop, listAddedKinds } from '../settings.js';
import { LinkMaker, type Links } from './links.js';
import { outgoing, senderOf } from './outgoing.js';
import { findSilence } from './silences.js';

const FREE_DAYS = 3;
const LAST_RIDES = 3;

/** A ride's ground in a word, halfway between the three that the workshop sets weights for. */
const groundOf = (severity: number): ReminderRide['ground'] =>
  severity < 0.55 ? 'smooth' : severity < 1.4 ? 'typical' : 'rough';

/** What mails are written with. */
export interface Pen {
  readonly writer: MailWriter;
  readonly links?: Links;
}

/** Returns the mail for the notices that it carries, from how things stand now; null where its reader has no address. */
export async function composeMail(
  tx: Tx,
  mail: MailRow,
  notices: readonly NoticeRow[],
  pen: Pen,
  now: Instant,
): Promise<OutgoingMail | null> {
  const workshop = await getWorkshop(tx);
  if (mail.to === WORKSHOP) return composeDigest(tx, mail, notices, pen, now);
  const contact = await tx.contacts.find(mail.to);
  if (!contact?.email) return null;
  const today = dayOf(now, workshop.timeZone);
  const rider = { name: contact.name, language: contact.language };
  const frame: MailFrame = { workshop, rider, today };
  const maker = pen.links ? new LinkMaker(pen.links, tx.workshopId, contact, now) : null;
  const letter = await riderLetter(tx, mail, notices, { frame, maker, writer: pen.writer }, now);
  const canStop = mail.mail !== 'confirm-address';
  const address = senderOf(workshop).address;
  const oneClickUrl = maker?.links.isOneClick ? maker.own('stop') : null;
  const headers = pen.writer.headers(contact.language, canStop ? { address, oneClickUrl } : null);
  return outgoing(mail, workshop, { name: contact.name, address: contact.email }, letter, headers, now);
}

interface Writing {
  readonly frame: MailFrame;
  readonly maker: LinkMaker | null;
  readonly writer: MailWriter;
}

async function riderLetter(
  tx: Tx,
  mail: MailRow,
  notices: readonly NoticeRow[],
  { frame, maker, writer }: Writing,
  now: Instant,
): Promise<Letter> {
  if (mail.mail === 'confirm-address')
    return writer.confirmAddress({ ...frame, link: maker?.own('address') ?? null });
  const stopMails = maker?.own('stop') ?? null;
  if (mail.mail === 'silence') {
    const since = (notices[0]?.cause || frame.today) as Day;
    const links = maker && stopMails !== null ? { handOver: `${maker.own('page')}/files`, stopMails } : null;
    return writer.silence({ ...frame, since, links });
  }
  const items = await reminderItems(tx, notices, maker, now);
  const [first] = items;
  return writer.reminder({
    ...frame,
    items: items.map(({ unitId: _, ...item }) => item),
    lastRides: await lastRides(tx, mail.to),
    freeDays: first
      ? await listOfferedDays(tx, { unitId: first.unitId, serviceKind: first.offered, count: FREE_DAYS }, now)
      : [],
    links:
      maker && stopMails !== null
        ? { wrongBike: maker.own('bike'), stopMails, ownPage: maker.own('page') }
        : null,
  });
}

async function composeDigest(
  tx: Tx,
  mail: MailRow,
  notices: readonly NoticeRow[],
  { writer, links }: Pen,
  now: Instant,
): Promise<OutgoingMail> {
  const workshop = await getWorkshop(tx);
  const letter = writer.digest({
    workshop,
    today: dayOf(now, workshop.timeZone),
    rows: await digestRows(tx, notices, now),
    lastDigest: await tx.mails.lastDayOf('digest'),
    trayCount: (await tx.rides.listAsking()).length,
    toCall: (await tx.contacts.list()).filter((one) => one.refusedAt !== null).map((one) => one.name),
    link: links ? `${links.publicUrl}/` : null,
  });
  const headers = writer.headers(workshop.language, null);
  return outgoing(mail, workshop, senderOf(workshop), letter, headers, now);
}

async function digestRows(tx: Tx, notices: readonly NoticeRow[], now: Instant): Promise<DigestRow[]> {
  const names = new Map((await tx.contacts.list()).map((contact) => [contact.riderId, contact.name]));
  const isNew = ({ unitId, serviceKind, state }: DueRow): boolean =>
    notices.some(
      (one) =>
        one.unitId === unitId &&
        one.state === state &&
        (state === 'stop-riding' || one.serviceKind === serviceKind),
    );
  const ends = new Map(
    (await tx.standings.list()).map((one) => [`${one.unitId} ${one.serviceKind}`, monthsEnd(one)]),
  );
  return oneOfStopped(await listDue(tx, now)).flatMap((row) =>
    isToldState(row.state)
      ? [
          {
            rider: row.riderId === null ? null : (names.get(row.riderId) ?? null),
            bike: row.bikeName,
            tag: row.unit,
            unitKind: row.unitKind,
            serviceKind: row.serviceKind,
            state: row.state,
            movingHours: row.movingHoursSince,
            terrainHours: row.terrainHoursSince,
            interval: row.interval,
            likely: row.likely,
            limit: row.limit,
            monthsEnd: ends.get(`${row.unitId} ${row.serviceKind}`) ?? null,
            isNew: isNew(row),
          },
        ]
      : [],
  );
}

/** A crash mark is the unit's: one row tells it, whatever its service kinds. */
function oneOfStopped(rows: readonly DueRow[]): DueRow[] {
  const stopped = new Set<string>();
  return rows.filter(({ unitId, state }) => {
    if (state !== 'stop-riding') return true;
    const isFirst = !stopped.has(unitId);
    stopped.add(unitId);
    return isFirst;
  });
}

/** One item a unit and job: what the notices tell of, with the larger job offered in place of a smaller one. */
async function reminderItems(
  tx: Tx,
  notices: readonly NoticeRow[],
  maker: LinkMaker | null,
  now: Instant,
): Promise<(ReminderItem & { readonly unitId: string })[]> {
  const workshop = await getWorkshop(tx);
  const today = dayOf(now, workshop.timeZone);
  const added = await listAddedKinds(tx);
  const told = new Set(notices.map((notice) => `${notice.unitId} ${notice.serviceKind}`));
  const rows = oneOfStopped(
    (await listDue(tx, now)).filter((row) => told.has(`${row.unitId} ${row.serviceKind}`)),
  );
  const items: (ReminderItem & { readonly unitId: string })[] = [];
  for (const row of rows) {
    if (!isToldState(row.state)) continue;
    const standings = await tx.standings.listOf(row.unitId);
    const silence = row.riderId === null ? null : await findSilence(tx, row.riderId, now, workshop.timeZone);
    const standing = standings.find((one) => one.serviceKind === row.serviceKind)!;
    items.push({
      unitId: row.unitId,
      bike: row.bikeName ?? row.unit,
      tag: row.unit,
      unitKind: row.unitKind,
      model: row.model,
      serviceKind: row.serviceKind,
      offered: offerOf(row, standings, added, today)?.serviceKind ?? row.serviceKind,
      state: row.state,
      movingHours: hoursOfSeconds(standing.movingS),
      terrainHours: hoursOfThousandths(standing.terrainMs),
      interval: row.interval,
      since: standing.periodStart,
      limit: row.limit,
      hoursLeft: row.hoursLeft,
      about: middleHalfOf(standing),
      noRidesSince: silence?.since ?? null,
      price: null,
      turnaround: null,
      links: maker?.item(row.unitId, row.serviceKind) ?? null,
    });
  }
  return items;
}

function offerOf(
  row: DueRow,
  standings: readonly StandingRow[],
  added: readonly AddedServiceKind[],
  today: Day,
): Offer | undefined {
  const jobs = standings.map((standing) => ({
    standing,
    restarts: defaultRestarts(row.unitKind, standing.serviceKind, added) ?? [],
  }));
  return offersFor(jobs, today).find((offer) => offer.includes.includes(row.serviceKind));
}

/** From the 25 % to the 75 % day; a limit in months that comes earlier ends it there. */
export function middleHalfOf({
  forecast,
  likely,
}: Pick<StandingRow, 'forecast' | 'likely'>): { from: Day; to: Day } | null {
  const { p10, p90 } = likely;
  if (p10 === null || p90 === null) return null;
  const day = (share: number): Day | null => forecast.quantileDays?.[share / 5 - 1] ?? null;
  const within = (on: Day): Day => (on < p10 ? p10 : on > p90 ? p90 : on);
  return { from: within(day(25) ?? p10), to: within(day(75) ?? p90) };
}

async function lastRides(tx: Tx, riderId: string): Promise<ReminderRide[]> {
  const bikes = new Map(
    (await tx.facts.list('bike', { object: riderId })).map((fact) => [fact.entityId, fact.body.name]),
  );
  return (await tx.rides.listLatestOfRider(riderId, LAST_RIDES)).map((ride) => ({
    day: ride.day!,
    bike: bikes.get(ride.bikeId!) ?? '',
    movingHours: hoursOfSeconds(ride.movingS),
    terrainHours: hoursOfThousandths(ride.terrainMs),
    ground: groundOf(ride.severity),
  }));
}
