import type { AnswerFact } from '../core/facts.js';
import { ServiceError } from '../errors.js';
import type { RideRow, Tx } from '../ports.js';
import type { Instant } from '../units.js';
import type { Entry } from './fittings.js';
import { settleReadings } from './settleReadings.js';

/** A person's word on a ride; at least one of them. */
export interface TrayAnswer {
  readonly bikeId?: string;
  readonly riderId?: string;
  readonly ride?: boolean;
  readonly on?: Instant;
  readonly minutes?: number;
}

/** Answers for a ride in the tray, or moves one that counts. Returns how the ride stands then. */
export async function answerTray(tx: Tx, rideId: string, answer: TrayAnswer, entry: Entry): Promise<RideRow> {
  const ride = await tx.rides.find(rideId);
  if (ride?.source !== 'recorded') {
    throw new ServiceError('not-found', 'answer the tray', `There is no recorded ride ${rideId}.`, {
      hint: 'stanchion tray shows what waits.',
    });
  }
  checkAnswer(ride, answer, entry);
  const { ride: yes, ...rest } = answer;
  const said = yes === undefined ? {} : { ride: { [ride.question ?? 'which-bike']: yes } };
  for (const readingId of ride.readingIds) {
    const body: AnswerFact = { readingId, ...rest, ...said };
    await tx.facts.add({ kind: 'answer', body, ...entry });
  }
  const settled = await settleReadings(tx, ride.readingIds, entry.at);
  return settled.find((one) => one.id === ride.id) ?? settled[0]!;
}

function checkAnswer(ride: RideRow, answer: TrayAnswer, entry: Entry): void {
  const refuse = (message: string): never => {
    throw new ServiceError('refused', 'answer the tray', message);
  };
  if (Object.values(answer).every((value) => value === undefined)) refuse('There is no answer in this.');
  if (answer.on !== undefined && answer.on > entry.at) refuse('That time has not come yet.');
  if (answer.minutes !== undefined && !(answer.minutes > 0 && answer.minutes <= 24 * 60)) {
    refuse('The minutes must be more than 0 and at most 1440, a whole day.');
  }
  const needsLength = ride.question === 'no-times' && answer.on !== undefined;
  if (needsLength && answer.minutes === undefined)
    refuse('This track has no times: say for how many minutes it was ridden.');
}
