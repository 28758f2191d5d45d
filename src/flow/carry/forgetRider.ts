import type { Fact } from '../../core/ledger/facts.js';
import { WORKSHOP } from '../../core/notices/notice/notice.js';
import { ServiceError } from '../../errors.js';
import type { MailRow } from '../../ports/mails.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { voidFact } from '../facts/changeFact.js';
import { listNames } from '../names.js';
import { unnamed } from '../photos/photos.js';
import { dropMarks } from '../rides/dropMarks.js';
import { followRecorders, listRecorders, settleReadings } from '../rides/settleReadings.js';
import { eraseTexts } from './eraseTexts.js';

/** What of a rider lies outside the store. */
export interface RiderFiles {
  /** By their hashes; those that nobody else handed over too. */
  readonly originals: readonly string[];
  /** Photographs that show a person or a name, or that the rider took; by the hashes of files that nothing else names. */
  readonly photos: readonly string[];
  /** Of mails to the rider, and of mails to the workshop that name the rider. */
  readonly messageIds: readonly string[];
}

export interface Forgotten extends RiderFiles {
  /** By which the bikes and rides of the rider are known from now on. */
  readonly handle: string;
  /** How many facts held what people typed of the rider, which is erased. */
  readonly erased: number;
}

export async function listRiderFiles(tx: Tx, riderId: string): Promise<RiderFiles> {
  const files = await tx.files.listOfRider(riderId);
  const own = new Set(files.map((file) => file.id));
  const originals: string[] = [];
  for (const sha256 of new Set(files.map((file) => file.sha256))) {
    if ((await tx.files.list(sha256)).every((file) => own.has(file.id))) originals.push(sha256);
  }
  const mails = [...(await tx.mails.listTo(riderId)), ...(await listNaming(tx, riderId))];
  const taken = await listRiderPhotos(tx, riderId);
  const photos = await unnamed(
    tx,
    taken.map(({ body }) => body),
    new Set(taken.map(({ id }) => id)),
  );
  return { originals, photos, messageIds: mails.map((mail) => mail.messageId) };
}

/** Of the rider’s units, those that show a person or a name, and what the rider took. */
const listRiderPhotos = async (tx: Tx, riderId: string): Promise<Fact<'photo'>[]> =>
  (await tx.facts.list('photo', { object: riderId })).filter(
    ({ body }) => body.showsPerson || body.takenBy === 'rider',
  );

async function textsOf(tx: Tx, riderId: string): Promise<string[]> {
  const contact = await tx.contacts.find(riderId);
  return [contact?.name, contact?.email, contact?.phone].filter(
    (text) => text != null && text !== '',
  ) as string[];
}

/** Mails to the workshop that name the rider. */
async function listNaming(tx: Tx, riderId: string): Promise<readonly MailRow[]> {
  const texts = await textsOf(tx, riderId);
  return texts.length === 0 ? [] : tx.mails.listHolding(WORKSHOP, texts);
}

/**
 * Forgets who a rider is: name, addresses, handle, names of files, what mails said. Bikes, units and rides keep their
 * hours under a handle that says nothing. The files named in the result are the caller's to remove. Doing it again does
 * no harm. Errors: `not-found`.
 */
export async function forgetRider(tx: Tx, riderId: string, now: Instant): Promise<Forgotten> {
  if (!(await tx.facts.current('rider', riderId)))
    throw new ServiceError('not-found', 'There is no such rider.');
  const files = await listRiderFiles(tx, riderId);
  const handle = `forgotten-${riderId}`;
  const readingIds: string[] = [];
  for (const file of await tx.files.listOfRider(riderId))
    for (const { id } of await tx.readings.listOfFile(file.id)) readingIds.push(id);
  const recorders = await listRecorders(tx, readingIds);
  const uses = await tx.rides.listRecorderUses(recorders);
  await dropMarks(tx, readingIds, now);
  await settleReadings(tx, readingIds, now);
  // A recorder that two riders used says whose a file is again.
  await settleReadings(tx, await followRecorders(tx, recorders, uses), now);
  await forgetFolder(tx, riderId);
  const erased = await eraseTexts(tx, riderId, now);
  await tx.handles.forget('rider', riderId, handle);
  await tx.files.renameArrivals(riderId, 'forgotten');
  for (const mail of await listNaming(tx, riderId)) await tx.mails.update(mail.id, { written: null });
  for (const mail of await tx.mails.listTo(riderId)) await forgetMail(tx, mail, now);
  for (const { id } of await listRiderPhotos(tx, riderId))
    await voidFact(tx, id, 'its rider was forgotten', { by: 'forget', at: now });
  await tx.mailed.forget(riderId);
  await tx.contacts.remove(riderId);
  return { ...files, handle, erased };
}

async function forgetFolder(tx: Tx, riderId: string): Promise<void> {
  const folders = (await listNames(tx, 'rider', riderId)).map((name) => `${name}/`);
  const paths = (await tx.inbox.list()).map((row) => row.path);
  await tx.inbox.remove(paths.filter((path) => folders.some((folder) => path.startsWith(folder))));
}

async function forgetMail(tx: Tx, mail: MailRow, now: Instant): Promise<void> {
  const isWaiting = mail.state === 'waiting';
  await tx.mails.update(mail.id, {
    written: null,
    answer: null,
    ...(isWaiting ? { state: 'withdrawn', settledAt: now } : {}),
  });
  if (!isWaiting) return;
  for (const notice of await tx.notices.listOfMail(mail.id)) await tx.notices.withdraw(notice.id, now, false);
}
