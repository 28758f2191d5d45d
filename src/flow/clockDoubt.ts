import { type ClockDoubt, doubtOf, nextWord } from '../core/days/clockWord.js';
import type { MailKind } from '../core/notices/notice/notice.js';
import type { Clock } from '../ports/clock.js';
import type { Log } from '../ports/log.js';
import type { Store, Tx } from '../ports/store.js';
import { type Instant, isoTime } from '../units.js';

/** Whatever says what is due says it by the clock. The rest bears on safety, or answers what a person did. */
const REMINDERS: readonly MailKind[] = ['reminder', 'invitation', 'digest', 'silence'];

/** A clock that jumped, and when it was last believed. */
export interface DoubtedClock {
  readonly how: ClockDoubt;
  readonly now: Instant;
  readonly lastAt: Instant;
}

/** Returns what is doubtful about the clock; null where it is believed, or was set for this call. */
export async function findClockDoubt(tx: Pick<Tx, 'clockWord'>, clock: Clock): Promise<DoubtedClock | null> {
  if (clock.isSet) return null;
  const now = clock.now();
  const word = await tx.clockWord.find();
  const how = doubtOf(word, now);
  return word === null || how === null ? null : { how, now, lastAt: word.lastAt };
}

/** Returns the kinds of mail that wait while the clock is doubted. */
export const mailsHeld = (doubt: DoubtedClock | null): readonly MailKind[] =>
  doubt === null ? [] : REMINDERS;

/** Says in words what is wrong with the clock and what follows. */
export const doubtText = ({ how, now, lastAt }: DoubtedClock): string =>
  `The clock of this machine jumped ${how === 'ahead' ? 'ahead' : 'back'}: it says ${isoTime(now)}, and it said ` +
  `${isoTime(lastAt)} when it was last believed. Until a person agrees, nothing is deleted and no reminder is mailed. ` +
  'If the time is right, press the button on Today, or give the command: stanchion clock --agree. Else set the clock.';

/** Remembers what the clock says, having run for so long since it was asked last; returns what is doubtful about it. */
export async function watchClock(
  { store, clock, log }: { readonly store: Store; readonly clock: Clock; readonly log: Log },
  ranMs: number,
): Promise<DoubtedClock | null> {
  if (clock.isSet) return null;
  return store.write(async (tx) => {
    const now = clock.now();
    const word = await tx.clockWord.find();
    const files =
      word?.doubt == null
        ? { agreeing: 0, contradicting: 0 }
        : await tx.clockWord.countFilesSince(word.doubt.since);
    const next = nextWord(word, now, { ranMs, files });
    await tx.clockWord.put(next);
    const doubt = await findClockDoubt(tx, { now: () => now });
    if (doubt !== null && word?.doubt == null) log.error({ clock: doubt.how }, doubtText(doubt));
    if (doubt === null && word?.doubt != null) log.info({}, 'the clock is believed again');
    return doubt;
  });
}

/** A person says that the clock is right. */
export const agreeToClock = (tx: Tx, now: Instant): Promise<void> =>
  tx.clockWord.put({ lastAt: now, doubt: null });
