import type { AnswerFact } from '../../core/ledger/facts.js';
import type { RefusalCode } from '../../core/refusals.js';
import { hasBadClock } from '../../core/rides/joinRecordings.js';
import type { Part } from '../../core/rides/ride.js';
import type { Question } from '../../core/tokens.js';
import { ServiceError } from '../../errors.js';
import type { RideRow } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';
import { DAY_MINUTES } from '../../units.js';
import type { Entry } from '../entry.js';
import { refuse } from '../refuse.js';
import { listParts } from './bikeKnowledge.js';
import { joinWordsOf, type TrayAnswer } from './joinWords.js';
import { climbWords, type RiddenClimbs } from './listClimbs.js';
import { RideChanges } from './rideChanges.js';
import { settleReadings } from './settleReadings.js';

/**
 * Answers for a ride in the tray, moves one that counts, or takes up again one that was dismissed. It sets a recording
 * apart too, or joins another ride. Returns how the ride stands then; what became of all rides is added to `changes`.
 * Errors: `not-found`; `refused`, saying what to answer instead.
 */
export async function answerTray(
  tx: Tx,
  rideId: string,
  answer: TrayAnswer,
  entry: Entry,
  changes = new RideChanges(),
): Promise<RideRow> {
  const ride = await recordedRide(tx, rideId);
  const words = await joinWordsOf(tx, ride, answer);
  if (words !== null) {
    for (const { readingId, joins } of words)
      await tx.facts.add({ kind: 'answer', body: { readingId, joins }, ...entry });
  } else {
    const parts = await listParts(tx, ride.readingIds);
    checkAnswer(ride, parts, answer, entry);
    const { ride: yes, apart: _, with: __, ridden, ...rest } = answer;
    const which = ridden ?? (ride.question === 'climbs' ? riddenBy(yes) : undefined);
    const climbs = which === undefined ? null : climbWords(ride, parts, which);
    for (const part of parts) {
      const said =
        yes === undefined ? {} : { ride: { ...takenUp(part, yes), [ride.question ?? 'which-bike']: yes } };
      const body: AnswerFact = {
        readingId: part.readingId,
        ...rest,
        ...said,
        ...(climbs && { climbs: climbs.get(part.readingId)! }),
      };
      await tx.facts.add({ kind: 'answer', body, ...entry });
    }
  }
  const readingIds = new Set([...ride.readingIds, ...(words ?? []).map((word) => word.readingId)]);
  const settled = await settleReadings(tx, [...readingIds], entry.at, changes);
  return settled.find((one) => one.readingIds.includes(ride.id)) ?? settled[0]!;
}

const riddenBy = (yes: boolean | undefined): RiddenClimbs | undefined =>
  yes === undefined ? undefined : yes ? 'all' : 'none';

async function recordedRide(tx: Tx, rideId: string): Promise<RideRow> {
  const ride = await tx.rides.find(rideId);
  if (ride?.source === 'recorded') return ride;
  throw new ServiceError('not-found', `There is no recorded ride ${rideId}.`, {
    hint: 'stanchion tray shows what waits.',
  });
}

/** A yes takes back every no by which the recording was none of the rides that count. */
function takenUp({ answer }: Part, yes: boolean): Partial<Record<Question, boolean>> {
  const refused = Object.entries(answer.ride ?? {}).filter(
    ([question, said]) => !said && question !== 'vehicle' && question !== 'climbs',
  );
  return yes ? Object.fromEntries(refused.map(([question]) => [question, true])) : {};
}

function checkAnswer(ride: RideRow, parts: readonly Part[], answer: TrayAnswer, entry: Entry): void {
  if (Object.values(answer).every((value) => value === undefined)) refuse('no-answer');
  checkTime(parts, answer, entry);
  const { bikeId, riderId, ride: yes, on } = answer;
  if (yes !== true || ride.dismissed) return;
  if (ride.question === null) refuse('counts-already');
  if (ride.question === 'too-sparse' && ride.movingS === 0) refuse('needs-minutes');
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
  const isSparse = parts.some(({ reading }) => reading.question === 'too-sparse');
  const isMinutesKnown = parts.every(({ answer }) => answer.minutes !== undefined);
  if (on !== undefined && on > entry.at) refuse('time-to-come');
  if (on !== undefined && !hasNoTimes && !parts.some(({ reading }) => hasBadClock(reading)))
    refuse('clock-right');
  if (minutes !== undefined && !(minutes > 0 && minutes <= DAY_MINUTES)) refuse('minutes');
  if (minutes !== undefined && !hasNoTimes && !isSparse) refuse('minutes-known');
  if (on !== undefined && hasNoTimes && minutes === undefined && !isMinutesKnown) refuse('needs-minutes');
}
