import { addDays, dayOf, startOfDay } from '../../core/days/calendar.js';
import type { RereadChange } from '../../core/ledger/facts.js';
import type { State } from '../../core/tokens.js';
import type { CameIn, FileRow } from '../../ports/files.js';
import type { LoopPulse } from '../../ports/loops.js';
import type { Tx } from '../../ports/store.js';
import { DAY_MS, type Day, type Instant, instant } from '../../units.js';
import { type BadAnswer, listBadAnswers, listToDo } from '../home/kits.js';
import { type CallRow, listStopCalls } from '../mail/listCalls.js';
import { getWorkshop, hasBegun } from '../settings.js';
import { type FilesLeft, findFilesLeft } from '../take/filesLeft.js';
import { countToReread } from '../take/rereadOnce.js';
import { type DuePart, type DueUnit, getDuePart } from './listDue.js';
import { type NamedRow, withUnitNames } from './namedRows.js';
import { getTodayWork, type TodayWork } from './todayWork.js';

const ARRIVALS_SHOWN = 6;
const ASKED_SHOWN = 5;
const DUE_SHOWN = 10;
const STOPPED_SHOWN = 10;
/** Units to be opened. Marked ones stand above them, and the bench has a list of its own. */
const WORST: readonly State[] = ['history-unknown', 'over-interval', 'due'];
const REFUSED_DAYS = 30;
const REREAD_DAYS = 14;
const REREADS_SHOWN = 50;

/** What somebody wants to know who opens the workshop. */
export interface Today {
  /** Files that came since the start of yesterday. */
  readonly cameSince: Day;
  readonly came: Readonly<Partial<Record<FileRow['outcome'], number>>>;
  /** Each with the name of the rider or the fleet that it is of. */
  readonly latest: readonly (CameIn & { readonly ownerName: string | null })[];
  /** How many riders ask for a day. */
  readonly asked: number;
  /** The first of them by that day. */
  readonly askedFirst: readonly { readonly unit: string; readonly day: Day | null }[];
  readonly booked: number;
  readonly waiting: number;
  /** Whom to call because a unit must not be ridden, and no mail says so. */
  readonly stopCalls: readonly CallRow[];
  /** What riders saw after a job at home: they are called first. */
  readonly bad: readonly BadAnswer[];
  /** Kits that are to be picked up. */
  readonly kits: number;
  /** Reminders go. */
  readonly hasBegun: boolean;
  /** Mails that were written down while there was no relay. */
  readonly notSent: number;
  /** Mails refused for good in the last 30 days. */
  readonly refused: number;
  /** Mails with rides that could not be read, even on a second try, lately. */
  readonly mailsLeft: number;
  /** Files that wait to be read. */
  readonly left: FilesLeft;
  /** Readings that are still to be read again by the reader of now. */
  readonly toReread: number;
  /** What the last reading anew changed, if that was lately. */
  readonly reread: RereadSummary | null;
}

/** A reading anew of all kept files by another reader. */
export interface RereadSummary {
  readonly at: Instant;
  readonly files: number;
  readonly lost: number;
  readonly kept: number;
  readonly changed: number;
  /** Of these the first, each with its unit's tag. */
  readonly changes: readonly (RereadChange & { readonly tag: string })[];
}

/** What of all that is due the first page shows. */
export interface DueToday {
  readonly counts: DuePart['counts'];
  /** The first of those that must not be ridden. */
  readonly stopped: readonly DueUnit<NamedRow>[];
  /** The first of those that are to be opened, the worst first. */
  readonly units: readonly DueUnit<NamedRow>[];
}

/** What the first page shows. */
export interface TodayPage {
  readonly today: Today;
  readonly work: TodayWork;
  readonly due: DueToday;
}

