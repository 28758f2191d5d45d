import { createHash } from 'node:crypto';
import { isAutomatic } from '../../core/mailedIn.js';
import { ServiceError } from '../../errors.js';
import type { MailedFile, MailHead, OpenPostbox, Parts, Postbox, SentPart } from '../../ports/inbox.js';
import type { Turn } from '../../ports/loops.js';
import type { FileMember, RideReader } from '../../ports/reader.js';
import { DAY_MS, instant } from '../../units.js';
import type { Deps } from '../deps.js';
import { answerMail } from '../mail/kinds/filesTaken.js';
import type { Taken } from './ingestFile.js';
import { Slowness, takeMembers } from './takePath.js';
import { type RidesMailbox, ridersOfMail } from './whoseMail.js';

/** What mails are taken with. */
export type MailedDeps = Deps & {
  readonly mailbox: Postbox;
  readonly rides: RidesMailbox;
  /** Where files lie while they are read. */
  readonly parts: Parts;
};

/** *Default* bounds of one mail, and of one rider’s day. Units: bytes, counts. */
export const LARGEST_FILE_BYTES = 40_000_000;
const MOST_FILES = 30;
/** As it is sent a file takes a third more. */
const LARGEST_MAIL_BYTES = 200_000_000;
const MOST_MAILS_A_DAY = 100;
/** Mails that one look fetches the heads of. */
const HEADS_AT_ONCE = 25;
/** A mail that cannot be read so often is left, so that those behind it come in. */
const MOST_TRIES = 3;
/** Older mails are taken and not answered: a mailbox that is read anew holds last year’s. */
const ANSWERED_MS = 7 * DAY_MS;

/** Mails that failed, by their numbers, until the program is started anew. */
export type MailTries = Map<string, number>;

/** Takes what came by mail, a turn at a time; true where more is there. Errors: ServiceError `mailbox-failed`. */
export async function takeMailsOnce(deps: MailedDeps, turn: Turn, tries: MailTries): Promise<boolean> {
  turn.doing('reading rides that came by mail');
  return deps.mailbox.visit(turn.signal, async (open) => {
    const { validity } = open;
    const after = await deps.store.read((tx) => tx.mailed.lastUid(validity));
    const heads = await open.list(after, HEADS_AT_ONCE);
    for (const head of heads) {
      if (turn.isOver()) return true;
      await takeTried(deps, open, head, tries);
    }
    return heads.length === HEADS_AT_ONCE;
  });
}

async function takeTried(deps: MailedDeps, open: OpenPostbox, head: MailHead, tries: MailTries) {
  const key = `${open.validity} ${head.uid}`;
  const tried = (tries.get(key) ?? 0) + 1;
  tries.set(key, tried);
  if (tried > MOST_TRIES) {
    deps.log.error({ tried: MOST_TRIES }, 'a mail could not be read again and again, and is left');
    await tellLeft(deps, head);
    await deps.store.write((tx) => tx.mailed.pass(open.validity, head.uid, true));
  } else
    await takeMail(deps, open, head).catch((error: unknown) => {
      tries.set(key, tried - 1 + blameOf(error));
      throw error;
    });
  tries.delete(key);
}

/** Tells the riders of a mail that it could not be read, which nobody else may know. */
async function tellLeft(deps: MailedDeps, head: MailHead): Promise<void> {
  const riderIds = await deps.store.read((tx) => ridersOfMail(tx, deps.rides, head.fields));
  for (const riderId of riderIds)
    await note(deps, head, riderId, [], async () => [notTaken('', 'mail-left')]);
}

/**
 * How much of a try a failure counts. A full disk or a store that is away is no fault of the mail. A line that breaks is
 * waited out for an hour.
 */
function blameOf(error: unknown): number {
  if (!(error instanceof ServiceError)) return 1;
  return error.code === 'mailbox-failed' ? 1 / 20 : 0;
}

async function takeMail(deps: MailedDeps, open: OpenPostbox, head: MailHead): Promise<void> {
  const { store, log } = deps;
  const riderIds = await store.read((tx) => ridersOfMail(tx, deps.rides, head.fields));
  if (riderIds.length === 0) {
    await store.write((tx) => tx.mailed.pass(open.validity, head.uid, true));
    return;
  }
  const came = await download(deps, open, head);
  try {
    for (const riderId of riderIds) await takeFor(deps, head, riderId, came);
    await store.write((tx) => tx.mailed.pass(open.validity, head.uid, false));
    log.info({ files: came.length }, 'a mail with rides was taken');
    await open.putAway(head.uid);
  } finally {
    for (const { part } of came) await part?.remove();
  }
}

/** A file of a mail on disk; `part` null where it is too large or there was no room. */
interface CameFile {
  readonly name: string;
  readonly part: SentPart | null;
  readonly sha256: string;
}

