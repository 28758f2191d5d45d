import type { Context, Hono } from 'hono';
import { HTTPException } from 'hono/http-exception';
import { dayOf } from '../../../core/days/calendar.js';
import { getLastSending } from '../../../flow/rides/lastSending.js';
import { isBikeOf } from '../../../flow/rides/moveRide.js';
import { getTakenRides, type TakenRides } from '../../../flow/rides/takenRides.js';
import type { Taken } from '../../../flow/take/ingestFile.js';
import { logTaken } from '../../../flow/take/logTaken.js';
import { toldOf } from '../../../flow/take/pathTold.js';
import { Slowness, takeMembers } from '../../../flow/take/takePath.js';
import { fileWhy } from '../../../languages/fileText.js';
import { riderTextsFor } from '../../../languages/index.js';
import type { FileMember, RideReader } from '../../../ports/reader.js';
import type { Tx } from '../../../ports/store.js';
import { hoursOfSeconds, seconds } from '../../../units.js';
import { LastTold } from '../../door/lastTold.js';
import { boundaryOf } from '../../door/multipart.js';
import { type Into, type NotReceived, type Received, receiving, type Sending } from '../../door/receive.js';
import { tally } from '../../door/tally.js';
import { type GiveWay, gate, gates } from '../../gate.js';
import type { WebEnv } from '../../viewer.js';
import type { Door, Doors } from '../answer.js';
import { fieldsOf } from '../forms.js';
import type { RiderView } from '../riderPage.js';
import { bothHomes } from './device.js';
import { type FileAnswer, filePage, LARGEST_SENDING_MB, MOST_FILES } from './filePage.js';
import { sentPage } from './sentPage.js';
import { sendingText } from './setsMarkup.js';

const DOOR: Door = { purpose: 'page', page: filePage, part: 'files' };
/** Of one rider in a quarter of an hour, so that no link fills the disk. */
const MOST_MB = 1_000;
/** Of one rider at once, and waiting; who stalls holds up nobody else. */
const OF_A_RIDER = [2, 4] as const;
/** Of those that have come whole so many are read at once, one of a rider, and so many wait. */
const READ = [2, 64] as const;
/** Who is read for so long gives way to those who wait. Units: milliseconds. */
const READ_TURN_MS = 3000;

interface SendingRefusal {
  readonly status: 408 | 413 | 422 | 429 | 503;
  readonly says: string;
}

/** Adds what takes the files that a rider sends. A script that asks for JSON is answered in it, with the same words. */
export function sendFiles(links: Hono<WebEnv>, doors: Doors): void {
  const ofRider = gates(...OF_A_RIDER);
  const turnToRead = gate(...READ);
  const oneOfRider = gates(1, OF_A_RIDER[0] + OF_A_RIDER[1]);
  const megabytes = tally();
  const last = new LastTold<readonly FileAnswer[]>();
  const sent: Door = { purpose: 'page', page: sentPage(last), part: 'files' };
  links.on('GET', bothHomes('/files/sent'), (c) => doors.answer(c, sent, null));
  // What is shared goes to the worker; where none stands by, it comes here.
  links.on('POST', [...bothHomes('/files'), '/own/share'], async (c) => {
    const found = await doors.knock(c, DOOR, false);
    if ('closed' in found) return doors.shut(c, found);
    // An expired link's page has a form of its own.
    if (found.isExpired)
      return doors.answer(c, DOOR, async () =>
        boundaryOf(c.req.header('content-type')) === null ? fieldsOf(c) : {},
      );
    const { riderId, language } = found.contact;
    const { files: texts } = riderTextsFor(language).own;
    const now = doors.deps.clock.now();
    const into: Into = {
      parts: doors.rider.parts,
      mostFiles: MOST_FILES,
      mostMb: LARGEST_SENDING_MB,
      mayCome: (bytes) => {
        megabytes.add(riderId, now, bytes / 1_000_000);
        return megabytes.count(riderId, now) <= MOST_MB;
      },
    };
    const take = async ({ files, fields }: Sending): Promise<readonly Came[] | 'need' | null> => {
      if (files.length === 0) return 'need';
      const isOwn = await doors.deps.store.read((tx) => isBikeOf(tx, riderId, fields.bike ?? ''));
      const bikeId = isOwn ? fields.bike! : null;
      return oneOfRider(riderId, () =>
        turnToRead((giveWay) => takeAll(doors, files, { riderId, bikeId }, giveWay)),
      );
    };
    const taken = await ofRider(riderId, () => receiving(c, into, take)).catch(unlessOutOfBounds);
    return taken === null || typeof taken === 'string'
      ? refuse(c, doors, refusalOf(taken ?? 'busy', texts))
      : tell(c, doors, taken, last);
  });
}

type FileTexts = ReturnType<typeof riderTextsFor>['own']['files'];
type FileNotTaken = NotReceived | 'need' | 'busy' | 'tooLarge' | 'tooSlow';

/** A sending that does not keep to its size and pace is told so in words; what else fails is thrown on. */
function unlessOutOfBounds(error: unknown): 'tooLarge' | 'tooSlow' {
  const status = error instanceof HTTPException ? error.status : 0;
  if (status === 413) return 'tooLarge';
  if (status === 408) return 'tooSlow';
  throw error;
}

