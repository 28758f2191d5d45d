import type { AnswerFact } from '../core/facts.js';
import { hasBadClock } from '../core/joinRecordings.js';
import type { Part, Question } from '../core/settle.js';
import { ServiceError } from '../errors.js';
import type { RideRow, Tx } from '../ports.js';
import type { Instant } from '../units.js';
import { listParts } from './bikeKnowledge.js';
import type { Entry } from './entry.js';
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
    throw new ServiceError('not-found', 'answer the tray', `There is no recorded ride ${rideId}.`, {
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

const refuse = (message: string): never => {
  throw new ServiceError('refused', 'answer the tray', message);
};

function checkAnswer(ride: RideRow, parts: readonly Part[], answer: TrayAnswer, entry: Entry): void {
  if (Object.values(answer).every((value) => value === undefined)) refuse('There is no answer in this.');
  checkTime(parts, answer, entry);
  const { bikeId, riderId, ride: yes, on } = answer;
  if (yes !== true || ride.dismissed) return;
  if (ride.question === null) refuse('This ride counts already.');
  const instead = INSTEAD[ride.question!];
  if (instead !== undefined && bikeId === undefined && riderId === undefined && on === undefined)
    refuse(instead);
}

/** What a yes does not answer. */
const INSTEAD: Partial<Readonly<Record<Question, string>>> = {
  'no-times': 'Say when this track was ridden, and for how many minutes.',
  'clock-unset': 'Say when this ride started.',
  'clock-future': 'Say when this ride started.',
  who: 'Say whose ride this is, or which bike it was on.',
  'which-bike': 'Say which bike this was on.',
};

function checkTime(parts: readonly Part[], { on, minutes }: TrayAnswer, entry: Entry): void {
  const hasNoTimes = parts.some(({ reading }) => reading.start === null);
  const isMinutesKnown = parts.every(({ answer }) => answer.minutes !== undefined);
  if (on !== undefined && on > entry.at) refuse('That time has not come yet.');
  if (on !== undefined && !hasNoTimes && !parts.some(({ reading }) => hasBadClock(reading)))
    refuse('The recorder’s clock was right for this ride, so it started when the recorder says.');
  if (minutes !== undefined && !(minutes > 0 && minutes <= 24 * 60))
    refuse('The minutes must be more than 0 and at most 1440, a whole day.');
  if (minutes !== undefined && !hasNoTimes)
    refuse('The recorder says for how long this ride moved; minutes are for tracks without times.');
  if (on !== undefined && hasNoTimes && minutes === undefined && !isMinutesKnown)
    refuse('This track has no times: say for how many minutes it was ridden.');
}
