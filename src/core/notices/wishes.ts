import type { Day } from '../../units.js';
import { groupBy } from '../groupBy.js';
import { NOTICE_KINDS } from './kinds.js';
import type { NoticeKind, Situation } from './notice/kind.js';
import type { NoticeInput } from './notice/notice.js';
import type { Wish } from './notice/wish.js';

/** A wish with the kind of notice that it is of. */
export interface KindWish {
  readonly kind: NoticeKind;
  readonly wish: Wish;
}

const NOT_BEGUN = 'reminders have not begun';

/** Returns every reason to tell somebody something today, kind by kind, from where things stand today alone. */
export function wishesFor(
  {
    subjects,
    riders,
    invitations = [],
    hasBegun,
  }: Pick<NoticeInput, 'subjects' | 'riders' | 'invitations' | 'hasBegun'>,
  today: Day,
): KindWish[] {
  const riderById = new Map(riders.map((rider) => [rider.id, rider]));
  const units = [...groupBy(subjects, ({ standing }) => standing.unitId).values()].map((all) => ({
    all,
    rider: riderById.get(all[0]!.riderId ?? ''),
  }));
  const situation: Situation = { today, units, riders, invitations };
  const found: KindWish[] = [];
  for (const kind of NOTICE_KINDS) {
    const before = found.map(({ wish }) => wish);
    for (const wish of kind.wishes(situation, before))
      found.push({ kind, wish: hasBegun || kind.isUrgent ? wish : { ...wish, hold: NOT_BEGUN } });
  }
  return found;
}
