import type { UnitKind } from '../../tokens.js';
import type { MailFrame, MailWorkshop } from '../notice/frame.js';
import type { NoticeKind } from '../notice/kind.js';
import { keepsPlace, type SlotRule, textCause, WORKSHOP } from '../notice/notice.js';
import { unitVerdict } from '../notice/verdict.js';
import { addressHold, largestFirst, unitWish } from '../notice/wish.js';

/** A unit that must not be ridden, as its mark says. */
export interface StoppedUnit {
  /** Null for a unit in its box. */
  readonly bike: string | null;
  readonly tag: string;
  readonly unitKind: UnitKind;
  readonly model: string | null;
  /** As the workshop typed it. */
  readonly why: string;
  /** Whose bike it is on. */
  readonly rider: { readonly name: string; readonly phone: string | null } | null;
}

/** To its rider, or to the workshop: no hours, no date, nothing to press but the phone. */
export interface StopContent {
  readonly workshop: MailWorkshop & { readonly language: string };
  /** Null in the workshop's own. */
  readonly rider: MailFrame['rider'] | null;
  readonly units: readonly StoppedUnit[];
}

const SLOT: SlotRule = { mail: 'stop-riding', when: 'at-once', sharesDay: ['stop-riding'] };

/** Which mark it is. */
const MARK = textCause();

/**
 * A crash mark stands above all service kinds of its unit: one notice for the unit, to both, at once. Whoever stopped
 * reminders gets it all the same.
 */
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
      return [forWorkshop, unitWish(subject.riderId, subject, { ...mark, hold: addressHold(rider) })];
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
  mayGo: (_, rider) => addressHold(rider) === null,
  why: ({ serviceKind, state }) => `${serviceKind}: ${state}`,
};
