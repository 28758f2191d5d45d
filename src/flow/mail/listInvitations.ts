/** Invitations into quiet weeks, as notices are decided on them. */
import { dayOf } from '../../core/days/calendar.js';
import type { Fact } from '../../core/ledger/facts.js';
import type { Invitation, Subject } from '../../core/notices/notice/notice.js';
import { isQuiet } from '../../core/notices/notice/wish.js';
import type { State } from '../../core/tokens.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import { getWorkshop } from '../settings.js';
import { listSubjects } from './listSubjects.js';

/** In these a place on the bench is worth asking for, and nothing else must be said first. */
export const INVITED_STATES: readonly State[] = ['over-interval', 'due', 'coming-up', 'in-time'];

/** Returns who is invited into a week that is not over, or about one unit. */
export async function listInvitations(tx: Tx, now: Instant, unitId?: string): Promise<Invitation[]> {
  const { timeZone } = await getWorkshop(tx);
  const today = dayOf(now, timeZone);
  const about = unitId === undefined ? {} : { subject: unitId };
  const facts = (await tx.facts.list('invited', about)).filter(({ body }) => body.to >= today);
  if (facts.length === 0) return [];
  const unitIds = [...new Set(facts.map(({ body }) => body.unitId))];
  const subjects = await listSubjects(tx, now, timeZone, unitIds);
  const invitations: Invitation[] = [];
  for (const fact of facts) {
    const { unitId: id, before } = fact.body;
    const unit = subjects.filter(({ standing }) => standing.unitId === id);
    const isOpen = isWanted(fact, unit, today) && !(await isAnswered(tx, fact, today));
    invitations.push({ unitId: id, before, riderId: unit[0]?.riderId ?? null, isOpen });
  }
  return invitations;
}

/** The service period is still the same, and nothing forbids riding. */
const isWanted = ({ body }: Fact<'invited'>, unit: readonly Subject[], today: Day): boolean =>
  unit.every(({ standing }) => standing.state !== 'stop-riding') &&
  unit.some(
    (one) =>
      one.standing.serviceKind === body.wanted &&
      one.standing.periodId === body.periodId &&
      INVITED_STATES.includes(one.standing.state) &&
      !isQuiet(one, today),
  );

/** It has a day to come, or its rider said that they do not want it. */
async function isAnswered(tx: Tx, { body }: Fact<'invited'>, today: Day): Promise<boolean> {
  const leads = await tx.leads.listOfUnit(body.unitId);
  return leads.some(
    (lead) =>
      (lead.day !== null && lead.day >= today && (lead.state === 'asked-for' || lead.state === 'booked')) ||
      (lead.step === 'not-wanted' && lead.periodId === body.periodId),
  );
}