export async function getTodayPage(
  tx: Tx,
  now: Instant,
  lanes: readonly LoopPulse[] = [],
): Promise<TodayPage> {
  const { counts, units } = await getDuePart(tx, now, { states: WORST, from: 0, most: DUE_SHOWN });
  const marked = await getDuePart(tx, now, { states: ['stop-riding'], from: 0, most: STOPPED_SHOWN });
  const [stopped, worst] = [await withUnitNames(tx, marked.units), await withUnitNames(tx, units)];
  const work = await getTodayWork(tx, now);
  return { today: await getToday(tx, now, lanes), work, due: { counts, stopped, units: worst } };
}

async function getToday(tx: Tx, now: Instant, lanes: readonly LoopPulse[]): Promise<Today> {
  const workshop = await getWorkshop(tx);
  const { timeZone } = workshop;
  const cameSince = addDays(dayOf(now, timeZone), -1);
  const since = startOfDay(cameSince, timeZone);
  const latest: Today['latest'][number][] = [];
  for (const one of await tx.files.listCameIn(since, ARRIVALS_SHOWN)) {
    const word = one.riderId === null && one.bikeId === null ? await wordSince(tx, one.fileId) : one;
    latest.push({ ...one, ownerName: await ownerNameOf(tx, word) });
  }
  const asked = await tx.leads.listByDay('asked-for', ASKED_SHOWN);
  const tags = await tx.handles.listOf(
    'unit',
    asked.map(({ unitId }) => unitId),
  );
  return {
    cameSince,
    came: await tx.files.countCameIn(since),
    latest,
    asked: await tx.leads.count('asked-for'),
    askedFirst: asked.map(({ unitId, day }) => ({ unit: tags.get(unitId) ?? '', day })),
    booked: await tx.leads.count('booked'),
    waiting: await tx.rides.countAsking(),
    stopCalls: await listStopCalls(tx, now),
    bad: await listBadAnswers(tx, now),
    kits: (await listToDo(tx)).filter(({ body }) => body.step === 'chosen').length,
    hasBegun: hasBegun(workshop, dayOf(now, timeZone)),
    notSent: await tx.mails.countIn('not-sent'),
    refused: await tx.mails.countRefused(instant(now - REFUSED_DAYS * DAY_MS)),
    mailsLeft: await tx.mailed.countUnreadSince(instant(now - REFUSED_DAYS * DAY_MS)),
    left: await findFilesLeft(tx, lanes),
    toReread: await countToReread(tx),
    reread: await findReread(tx, now),
  };
}

async function findReread(tx: Tx, now: Instant): Promise<RereadSummary | null> {
  const fact = (await tx.facts.list('reread')).at(-1);
  if (!fact || fact.recordedAt < now - REREAD_DAYS * DAY_MS) return null;
  const { files, lost, kept, changes } = fact.body;
  const shown = changes.slice(0, REREADS_SHOWN);
  const tags = await tx.handles.listOf(
    'unit',
    shown.map(({ unitId }) => unitId),
  );
  const named = shown.map((one) => ({ ...one, tag: tags.get(one.unitId) ?? '' }));
  return { at: fact.recordedAt, files, lost, kept, changed: changes.length, changes: named };
}

type Word = Pick<CameIn, 'riderId' | 'bikeId'>;

async function ownerNameOf(tx: Tx, { riderId, bikeId }: Word): Promise<string | null> {
  const bike = bikeId === null ? undefined : (await tx.facts.current('bike', bikeId))?.body;
  const owner = riderId ?? bike?.riderId ?? null;
  if (owner !== null) return (await tx.contacts.find(owner))?.name ?? null;
  return bike?.fleetId ? ((await tx.facts.current('fleet', bike.fleetId))?.body.name ?? null) : null;
}

/** Whose a file is by what was said after it came. */
async function wordSince(tx: Tx, fileId: string): Promise<Word> {
  const readings = await tx.readings.listOfFile(fileId);
  const rides = await tx.rides.listOfReadings(readings.map(({ id }) => id));
  return (
    rides.find(({ riderId, bikeId }) => riderId !== null || bikeId !== null) ?? {
      riderId: null,
      bikeId: null,
    }
  );
}
