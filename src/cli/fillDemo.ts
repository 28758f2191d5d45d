/** The demo's story, played on a ledger of its own: the season is taken, mails go out, and the desk has its morning. */
import type { writeDemo } from '../../samples/writeDemo.js';
import { addDays } from '../core/days/calendar.js';
import { expiryFrom } from '../core/links.js';
import { isLive, visitUnitOf } from '../core/plan/leads.js';
import { ServiceError } from '../errors.js';
import { addAccount } from '../flow/accounts.js';
import { importLedger } from '../flow/carry/importLedger.js';
import { setSheet } from '../flow/counter/sheets.js';
import { refreshAllDue } from '../flow/due/refreshDue.js';
import type { Entry } from '../flow/entry.js';
import { saveClaim } from '../flow/facts/claims.js';
import { changedRow, correctFact, getFactRow } from '../flow/facts/correctFact.js';
import { addService, markUnit } from '../flow/facts/enterFacts.js';
import { lookAfterCrash } from '../flow/facts/inspections.js';
import { benchUnit, changeJob } from '../flow/facts/jobs.js';
import { getHirePage, sendOut } from '../flow/fittings/hire.js';
import { findLinkedUnit, riderEntry } from '../flow/mail/answerLink.js';
import { deliverOutbox } from '../flow/mail/deliverOutbox.js';
import { queueNotices } from '../flow/mail/queueNotices.js';
import { askForDay } from '../flow/mail/riderDay.js';
import { sayAfterService } from '../flow/own/afterService.js';
import { findJob } from '../flow/plan/jobs.js';
import { listOfferedDays } from '../flow/plan/leadDays.js';
import { bookLead, declineLead, withdrawBooking } from '../flow/plan/leads.js';
import { addSetUp } from '../flow/plan/setUps.js';
import { scanInboxOnce } from '../flow/take/scanInbox.js';
import { hashPassword, type Stanchion } from '../main.js';
import type { LeadRow } from '../ports/leads.js';
import type { Mailer } from '../ports/mailer.js';
import type { Tx } from '../ports/store.js';
import { type Day, type Instant, instant, MINUTE_MS } from '../units.js';
import { fillHire, fillJobQuestion, fillLoan, fillQuietWeek } from './demo/fillAround.js';
import { collectFound, pictureRings, tellFound } from './demo/fillFound.js';
import { fillHome } from './demo/fillHome.js';
import { fillTeam } from './demo/fillTeam.js';

import { readRow } from './importSchema.js';
import { getByHandle } from './opened.js';

export interface DemoSetup extends ReturnType<typeof writeDemo> {
  readonly document: Parameters<typeof importLedger>[1];
  readonly today: Day;
  readonly now: Instant;
}

/** Who may sign in to the demo, all with one password. */
export const DEMO_ACCOUNTS = [
  { name: 'owner', role: 'owner', fleet: null },
  { name: 'bench', role: 'technician', fleet: null },
  { name: 'pit', role: 'mechanic', fleet: 't1' },
] as const;

/** The rider whose relay refuses the mail, so that one can see what becomes of such a rider. */
const UNREACHABLE = 'r4@example.org';
/** The fleet of hire bikes, and its fork that goes on loan. */
const HIRE = 't2';
const LOAN_FORK = 'F-0306';
/** The fork whose service is done on the day itself. */
const DONE_TODAY = 'F-0110';
const SCAN_APART_MS = 6 * MINUTE_MS;

