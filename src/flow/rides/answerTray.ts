import type { AnswerFact } from '../../core/ledger/facts.js';
import type { RefusalCode } from '../../core/refusals.js';
import { hasBadClock } from '../../core/rides/joinRecordings.js';
import type { Part, Question } from '../../core/rides/ride.js';
import { ServiceError } from '../../errors.js';
import type { RideRow } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { DAY_MINUTES } from '../../units.js';
import type { Entry } from '../entry.js';
import { refuse } from '../refuse.js';
import { listParts } from './bikeKnowledge.js';
import { settleReadings } from './settleReadings.js';

/** A person's word on a ride; at least one of them. */
export interface TrayAnswer {
  readonly bikeId?: string;
  readonly riderId?: string;
  readonly ride?: boolean;
  readonly on?: Instant;
  readonly minutes?: number;
}

/**
 * Answers for a ride in the tray, moves one that counts, or takes up again one that was dismissed. Returns how the ride
 * stands then.
 * Errors: `not-found`; `refused`, saying what to answer instead.
 */
export async function answerTray(tx: Tx, rideId: string, answer: TrayAnswer, entry: Entry): Promise<RideRow> {
  const ride = await tx.rides.find(rideId);
  if (ride?.source !== 'recorded') {
    throw new ServiceError('not-found', `There is no recorded ride ${rideId}.`, {
      hint: 'stanchion tray shows what waits.',
    });
  }
  const parts = await listParts(tx, ride.readingIds);
  checkAnswer(ride, parts, answer, entry);
  const { ride: yes, ...rest } = answer;
  for (const part of parts) {
    const said =
      yes === undefined ? {} : { ride: { ...takenUp(part, yes), [ride.question ?? 'which-bike']: yes } };
    const body: AnswerFact = { readingId: part.readingId, ...rest, ...said };
    await tx.facts.add({ kind: 'answer', body, ...entry });
  }
  const settled = await settleReadings(tx, ride.readingIds, entry.at);
  return settled.find((one) => one.id === ride.id) ?? settled[0]!;
}

/** A yes takes back every no by which the recording was none of the rides that count. */
function takenUp({ answer }: Part, yes: boolean): Partial<Record<Question, boolean>> {
  const refused = Object.entries(answer.ride ?? {}).filter(
    ([question, said]) => !said && question !== 'vehicle',
  );
  return yes ? Object.fromEntries(refused.map(([question]) => [question, true])) : {};
}

function checkAnswer(ride: RideRow, parts: readonly Part[], answer: TrayAnswer, entry: Entry): void {
  if (Object.values(answer).every((value) => value === undefined)) refuse('no-answer');
  checkTime(parts, answer, entry);
  const { bikeId, riderId, ride: yes, on } = answer;
  if (yes !== true || ride.dismissed) return;
  if (ride.question === null) refuse('counts-already');
  const instead: Instead | undefined = (INSTEAD as Partial<Record<Question, Instead>>)[ride.question!];
  if (instead !== undefined && bikeId === undefined && riderId === undefined && on === undefined)
    refuse(instead);
}

/** What a yes does not answer. */
const INSTEAD = {
  'no-times': 'say-when-long',
  'clock-unset': 'say-when',
  'clock-future': 'say-when',
  who: 'say-who',
  'which-bike': 'say-bike',
} as const satisfies Partial<Record<Question, RefusalCode>>;
type Instead = (typeof INSTEAD)[keyof typeof INSTEAD];

function checkTime(parts: readonly Part[], { on, minutes }: TrayAnswer, entry: Entry): void {
  const hasNoTimes = parts.some(({ reading }) => reading.start === null);
  const isMinutesKnown = parts.every(({ answer }) => answer.minutes !== undefined);
  if (on !== undefined && on > entry.at) refuse('time-to-come');
  if (on !== undefined && !hasNoTimes && !parts.some(({ reading }) => hasBadClock(reading)))
    refuse('clock-right');
  if (minutes !== undefined && !(minutes > 0 && minutes <= DAY_MINUTES)) refuse('minutes');
  if (minutes !== undefined && !hasNoTimes) refuse('minutes-known');
  if (on !== undefined && hasNoTimes && minutes === undefined && !isMinutesKnown) refuse('needs-minutes');
}
