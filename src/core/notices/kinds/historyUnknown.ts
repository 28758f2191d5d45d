import { type NoticeKind, stateHolds } from '../notice/kind.js';
import { WORKSHOP } from '../notice/notice.js';
import { unitVerdict } from '../notice/verdict.js';
import { largestFirst, REMINDER, reminderHold, unitWish } from '../notice/wish.js';

/** Nobody knows when the unit was last opened: told once, of the largest job, which opens it furthest. */
export const historyUnknown: NoticeKind = {
  name: 'history-unknown',
  slot: REMINDER,
  company: 'needs',
  isUrgent: false,
  isOne: ({ state }) => state === 'history-unknown',
  wishes: ({ units }) =>
    units.flatMap(({ all, rider }) => {
      const unknown = all.filter(({ standing }) => standing.state === 'history-unknown').sort(largestFirst);
      return unknown.flatMap((subject, place) => {
        const hold = place === 0 ? null : `told with ${unknown[0]!.standing.serviceKind}`;
        const forWorkshop = unitWish(WORKSHOP, subject, { hold });
        if (subject.riderId === null) return [forWorkshop];
        return [forWorkshop, unitWish(subject.riderId, subject, { hold: hold ?? reminderHold(rider) })];
      });
    }),
  verdict: (wish, before) => unitVerdict(wish, before, { first: 'first', returns: false, repeats: false }),
  holds: stateHolds,
  mayGo: (_, rider) => reminderHold(rider) === null,
  why: ({ serviceKind, state }) => `${serviceKind}: ${state}`,
};
