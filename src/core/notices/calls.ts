/** Riders whom no mail reaches: whom to call, about what, and why. */

import type { Day } from '../../units.js';
import { groupBy } from '../groupBy.js';
import { isAtLeast, isTold, pressingRank, type ToldState } from '../states.js';
import type { CallReason, ServiceKind } from '../tokens.js';
import { serviceDue } from './kinds/serviceDue.js';
import { stopRiding } from './kinds/stopRiding.js';
import {
  keepsPlace,
  type NoticeInput,
  type NoticeRider,
  type PastNotice,
  WORKSHOP,
} from './notice/notice.js';
import { hasHadExtra } from './notice/verdict.js';
import type { Wish } from './notice/wish.js';
import { wishesFor } from './wishes.js';

export interface Call {
  readonly riderId: string;
  readonly unitId: string;
  readonly serviceKind: ServiceKind;
  readonly periodId: string;
  readonly state: ToldState;
  /** The crash mark, where that is what there is to tell. */
  readonly markId: string | null;
  readonly reason: CallReason;
}

/** That somebody reached the rider about a service period; of a crash mark, about that mark. */
export type Told = Pick<Call, 'unitId' | 'serviceKind' | 'periodId' | 'state' | 'markId'>;

/** Returns why not even a mail to stop riding reaches a rider, if so. */
export function addressReason({ address }: NoticeRider): CallReason | null {
  if (address === 'none') return 'no-address';
  return address === 'confirmed' ? null : address;
}

function reasonOf(rider: NoticeRider, isStop: boolean): CallReason | null {
  return addressReason(rider) ?? unsubscribedReason(rider, isStop);
}

function unsubscribedReason({ isUnsubscribed }: NoticeRider, isStop: boolean): CallReason | null {
  return isUnsubscribed && !isStop ? 'unsubscribed' : null;
}

const isSaid = (call: Call, told: readonly Told[]): boolean =>
  told.some((one) =>
    call.state === 'stop-riding'
      ? one.unitId === call.unitId && one.markId === call.markId
      : one.unitId === call.unitId &&
        one.serviceKind === call.serviceKind &&
        one.periodId === call.periodId &&
        isAtLeast(one.state, call.state),
  );

/** A reachable rider who lacks one word more than a service period allows. */
function lacksWord(wish: Wish, today: Day, zone: string, past: readonly PastNotice[]): boolean {
  const { occasion, told } = serviceDue.verdict(wish, { past, today, zone });
  return told === null && hasHadExtra(wish, occasion, past);
}

/**
 * Returns whom to call until somebody says that they were told; crash marks first, then what presses most. What a rider
 * asked to be quiet about, or what a larger job includes, is no reason to call; before reminders begin only a mark is.
 */
export function callsFor(
  {
    subjects,
    riders,
    past,
    workshop,
    hasBegun,
  }: Pick<NoticeInput, 'subjects' | 'riders' | 'past' | 'workshop' | 'hasBegun'>,
  told: readonly Told[],
  today: Day,
): Call[] {
  const byId = new Map(riders.map((rider) => [rider.id, rider]));
  const reached = riders.map((one) => ({ ...one, address: 'confirmed' as const, isUnsubscribed: false }));
  const byRider = groupBy(past.filter(keepsPlace), (one) => `${one.to} ${one.unitId}`);
  const calls = wishesFor({ subjects, riders: reached, hasBegun }, today).flatMap(
    ({ kind, wish }): Call[] => {
      const isStop = kind === stopRiding;
      const rider = byId.get(wish.to);
      if (wish.to === WORKSHOP || wish.hold !== null || !rider || (!isStop && kind !== serviceDue)) return [];
      if (!isStop && !hasBegun) return [];
      const { unitId, serviceKind, periodId, state, subject } = wish;
      if (unitId === null || serviceKind === null || periodId === null || state === null) return [];
      const about = byRider.get(`${wish.to} ${unitId}`) ?? [];
      const isCapped = !isStop && lacksWord(wish, today, workshop.timeZone, about);
      const reason = reasonOf(rider, isStop) ?? (isCapped ? 'told-twice' : null);
      if (reason === null || !isTold(state)) return [];
      const markId = isStop ? (subject?.markId ?? null) : null;
      return [{ riderId: rider.id, unitId, serviceKind, periodId, state, markId, reason }];
    },
  );
  const toldOf = groupBy(told, ({ unitId }) => unitId);
  return calls
    .filter((call) => !isSaid(call, toldOf.get(call.unitId) ?? []))
    .sort((a, b) => pressingRank(a.state) - pressingRank(b.state));
}
