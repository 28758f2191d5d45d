/** What happens around the services of the demo: a job that changed, bikes on hire, a fork on loan, a quiet week. */
import { addDays, atHour, dayOf } from '../../core/days/calendar.js';
import { type Winter, winterOf } from '../../core/plan/quietWeeks.js';
import type { Entry } from '../../flow/entry.js';
import { addFact } from '../../flow/facts/changeFact.js';
import { askJob } from '../../flow/facts/jobQuestions.js';
import { comeBack, getHirePage, type HireBike, sendOut } from '../../flow/fittings/hire.js';
import { putOn } from '../../flow/fittings/putOn.js';
import { setFleet } from '../../flow/fittings/whereabouts.js';
import { queueJobQuestion } from '../../flow/mail/kinds/jobQuestion.js';
import { getQuietWeek, inviteUnits } from '../../flow/plan/quietWeek.js';
import { getWorkshop } from '../../flow/settings.js';
import type { Ids } from '../../ports/ids.js';
import type { Tx } from '../../ports/store.js';
import { DAY_MS, type Day, instant, isoTime } from '../../units.js';
import { getByHandle } from '../opened.js';

/** The rings of a shock on the bench are dark: its rider is asked, and has not answered. */
export async function fillJobQuestion(tx: Tx, tag: string, entry: Entry, ids: Ids): Promise<void> {
  const unitId = await getByHandle(tx, 'unit', tag);
  const asked = {
    ...{ from: 'air-sleeve', to: 'full', why: 'The rings are dark and the oil has water in it.' },
    ...{ price: '185 €', day: addDays(dayOf(entry.at, (await getWorkshop(tx)).timeZone), 3) },
  };
  await askJob(tx, unitId, asked, entry);
  await queueJobQuestion(tx, unitId, entry.at, ids);
}

const WORDS = { hoursADay: 1.5, ground: 'rough' } as const;
const DAYS_AGO = 5;
const LOAN_DAYS = 4;

/** A bike of a fleet is late, and one came back today. */
export async function fillHire(tx: Tx, fleet: string, today: Day, entry: Entry): Promise<void> {
  const before = { ...entry, at: instant(entry.at - DAYS_AGO * DAY_MS) };
  const page = () => getHirePage(tx, fleet, entry.at);
  const isFit = ({ units }: HireBike): boolean => units.every(({ stopped }) => stopped === null);
  const [late, back] = (await page()).bikes.filter(isFit);
  await sendOut(tx, late!, { ...WORDS, until: addDays(today, -1), note: 'slip 9' }, before);
  await sendOut(tx, back!, { ...WORDS, until: today, note: 'slip 10' }, before);
  const { out: seen } = (await page()).bikes.find(({ bike }) => bike.id === back!.bike.id)!;
  const said = { ...WORDS, daysRidden: 3, hoursNote: 'On hire', harm: new Map<string, string>() };
  await comeBack(tx, seen!.id, said, entry);
}

/** A fork of a fleet goes on a customer's bike until the bike's own is done; it stays the fleet's. */
export async function fillLoan(
  tx: Tx,
  { fleet, unit, bike }: { readonly fleet: string; readonly unit: string; readonly bike: string },
  entry: Entry,
): Promise<void> {
  const unitId = await getByHandle(tx, 'unit', unit);
  const bikeId = await getByHandle(tx, 'bike', bike);
  const loanUntil = addDays(dayOf(entry.at, (await getWorkshop(tx)).timeZone), LOAN_DAYS);
  const fleetId = await getByHandle(tx, 'fleet', fleet);
  await setFleet(tx, { unitId, fleetId, from: null }, entry);
  await putOn(tx, { unitId, bikeId, at: isoTime(entry.at), loanUntil }, false, entry);
}

const INVITED = 3;
const WEEKS_BACK = 3;

/** Riders are invited into the first quiet week; where none lies ahead, some were in the last winter. */
export async function fillQuietWeek(tx: Tx, served: readonly string[], entry: Entry): Promise<void> {
  const quiet = await getQuietWeek(tx, entry.at, null);
  if (quiet !== null && quiet.rows.length > 0) {
    const tags = quiet.rows.filter(({ state }) => state === 'in-time').map(({ unit }) => unit);
    const chosen = tags.length > 0 ? tags : quiet.rows.map(({ unit }) => unit);
    await inviteUnits(tx, { on: quiet.week.from, tags: chosen.slice(0, INVITED) }, entry);
    return;
  }
  const { timeZone } = await getWorkshop(tx);
  let on = dayOf(entry.at, timeZone);
  let winter: Winter | null = null;
  while (winter === null) {
    on = addDays(on, -7);
    winter = winterOf(timeZone, on);
  }
  const from = addDays(on, -7 * WEEKS_BACK);
  const at = atHour(addDays(from, -10), 10, timeZone);
  for (const tag of served) {
    const unitId = await getByHandle(tx, 'unit', tag);
    const [standing] = await tx.standings.listOf(unitId);
    if (!standing) throw new Error(`the demo has no standing of ${tag}`);
    const { serviceKind, periodId } = standing;
    const body = {
      unitId,
      serviceKind,
      wanted: serviceKind,
      periodId,
      from,
      to: addDays(from, 6),
      before: winter.before,
    };
    await addFact(tx, { kind: 'invited', body }, { ...entry, at });
  }
}
