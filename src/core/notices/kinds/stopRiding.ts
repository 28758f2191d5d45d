import type { NoticeKind } from '../notice/kind.js';
import { keepsPlace, type SlotRule, textCause, WORKSHOP } from '../notice/notice.js';
import { unitVerdict } from '../notice/verdict.js';
import { largestFirst, reminderHold, unitWish } from '../notice/wish.js';

const SLOT: SlotRule = { mail: 'stop-riding', when: 'at-once', sharesDay: ['stop-riding'] };

/** Which mark it is. */
const MARK = textCause();

/** A crash mark stands above all service kinds of its unit: one notice for the unit, to both, at once. */
export const stopRiding: NoticeKind = {
  name: 'stop-riding',
  slot: SLOT,
  company: 'none',
  isUrgent: true,
  isOne: ({ state }) => state === 'stop-riding',
  wishes: ({ units }) =>
    units.flatMap(({ all, rider }) => {
      const [subject] = all.filter(({ standing }) => standing.state === 'stop-riding').sort(largestFirst);
      if (!subject) return [];
      const mark = { slot: SLOT, cause: MARK.write(subject.markId ?? '') };
      const forWorkshop = unitWish(WORKSHOP, subject, mark);
      if (subject.riderId === null) return [forWorkshop];
      return [forWorkshop, unitWish(subject.riderId, subject, { ...mark, hold: reminderHold(rider) })];
    }),
  verdict: (wish, before) => {
    const isLaterMark = before.past.some(
      (one) =>
        keepsPlace(one) &&
        one.state === wish.state &&
        one.unitId === wish.unitId &&
        one.periodId === wish.periodId,
    );
    const first = isLaterMark ? 'again' : 'first';
    return unitVerdict(wish, before, { first, returns: true, repeats: false });
  },
  holds: (told, { unit }) =>
    unit.some(
      ({ standing, markId, riderId }) =>
        standing.state === 'stop-riding' &&
        (told.to === WORKSHOP || told.to === riderId) &&
        MARK.read(told.cause) === (markId ?? ''),
    ),
  mayGo: (_, rider) => reminderHold(rider) === null,
  why: ({ serviceKind, state }) => `${serviceKind}: ${state}`,
};
