import type { Day } from '../../../units.js';
import { type Offer, offersFor } from '../../ledger/offer.js';
import { isWanted, pressingRank } from '../../states.js';
import { type NoticeKind, type Situation, stateHolds } from '../notice/kind.js';
import { type Subject, WORKSHOP } from '../notice/notice.js';
import { unitVerdict } from '../notice/verdict.js';
import { isQuiet, largestFirst, REMINDER, reminderHold, unitWish, type Wish } from '../notice/wish.js';

function quietHold(subject: Subject, today: Day): string | null {
  const until = subject.answer?.quietUntil;
  return isQuiet(subject, today) ? `the rider answered: nothing more before ${until}` : null;
}

/** Whoever does it at home hears no more of its coming up for a while; what is due or over goes all the same. */
function homeHold({ standing: { state }, homeUntil }: Subject, today: Day): string | null {
  const rests = state === 'coming-up' && homeUntil !== undefined && homeUntil > today;
  return rests ? `the rider does it at home: nothing more of its coming up before ${homeUntil}` : null;
}

const restarts = (one: Subject, other: Subject): boolean => one.restarts.includes(other.standing.serviceKind);

/** What is wanted of the same visit and restarts its clock too tells of it; what merely comes along does not. */
const tellsOf = (all: readonly Subject[], offer: Offer, subject: Subject): Subject | null =>
  all.find(
    (one) =>
      one !== subject &&
      offer.includes.includes(one.standing.serviceKind) &&
      restarts(one, subject) &&
      // Of two that restart each other one tells of both.
      (!restarts(subject, one) || largestFirst(one, subject) < 0),
  ) ?? null;

function wishesOfUnit({ all, rider }: Situation['units'][number], today: Day): Wish[] {
  const offers = offersFor(all, today);
  const offerOf = ({ standing }: Subject): Offer | undefined =>
    offers.find((offer) => offer.includes.includes(standing.serviceKind));
  return all.flatMap((subject) => {
    // What is nearly due joins the visit and is no reason to tell of it.
    const offer = isWanted(subject.standing.state) ? offerOf(subject) : undefined;
    if (!offer) return [];
    const kind = subject.standing.serviceKind;
    const larger = offer.serviceKind === kind ? null : offer.serviceKind;
    const forWorkshop = unitWish(WORKSHOP, subject, { offer: larger });
    if (subject.riderId === null) return [forWorkshop];
    const told = tellsOf(all, offer, subject);
    const included = told && `included in ${told.standing.serviceKind}, which is told instead`;
    const known = subject.isTold ? 'somebody told the rider' : null;
    const hold =
      reminderHold(rider) ?? included ?? quietHold(subject, today) ?? homeHold(subject, today) ?? known;
    return [forWorkshop, unitWish(subject.riderId, subject, { offer: larger, hold })];
  });
}

const rankOf = ({ state }: Wish): number => (state === null ? 0 : pressingRank(state));

/** A service that comes up, is due, or is over its interval. */
export const serviceDue: NoticeKind = {
  name: 'service-due',
  slot: REMINDER,
  company: 'brings',
  isUrgent: false,
  isOne: ({ state }) => state !== null && isWanted(state),
  wishes: ({ units, today }) =>
    units.flatMap((unit) => wishesOfUnit(unit, today)).sort((a, b) => rankOf(a) - rankOf(b)),
  verdict: (wish, before) =>
    unitVerdict(wish, before, {
      first: 'first',
      returns: true,
      repeats: wish.state === 'coming-up' && wish.to !== WORKSHOP,
    }),
  holds: stateHolds,
  mayGo: ({ serviceKind }, rider, { unit, today }) => {
    const subject = unit.find(({ standing }) => standing.serviceKind === serviceKind);
    if (reminderHold(rider) !== null) return false;
    return !subject || !(subject.isTold || isQuiet(subject, today) || homeHold(subject, today) !== null);
  },
  why: ({ serviceKind, state }) => `${serviceKind}: ${state}`,
};
