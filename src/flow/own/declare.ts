/** Riding that nobody records, as people say it at the counter or on the own page. */
import { dayOf, daysBetween } from '../../core/days/calendar.js';
import { holdsOn } from '../../core/forecast/declared.js';
import type { DeclaredFact, Fact } from '../../core/ledger/facts.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import type { Entry } from '../entry.js';
import { replaceFact } from '../facts/changeFact.js';
import { refuse } from '../refuse.js';
import { listDeclared } from '../rides/countedRides.js';
import { getWorkshop } from '../settings.js';
import { getBike } from '../unitLedger.js';

/** *Default*: it is asked again after so many days. */
const ASKED_AFTER_DAYS = 91;

/** What is declared of a bike. */
export interface BikeDeclared {
  /** In order of entry. */
  readonly said: readonly DeclaredFact[];
  /** What holds today; null where nothing does, or files tell of it. */
  readonly now: Fact<'declared'> | null;
  /** Nobody said for a quarter of a year that it is still so. */
  readonly isToAsk: boolean;
}

/** Returns what is declared of a bike, and whether it is time to ask again. */
export async function getDeclared(tx: Tx, bikeId: string, now: Instant): Promise<BikeDeclared> {
  const facts = await tx.facts.list('declared', { subject: bikeId });
  if (facts.length === 0) return { said: [], now: null, isToAsk: false };
  const { timeZone } = await getWorkshop(tx);
  const today = dayOf(now, timeZone);
  const [of] = await listDeclared(tx, [await getBike(tx, bikeId)], now, timeZone);
  const holds = of === undefined ? null : holdsOn(of, today);
  const fact = (holds && facts[of!.said.indexOf(holds)]) ?? null;
  const lastSaid = fact && (fact.body.saidOn ?? dayOf(fact.recordedAt, timeZone));
  return {
    said: facts.map(({ body }) => body),
    now: fact,
    isToAsk: lastSaid !== null && daysBetween(lastSaid, today) >= ASKED_AFTER_DAYS,
  };
}

/** Says that what is declared of a bike is still so. Returns the fact's id. Errors: `refused` where nothing is. */
export async function sayStillSo(tx: Tx, bikeId: string, entry: Entry): Promise<string> {
  const { now } = await getDeclared(tx, bikeId, entry.at);
  if (now === null) return refuse('same-already');
  const { timeZone } = await getWorkshop(tx);
  const body = { ...now.body, saidOn: dayOf(entry.at, timeZone) };
  return (await replaceFact(tx, now.id, { kind: 'declared', body }, { ...entry, why: 'still so' })).id;
}