function refusalOf(why: FileNotTaken, texts: FileTexts): SendingRefusal {
  const refusals: Readonly<Record<FileNotTaken, SendingRefusal>> = {
    need: { status: 422, says: texts.need },
    tooMany: { status: 422, says: texts.tooMany(MOST_FILES) },
    notWhole: { status: 422, says: texts.notWhole },
    tooLarge: { status: 413, says: texts.tooLarge(LARGEST_SENDING_MB) },
    tooSlow: { status: 408, says: texts.tooSlow },
    tooMuch: { status: 429, says: texts.tooMuch },
    noRoom: { status: 503, says: texts.busy },
    busy: { status: 503, says: texts.busy },
  };
  return refusals[why];
}

/** What came of one file that was sent, which may be an archive. */
interface Came {
  readonly file: string;
  readonly taken: readonly Taken[];
  /** Files of an archive that are nothing to take, such as photos: neither kept nor told of one by one. */
  readonly leftOut: number;
}

/** Takes the files of one sending, a turn at a time where others wait. */
async function takeAll(
  doors: Doors,
  files: readonly Received[],
  { riderId, bikeId }: { readonly riderId: string; readonly bikeId: string | null },
  giveWay: GiveWay,
): Promise<Came[]> {
  const { store, clock, log } = doors.deps;
  const { reader, originals } = doors.rider;
  const rule = bikeId === null ? null : 'chosen';
  const how = { riderId, bikeId, rule, riderRule: 'link', way: 'page' } as const;
  const slowness = new Slowness();
  let began = performance.now();
  const all: Came[] = [];
  for (const { name: file, part } of files) {
    const started = performance.now();
    const [taken, leftOut] = [[] as Taken[], { count: 0 }];
    const members = withoutOthers(reader, reader.open(part.path, file), file, leftOut);
    for await (const one of takeMembers({ store, clock, reader, originals }, members, () => how, slowness)) {
      taken.push(one);
      if (performance.now() - began < READ_TURN_MS) continue;
      await giveWay();
      began = performance.now();
    }
    await logTaken({ store, log }, taken, { riderId, ms: performance.now() - started });
    all.push({ file, taken, leftOut: leftOut.count });
  }
  await doors.refresh();
  return all;
}

/** An export holds photos and lists beside its rides; a file that was chosen by itself is always answered. */
async function* withoutOthers(
  reader: Pick<RideReader, 'mayBeRide'>,
  members: AsyncIterable<FileMember>,
  archive: string,
  leftOut: { count: number },
): AsyncGenerator<FileMember> {
  for await (const member of members) {
    if (member.name === archive || 'problem' in member || reader.mayBeRide(member)) yield member;
    else leftOut.count++;
  }
}

const wantsJson = (c: Context<WebEnv>): boolean => c.req.header('accept') === 'application/json';

async function tell(
  c: Context<WebEnv>,
  doors: Doors,
  came: readonly Came[],
  last: LastTold<readonly FileAnswer[]>,
): Promise<Response> {
  const told = await doors.look(c, DOOR, {}, async (tx, view) => {
    const answers: FileAnswer[] = [];
    for (const one of came) answers.push(...(await answersOf(tx, view, one)));
    const sending = await getLastSending(tx, view.opened.contact.riderId, view.now);
    return { view, answers, sum: sendingText(view, sending) };
  });
  if (told === null) throw new HTTPException(404);
  const { view, answers, sum } = told;
  if (wantsJson(c)) return c.json({ answers, sum });
  last.keep(view.opened.contact.riderId, answers, view.now);
  return c.redirect(`${view.home}/files/sent`, 303);
}

/** What in a recorder's folder or an export holds no ride is nothing that its rider can mend. */
const NOTHING_TO_MEND = ['not-an-activity', 'no-track'];

async function answersOf(tx: Tx, view: RiderView, { file, taken, leftOut }: Came): Promise<FileAnswer[]> {
  const { files } = view.texts.own;
  const says = (text: string): FileAnswer => ({ file, asks: false, says: text });
  if (taken.length === 0 && leftOut === 0) return [says(files.why['empty-archive']!)];
  const named = taken.filter((one) => one.file === file || !NOTHING_TO_MEND.includes(one.code ?? ''));
  const others = leftOut + taken.length - named.length;
  const answers: FileAnswer[] = [];
  for (const one of named) answers.push(await answerOf(tx, view, one));
  return others === 0 ? answers : [...answers, says(files.noRides(others))];
}

async function answerOf(tx: Tx, view: RiderView, taken: Taken): Promise<FileAnswer> {
  const { file, outcome, rides } = taken;
  const told = toldOf(taken);
  const { files } = view.texts.own;
  const asks = outcome === 'ask';
  const what =
    outcome === 'no-ride' || outcome === 'set-aside' ? [] : [ridesText(view, await getTakenRides(tx, rides))];
  return {
    file,
    asks,
    says: [files.said[told.outcome], ...what, fileWhy(files, told)].filter((text) => text !== '').join(' '),
  };
}

/** Returns when the rides of a file were, how long they moved, and on which bike; of several, the first day. */
function ridesText({ texts, voice, workshop, today }: RiderView, { rides, bike }: TakenRides): string {
  const [first] = rides;
  if (!first || first.start === null) return '';
  const moving = seconds(rides.reduce((sum, ride) => sum + ride.movingS, 0));
  const day = voice.words.day(dayOf(first.start, workshop.timeZone), today);
  return texts.own.files.on(day, voice.words.hours(hoursOfSeconds(moving)), bike);
}

async function refuse(c: Context<WebEnv>, doors: Doors, { status, says }: SendingRefusal): Promise<Response> {
  if (wantsJson(c)) return c.json({ fault: says }, status);
  const path = c.req.path.replace(/\/share$/, '/files');
  return doors.back(c, DOOR, { text: says, isFault: true }, {}, path);
}