export async function fillDemo(
  stanchion: Stanchion,
  setup: DemoSetup,
  password: string,
  { hasTeam }: { readonly hasTeam: boolean },
): Promise<void> {
  const { store } = stanchion;
  const entry = { by: 'owner', at: setup.now };
  const passwordHash = await hashPassword(
    password,
    DEMO_ACCOUNTS.map(({ name }) => name),
  );
  await store.write(async (tx) => {
    await importLedger(tx, setup.document, entry);
    for (const account of DEMO_ACCOUNTS) await addAccount(tx, { ...account, passwordHash });
  });
  if (hasTeam) await fillTeam(store, setup.today, setup.now);
  // A damaged file is taken once it has stood still, so the folder is looked at twice.
  for (const minutesAgo of [SCAN_APART_MS, 0]) {
    const clock = { now: () => instant(setup.now - minutesAgo) };
    await scanInboxOnce({ ...stanchion, clock });
  }
  await store.write((tx) => beforeTheMails(tx, setup));
  const mailing = { ...stanchion, mailer: refusing(stanchion.mailer) };
  await refreshAllDue(mailing);
  await store.write((tx) => fillQuietWeek(tx, ['F-0110', 'F-0106'], deskEntry(setup)));
  await queueNotices(mailing);
  // It is brought in between the decision and the delivery: its mail is withdrawn.
  await store.write(async (tx) => {
    const unitId = await unitOf(tx, 'F-0112');
    await benchUnit(tx, unitId, true, deskEntry(setup));
    const values = { pressure: '78 psi, bench pump', sag: '32 mm', rebound: '8', tokens: '1' };
    await addSetUp(tx, { unitId, stage: 'came', name: null, values }, deskEntry(setup));
  });
  await store.write((tx) => fillAfterwards(tx, 'F-0112', setup.today, deskEntry(setup)));
  await deliverOutbox(mailing);
  await pictureRings(stanchion, DONE_TODAY, deskEntry(setup));
  await store.write((tx) => afterTheMails(tx, setup, stanchion));
  await store.write((tx) => fillHome(tx, setup.today, deskEntry(setup), stanchion.ids));
  await store.write(async (tx) => {
    const entry = deskEntry(setup);
    await fillJobQuestion(tx, 'A-0107', entry, stanchion.ids);
    await fillHire(tx, HIRE, setup.today, entry);
    await fillLoan(tx, { fleet: HIRE, unit: LOAN_FORK, bike: 'b12' }, entry);
    await tellFound(tx, DONE_TODAY, entry, stanchion);
  });
  await refreshAllDue(mailing);
  await queueNotices(mailing);
  await deliverOutbox(mailing);
  await store.write((tx) => collectFound(tx, DONE_TODAY, deskEntry(setup)));
}

const unitOf = (tx: Tx, tag: string): Promise<string> => getByHandle(tx, 'unit', tag);
const deskEntry = ({ now }: DemoSetup) => ({ by: 'bench', at: now });

/** Stands in for a relay that does not know one of the addresses. */
const refusing = (mailer: Mailer): Mailer => ({
  deliver: async (mail, signal) => {
    if (mail.to.address !== UNREACHABLE) return mailer.deliver(mail, signal);
    throw new ServiceError('mail-failed', '550 5.1.1 There is no such mailbox here.', {
      permanent: true,
    });
  },
});

async function beforeTheMails(tx: Tx, setup: DemoSetup): Promise<void> {
  const entry = deskEntry(setup);
  for (const action of setup.actions) {
    const unitId = await unitOf(tx, action.unit);
    if (action.does === 'bench') await benchUnit(tx, unitId, action.at === 'in', entry);
    else await markUnit(tx, unitId, action.mark === 'stop', action.why, entry);
    if (action.does === 'mark' && action.looked !== undefined) {
      const seen = { unitId, cause: 'crash', on: setup.today, serial: null, ...action.looked } as const;
      await lookAfterCrash(tx, seen, action.looked.note, entry);
    }
  }
  const shock = (await tx.facts.current('unit', await unitOf(tx, 'C-0104')))!.body;
  const scope = { model: shock.model, modelYear: null, unitId: null };
  const typed = { edition: 'invented for this demo', values: { mountTorque: 'see page 14' } };
  await setSheet(tx, { unitKind: shock.unitKind, scope }, typed, null, entry);
  const { id, body } = (await tx.facts.list('service', { subject: await unitOf(tx, 'C-0104') }))[0]!;
  const fact = await getFactRow(tx, id);
  const { dayRead, why } = setup.misread;
  const read = readRow('service', changedRow(fact, { on: dayRead }));
  if ('wrong' in read) throw new Error(`${body.on}: ${JSON.stringify(read.wrong)}`);
  await correctFact(tx, id, { kind: 'service', row: read.row }, { ...entry, why });
}

