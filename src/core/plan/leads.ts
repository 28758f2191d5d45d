import { type Day, type Instant, instant } from '../../units.js';
import { addDays } from '../days/calendar.js';
import { groupBy } from '../groupBy.js';
import { type Offer, offersFor } from '../ledger/offer.js';
import type { Subject } from '../notices/notice/notice.js';
import type { BookingStep, ServiceKind } from '../tokens.js';
import { nextOpenDay, type OpenDays } from './openDays.js';

/** `passed`: a day that was let go of, or went by; the unit may be booked again. */
export const LEAD_STATES = ['open', 'asked-for', 'booked', 'done', 'declined', 'passed'] as const;
export type LeadState = (typeof LEAD_STATES)[number];

/** What a lead offers: a job, and the service period for which it is wanted. */
export interface LeadOffer {
  readonly unitId: string;
  readonly riderId: string | null;
  /** The job, which may be a larger one than the one wanted. */
  readonly serviceKind: ServiceKind;
  readonly wanted: ServiceKind;
  /** Other jobs of the unit on the same visit, of which none includes another; left out: none. */
  readonly beside?: readonly ServiceKind[];
  readonly periodId: string;
  readonly periodStart: Day | null;
}

/** Returns all jobs of a visit, the largest first. */
export const jobsOfVisit = ({
  serviceKind,
  beside = [],
}: Pick<LeadOffer, 'serviceKind' | 'beside'>): ServiceKind[] => [serviceKind, ...beside];

/** What of a unit is done on a visit, the largest job first. */
export interface VisitUnit {
  readonly unitId: string;
  readonly jobs: readonly ServiceKind[];
}

export const visitUnitOf = (offer: Pick<LeadOffer, 'unitId' | 'serviceKind' | 'beside'>): VisitUnit => ({
  unitId: offer.unitId,
  jobs: jobsOfVisit(offer),
});

/** A service that a rider may book. */
export interface Lead extends LeadOffer {
  /** Of its booking, once it has one. */
  readonly id: string;
  readonly state: LeadState;
  /** The last step of its booking; null while it is open. */
  readonly step: BookingStep | null;
  /** The day asked for or booked. */
  readonly day: Day | null;
  readonly changedAt: Instant;
}

/** Open, or with a day: a unit never has two of these. */
export const isLive = ({ state }: Pick<Lead, 'state'>): boolean => state === 'open' || holdsPlace({ state });

/** A day asked for takes a place on the bench as one that is booked does. */
export const holdsPlace = ({ state }: Pick<Lead, 'state'>): boolean =>
  state === 'asked-for' || state === 'booked';

/** *Default*: a booking ends by itself where for so many days nobody says whether the unit came. */
const UNSAID_DAYS = 7;

/** Returns the open day on which the workshop is asked for the first time whether a unit came. */
const askedOn = (day: Day, open: OpenDays): Day => nextOpenDay(open, addDays(day, 1));

/** Whether the workshop is asked if a unit came: it was open since its day, and nobody logged a service. */
export const isAskedWhetherItCame = (
  lead: Pick<Lead, 'state' | 'day'>,
  today: Day,
  open: OpenDays,
): boolean => lead.state === 'booked' && lead.day !== null && askedOn(lead.day, open) <= today;

const hasEnded = ({ state, day }: Lead, today: Day, open: OpenDays): boolean =>
  holdsPlace({ state }) && day !== null && addDays(askedOn(day, open), UNSAID_DAYS) <= today;

export type LeadDecision =
  | { readonly does: 'open'; readonly offer: LeadOffer }
  | { readonly does: 'change'; readonly leadId: string; readonly offer: LeadOffer }
  /** The service of that unit was logged. */
  | { readonly does: 'finish'; readonly leadId: string; readonly unitId: string }
  /** Its day passed, and for a week nobody said that any unit of it came: all of them can be booked again. */
  | { readonly does: 'end'; readonly leadId: string }
  /** Nobody had answered, and its reason has gone. */
  | { readonly does: 'drop'; readonly leadId: string };

const subjectOf = (unit: readonly Subject[], kind: ServiceKind): Subject | undefined =>
  unit.find(({ standing }) => standing.serviceKind === kind);

const leadOfferOf = (unit: readonly Subject[], [first, ...rest]: readonly [Offer, ...Offer[]]): LeadOffer => {
  const { serviceKind, wanted } = first;
  const { standing, riderId } = subjectOf(unit, wanted)!;
  const { unitId, periodId, periodStart } = standing;
  const beside = rest.map((offer) => offer.serviceKind);
  return { unitId, riderId, serviceKind, wanted, beside, periodId, periodStart };
};

/** A later service period has begun; one that begins earlier is a service that was taken back. */
function isServed(lead: Lead, unit: readonly Subject[]): boolean {
  const standing = subjectOf(unit, lead.wanted)?.standing;
  if (!standing || standing.periodId === lead.periodId || standing.periodStart === null) return false;
  return lead.periodStart === null || standing.periodStart > lead.periodStart;
}

const KEYS = ['riderId', 'serviceKind', 'wanted', 'periodId', 'periodStart'] as const;
const isSame = (lead: LeadOffer, offer: LeadOffer): boolean =>
  KEYS.every((key) => lead[key] === offer[key]) && (lead.beside ?? []).join() === (offer.beside ?? []).join();

