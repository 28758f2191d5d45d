import { fittingNow } from '../../core/ledger/ledger.js';
import type { LeadState } from '../../core/plan/leads.js';
import type { BookingStep, ServiceKind, State, UnitKind } from '../../core/tokens.js';
import type { Contact } from '../../ports/contacts.js';
import type { LeadRow } from '../../ports/leads.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import { stopReasons } from '../due/namedRows.js';
import { getWorkshop } from '../settings.js';
import { fittingOf } from '../unitLedger.js';

/** A lead as it is shown. */
export interface ShownLead {
  readonly id: string;
  /** The last step of its booking, as it is shown. */
  readonly factId: string | null;
  readonly step: BookingStep | null;
  /** Other days that were offered when it was declined. */
  readonly offered: readonly Day[];
  readonly wish: string | null;
  readonly state: LeadState;
  readonly unit: string;
  readonly unitKind: UnitKind;
  readonly serviceKind: ServiceKind;
  readonly wanted: ServiceKind;
  /** Other jobs of the same visit. */
  readonly beside: readonly ServiceKind[];
  readonly unitState: State | null;
  /** Why the unit must not be ridden; null where it may. */
  readonly stopWhy: string | null;
  readonly bike: string | null;
  readonly rider: string | null;
  readonly riderName: string | null;
  readonly phone: string | null;
  /** A mail reaches the rider. */
  readonly isMailed: boolean;
  readonly day: Day | null;
  readonly likely: Day | null;
  readonly benchMinutes: number;
  readonly changedAt: Instant;
  readonly changedBy: string;
}

/** A mail reaches a rider whose address is confirmed and takes mail. */
export const isReached = ({ email, confirmedAt, refusedAt }: Contact): boolean =>
  email !== null && confirmedAt !== null && refusedAt === null;

/** What is asked for first, then booked days in order, then what is open by likely day; then what is settled. */
const ORDER: readonly LeadState[] = ['asked-for', 'booked', 'open', 'declined', 'passed', 'done'];

/** Returns all leads; `states` names the ones wanted, or `some` are those that were found. */
export async function listLeads(
  tx: Tx,
  now: Instant,
  states?: readonly LeadState[],
  some?: readonly LeadRow[],
): Promise<ShownLead[]> {
  const { timeZone } = await getWorkshop(tx);
  const leads = some ?? (await tx.leads.list(states));
  const unitIds = [...new Set(leads.map(({ unitId }) => unitId))];
  const riderIds = [...new Set(leads.map(({ riderId }) => riderId).filter((id) => id !== null))];
  const units = new Map((await tx.facts.listMany('unit', unitIds)).map((fact) => [fact.entityId, fact.body]));
  const on = (await tx.facts.listMany('fitting', unitIds))
    .map((fact) => fittingOf(fact, timeZone))
    .filter((one) => fittingNow([one], now));
  const bikeIds = [...new Set(on.map(({ bikeId }) => bikeId))];
  const bikes = new Map((await tx.facts.listMany('bike', bikeIds)).map((fact) => [fact.entityId, fact.body]));
  const bikeOn = new Map(on.map(({ unitId, bikeId }) => [unitId, bikes.get(bikeId)]));
  const handles = await tx.handles.listOf('rider', riderIds);
  const contacts = new Map((await tx.contacts.listOf(riderIds)).map((contact) => [contact.riderId, contact]));
  const standings = new Map(
    (await tx.standings.listOfMany(unitIds)).map((one) => [`${one.unitId} ${one.serviceKind}`, one]),
  );
  const stopped = await stopReasons(tx, unitIds);
  const shown = leads.flatMap((lead): ShownLead[] => {
    const unit = units.get(lead.unitId);
    if (!unit) return [];
    const standing = standings.get(`${lead.unitId} ${lead.wanted}`);
    const contact = contacts.get(lead.riderId ?? '');
    const { factId, step, offered, wish } = lead;
    const { id, state, serviceKind, wanted, beside = [], day, benchMinutes, changedAt, changedBy } = lead;
    return [
      {
        ...{ factId, step, offered, wish },
        ...{ id, state, serviceKind, wanted, beside, day, benchMinutes, changedAt, changedBy },
        unit: unit.tag,
        unitKind: unit.unitKind,
        unitState: standing?.state ?? null,
        stopWhy: stopped.get(lead.unitId) ?? null,
        bike: bikeOn.get(lead.unitId)?.name ?? null,
        rider: handles.get(lead.riderId ?? '') ?? null,
        riderName: contact?.name ?? null,
        phone: contact?.phone ?? null,
        isMailed: contact !== undefined && isReached(contact),
        likely: standing?.likely.p50 ?? null,
      },
    ];
  });
  const dayOfLead = (lead: ShownLead): string => lead.day ?? lead.likely ?? 'later than any day';
  return shown.sort(
    (a, b) =>
      ORDER.indexOf(a.state) - ORDER.indexOf(b.state) ||
      (dayOfLead(a) < dayOfLead(b) ? -1 : dayOfLead(a) > dayOfLead(b) ? 1 : 0) ||
      (a.unit < b.unit ? -1 : 1),
  );
}