/** One rider asks for a day, one let go of a day for another, one is declined, and one's fork is done already. */
async function afterTheMails(tx: Tx, setup: DemoSetup, { ids }: Stanchion): Promise<void> {
  const { now } = setup;
  const desk = deskEntry(setup);
  const asked = await leadOf(tx, 'F-0102');
  const contact = (await tx.contacts.find(asked.riderId!))!;
  const { unitId, wanted: serviceKind } = asked;
  const link = {
    purpose: 'ask',
    riderId: contact.riderId,
    unitId,
    serviceKind,
    expiresAt: expiryFrom(now),
  } as const;
  const linked = await findLinkedUnit(tx, { link, contact, isExpired: false }, now);
  const wish = { units: [{ unitId, jobs: [serviceKind] }], count: 1 };
  const [day] = await listOfferedDays(tx, wish, now);
  const answer = await askForDay(tx, linked!, day!, riderEntry(contact, now), ids);
  if (answer.outcome !== 'asked') throw new Error(`the demo's rider was answered with ${answer.outcome}`);

  const booked = await leadOf(tx, 'A-0103');
  const [first, next] = await listOfferedDays(tx, { units: [visitUnitOf(booked)], count: 2 }, now);
  await bookLead(tx, booked.id, first!, desk, ids);
  await withdrawBooking(tx, booked.id, desk, ids);
  const again = (await tx.leads.listOfUnit(booked.unitId)).find(isLive)!;
  await bookLead(tx, again.id, next!, desk, ids);
  const done = await leadOf(tx, DONE_TODAY);
  await bookLead(tx, done.id, setup.today, desk, ids, { evenIfFull: true });
  await declineLead(tx, (await leadOf(tx, 'A-0110')).id, desk, ids);
  await addService(tx, { unitId: await unitOf(tx, DONE_TODAY), on: setup.today, ...setup.doneToday }, desk);
}

async function leadOf(tx: Tx, tag: string): Promise<LeadRow> {
  const [lead] = await tx.leads.listOfUnit(await unitOf(tx, tag));
  if (!lead) throw new Error(`the demo has no lead for ${tag}`);
  return lead;
}

/** The fork that was brought in today comes back after its last service here. */
async function fillAfterwards(tx: Tx, tag: string, today: Day, entry: Entry): Promise<void> {
  const unitId = await unitOf(tx, tag);
  const job = await findJob(tx, entry.at, unitId);
  const [last] = job?.before ?? [];
  if (!job || !last) throw new Error(`the demo has no earlier service of ${tag}`);
  await changeJob(tx, unitId, job.stay.factId, { comeback: { ...last, cause: 'seal' } }, entry);
  const said = {
    what: 'oil weeps past new seals',
    step: 'sent',
    sentTo: 'the importer',
    answer: null,
  } as const;
  await saveClaim(tx, unitId, null, said, entry);
  const shockId = await unitOf(tx, 'C-0104');
  const { serviceKind, on } = (await tx.facts.list('service', { subject: shockId }))[0]!.body;
  await sayAfterService(tx, { unitId: shockId, serviceKind, on }, 'it creaks under load again', entry);
  const { bikes } = await getHirePage(tx, 't1', entry.at);
  const words = { until: addDays(today, 2), hoursADay: 1.5, ground: 'rough', note: 'slip 12' } as const;
  await sendOut(tx, bikes.find(({ units }) => units.every(({ stopped }) => stopped === null))!, words, entry);
}