/** Nobody wants that job in that service period. One that was only declined for a day is open again. */
const isNotWanted = (lead: Lead, offer: LeadOffer): boolean =>
  lead.step === 'not-wanted' && lead.wanted === offer.wanted && lead.periodId === offer.periodId;

/** One that nobody gave a day is no longer wanted. */
const doneBy = (live: Lead): LeadDecision =>
  live.state === 'open'
    ? { does: 'drop', leadId: live.id }
    : { does: 'finish', leadId: live.id, unitId: live.unitId };

interface UnitNow {
  readonly subjects: readonly Subject[];
  readonly leads: readonly Lead[];
  /** Its booking has ended. */
  readonly isEnded: boolean;
}

/** What a rider saw at home and the workshop has to look at is wanted, however few hours it has. */
const asWanted = (subject: Subject): Subject =>
  subject.isBadAtHome ? { ...subject, standing: { ...subject.standing, state: 'due' } } : subject;

function decideUnit({ subjects, leads, isEnded }: UnitNow, today: Day): LeadDecision[] {
  const live = leads.find(isLive);
  const isDone = live !== undefined && isServed(live, subjects);
  const done: LeadDecision[] = isDone ? [doneBy(live)] : [];
  const current = isDone || isEnded ? undefined : live;
  if (current && current.state !== 'open') return [];
  const [best, ...rest] = offersFor(subjects.map(asWanted), today);
  const offer = best ? leadOfferOf(subjects, [best, ...rest]) : null;
  const isWanted = offer !== null && offer.riderId !== null;
  if (current) {
    if (!isWanted) return [{ does: 'drop', leadId: current.id }];
    return isSame(current, offer) ? [] : [{ does: 'change', leadId: current.id, offer }];
  }
  if (!isWanted || leads.some((lead) => isNotWanted(lead, offer))) return done;
  return [...done, { does: 'open', offer }];
}

/** Returns the bookings whose day passed, and of which nobody said for a week that any unit came. */
function endedBookings(
  units: ReadonlyMap<string, readonly Subject[]>,
  leads: readonly Lead[],
  today: Day,
  open: OpenDays,
): ReadonlySet<string> {
  const isThere = ({ unitId }: Lead): boolean =>
    (units.get(unitId) ?? []).some(({ standing }) => standing.state === 'on-the-bench');
  const over = [...groupBy(leads.filter(holdsPlace), ({ id }) => id)].filter(
    ([, visit]) => visit.every((lead) => hasEnded(lead, today, open)) && !visit.some(isThere),
  );
  return new Set(over.map(([id]) => id));
}

/**
 * Returns what to change so that every unit of a rider with something wanted has one lead. It is the larger job in
 * place of the smaller; none beside one that has a day; none again after one that nobody wanted in the same service
 * period.
 * Shape: `subjects` is every unit's; `leads` all that are live, and those declined.
 */
export function decideLeads(
  subjects: readonly Subject[],
  leads: readonly Lead[],
  today: Day,
  open: OpenDays,
): LeadDecision[] {
  const units = groupBy(subjects, ({ standing }) => standing.unitId);
  const byUnit = groupBy(leads, ({ unitId }) => unitId);
  const ended = endedBookings(units, leads, today, open);
  const gone = leads
    .filter((lead) => lead.state === 'open' && !units.has(lead.unitId))
    .map((lead): LeadDecision => ({ does: 'drop', leadId: lead.id }));
  return [
    ...gone,
    ...[...ended].map((leadId): LeadDecision => ({ does: 'end', leadId })),
    ...[...units].flatMap(([unitId, unit]) => {
      const own = byUnit.get(unitId) ?? [];
      const isEnded = own.some((lead) => isLive(lead) && ended.has(lead.id));
      return decideUnit({ subjects: unit, leads: own, isEnded }, today);
    }),
  ];
}

/** What a rider chose to hear later. */
export interface Later {
  readonly unitId: string;
  readonly riderId: string;
  readonly at: Instant;
  readonly until: Day;
}

/** *Default*: how long after its day a service may stay unlogged before the rider hears of it again. */
const UNLOGGED_DAYS = 7;

type RiderAnswer = NonNullable<Subject['answer']>;

const answerOfLead = (lead: Lead): RiderAnswer => ({
  at: lead.changedAt,
  quietUntil: holdsPlace(lead) && lead.day !== null ? addDays(lead.day, UNLOGGED_DAYS) : null,
});

/** Returns the rider's last answer about a unit, quiet for as long as any of them asks. */
export function answerOf(leads: readonly Lead[], later: Later | undefined): Subject['answer'] {
  const answers = leads.filter((lead) => holdsPlace(lead) || lead.state === 'declined').map(answerOfLead);
  if (later) answers.push({ at: later.at, quietUntil: later.until });
  if (answers.length === 0) return null;
  return answers.reduce((a, b) => ({
    at: instant(Math.max(a.at, b.at)),
    quietUntil: (a.quietUntil ?? '') > (b.quietUntil ?? '') ? a.quietUntil : b.quietUntil,
  }));
}