async function download(deps: MailedDeps, open: OpenPostbox, head: MailHead): Promise<CameFile[]> {
  const came: CameFile[] = [];
  if (head.bytes > LARGEST_MAIL_BYTES) return [{ name: '', part: null, sha256: '' }];
  try {
    for (const { part, name } of head.parts.slice(0, MOST_FILES))
      came.push(await downloadPart(deps.parts, name, open.read(head.uid, part, LARGEST_FILE_BYTES + 1)));
    return came;
  } catch (error) {
    for (const { part } of came) await part?.remove();
    throw error;
  }
}

async function downloadPart(
  parts: Parts,
  name: string,
  content: AsyncIterable<Uint8Array>,
): Promise<CameFile> {
  const part = await parts.begin();
  const hash = createHash('sha256');
  let bytes = 0;
  try {
    for await (const piece of content) {
      bytes += piece.length;
      hash.update(piece);
      if (bytes > LARGEST_FILE_BYTES || !(await part.add(piece))) {
        await part.remove();
        return { name, part: null, sha256: hash.digest('hex') };
      }
    }
    await part.close();
    return { name, part, sha256: hash.digest('hex') };
  } catch (error) {
    await part.remove();
    throw error;
  }
}

/** One mail is one mail however often, and in whatever mailbox, it is found. */
const keyOf = ({ fields }: MailHead, riderId: string, came: readonly CameFile[]): string =>
  createHash('sha256')
    .update(JSON.stringify([riderId, fields.messageId, came.map(({ sha256 }) => sha256).sort()]))
    .digest('hex');

const takeFor = (
  deps: MailedDeps,
  head: MailHead,
  riderId: string,
  came: readonly CameFile[],
): Promise<void> => note(deps, head, riderId, came, () => takeFiles(deps, riderId, came));

/** Does a mail's work once, however often it is found, and tells its rider. */
async function note(
  deps: MailedDeps,
  head: MailHead,
  riderId: string,
  came: readonly CameFile[],
  work: () => Promise<MailedFile[]>,
): Promise<void> {
  const { store, clock, ids } = deps;
  const key = keyOf(head, riderId, came);
  const { mailed, isTooMany } = await store.write(async (tx) => {
    const since = instant(clock.now() - DAY_MS);
    return {
      isTooMany: (await tx.mailed.countSince(riderId, since)) >= MOST_MAILS_A_DAY,
      mailed: await tx.mailed.begin(key, riderId, clock.now()),
    };
  });
  if (mailed.doneAt !== null) return;
  const taken = isTooMany ? [tooMany] : await work();
  // A program that ended halfway took some of them already, for this mail.
  const files = mailed.isAgain ? taken.map(asFirst) : taken;
  await store.write(async (tx) => {
    const now = clock.now();
    const isAnswered = !isAutomatic(head.fields) && now - head.arrivedAt < ANSWERED_MS;
    const answer = isAnswered ? await answerMail(tx, riderId, mailed.id, now, ids) : null;
    await tx.mailed.finish(mailed.id, { files, answer }, now);
  });
}

const asFirst = (file: MailedFile): MailedFile =>
  file.outcome === 'counted-already' ? { ...file, outcome: 'counted' } : file;

const notTaken = (name: string, code: string): MailedFile => ({
  name,
  outcome: 'set-aside',
  indoor: false,
  code,
  rides: [],
});
const tooMany = notTaken('', 'too-many-mails');

async function takeFiles(
  deps: MailedDeps,
  riderId: string,
  came: readonly CameFile[],
): Promise<MailedFile[]> {
  const how = { riderId, bikeId: null, rule: null, riderRule: 'link', way: 'mail' } as const;
  const slowness = new Slowness();
  const files: MailedFile[] = [];
  for (const { name, part } of came) {
    if (part === null) files.push(notTaken(name, 'too-large'));
    else {
      const members = withoutOthers(deps.reader, deps.reader.open(part.path, name));
      for await (const one of takeMembers(deps, members, () => how, slowness)) files.push(mailedFile(one));
    }
  }
  // Who sends a letter or a table in place of a ride is told; beside rides it is none of ours.
  if (files.length === 0)
    for (const { name } of came) if (!BESIDE.test(name)) files.push(notTaken(name, 'not-fit-or-gpx'));
  return files;
}

/** What mails carry that nobody takes for a ride: pictures, cards, signatures. */
const BESIDE = /(^|\.(png|jpe?g|gif|heic|webp|svg|bmp|ics|vcf|p7s|asc|sig))$/i;

const mailedFile = ({ file, outcome, indoor, code, rides }: Taken): MailedFile => ({
  ...{ name: file, outcome, indoor, code, rides },
});

/** A mail carries pictures and signatures beside its rides: neither kept nor told of. */
async function* withoutOthers(
  reader: Pick<RideReader, 'mayBeRide'>,
  members: AsyncIterable<FileMember>,
): AsyncGenerator<FileMember> {
  for await (const member of members) if ('problem' in member || reader.mayBeRide(member)) yield member;
}
