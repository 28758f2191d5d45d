import { addDays, atHour, dayOf } from '../../../core/days/calendar.js';
import type { FilesTakenContent } from '../../../core/notices/mailContent.js';
import { textCause } from '../../../core/notices/notice/notice.js';
import { isCounted } from '../../../core/rides/ride.js';
import type { Ids } from '../../../ports/ids.js';
import type { Mailed, MailedFile } from '../../../ports/inbox.js';
import type { RideRow } from '../../../ports/rides.js';
import type { Tx } from '../../../ports/store.js';
import { hoursOfSeconds, type Instant, instant, MINUTE_MS, seconds } from '../../../units.js';
import { listUnitChanges, RideChanges } from '../../rides/rideChanges.js';
import { getWorkshop } from '../../settings.js';
import { addLetter } from '../addLetter.js';
import type { MailSource } from './mailKind.js';

/** By the first mail that it answers. */
const ANSWER = textCause<string>();
/** Who mails ten files mails one after the other: one answer tells of all. */
const GATHERED_MS = 5 * MINUTE_MS;
const MOST_NAMED = 10;
/** More mails than these go to nobody in two days. */
const LATEST = 30;

/** Tells a rider what became of the files that came by mail; written anew until it goes. */
export const filesTaken: MailSource = {
  stops: 'stop-answers',
  toRider: async ({ tx, mail, contact, frame, maker, now }) => {
    const mails = await tx.mailed.listOfAnswer(ANSWER.read(mail.cause));
    const isStopped = (await tx.mailed.rider(contact.riderId)).answersStoppedAt !== null;
    if (mails.length === 0 || isStopped || contact.confirmedAt === null) return null;
    const links = maker && { ownPage: maker.own('page'), stopMails: maker.own('stop-answers') };
    return { mail: 'files-taken', content: { ...frame, ...(await toldOfMails(tx, mails, now)), links } };
  },
};

async function toldOfMails(
  tx: Tx,
  mails: readonly Mailed[],
  now: Instant,
): Promise<
  Pick<FilesTakenContent, 'rides' | 'movingHours' | 'gains' | 'asks' | 'others' | 'more' | 'isEmpty'>
> {
  const files = mails.flatMap((one) => one.files);
  const rides = new Map<string, RideRow>();
  for (const id of files.filter(isFresh).flatMap((file) => file.rides)) {
    const ride = await tx.rides.find(id);
    if (ride) rides.set(id, ride);
  }
  const counted = [...rides.values()].filter(isCounted);
  const changes = new RideChanges();
  changes.add([], counted);
  const others = files.filter((file) => !isFresh(file) && file.outcome !== 'ask');
  return {
    rides: counted.length,
    movingHours: hoursOfSeconds(seconds(counted.reduce((sum, ride) => sum + ride.movingS, 0))),
    gains: (await listUnitChanges(tx, changes, now)).map(({ tag, terrainS }) => ({
      tag,
      terrainHours: hoursOfSeconds(terrainS),
    })),
    asks: [...rides.values()].filter((ride) => ride.question !== null).length,
    others: others.slice(0, MOST_NAMED).map(({ name, outcome, indoor, code }) => ({
      file: name,
      told: { outcome: indoor ? 'indoors' : outcome, code },
    })),
    more: Math.max(0, others.length - MOST_NAMED),
    isEmpty: files.length === 0,
  };
}

const isFresh = ({ outcome }: MailedFile): boolean =>
  ['counted', 'counts-now', 'joined', 'moved', 'ask'].includes(outcome);

/**
 * Returns the answer that will tell of a mail, queued now or waiting already: at most one goes a day. Null where none is
 * wanted, or can go.
 */
export async function answerMail(
  tx: Tx,
  riderId: string,
  mailedId: string,
  now: Instant,
  ids: Ids,
): Promise<string | null> {
  const contact = await tx.contacts.find(riderId);
  if (!contact?.email || contact.confirmedAt === null || contact.refusedAt !== null) return null;
  if ((await tx.mailed.rider(riderId)).answersStoppedAt !== null) return null;
  const before = (await tx.mails.listLatestTo(riderId, LATEST)).filter(
    ({ mail, state }) => mail === 'files-taken' && state !== 'withdrawn',
  );
  const open = before.find(({ state, isWritten }) => state === 'waiting' && !isWritten);
  if (open) return ANSWER.read(open.cause);
  const { timeZone, digestHour } = await getWorkshop(tx);
  const today = dayOf(now, timeZone);
  const isSecond = before.some(({ day }) => day >= today);
  const day = isSecond ? addDays(today, 1) : today;
  const sendAt = isSecond ? atHour(day, digestHour, timeZone) : instant(now + GATHERED_MS);
  await addLetter(tx, { mail: 'files-taken', to: riderId, cause: ANSWER.write(mailedId) }, now, ids, {
    day,
    sendAt,
  });
  return mailedId;
}
