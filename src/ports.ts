/** What the story needs from outside. Each adapter gives one of these; tests give their own. */

import type { HoursForecast } from './core/forecast/forecast.js';
import type { Reading } from './core/ground/samples/reading.js';
import type { Recording } from './core/ground/samples/recording.js';
import type { Standing } from './core/ledger/due.js';
import type { Fact, FactBodies, FactKind } from './core/ledger/facts.js';
import type {
  BookingContent,
  ConfirmContent,
  DayAskedContent,
  DigestContent,
  FeedEntry,
  LinkContent,
  ReminderContent,
  SilenceContent,
} from './core/notices/mailContent.js';
import type { MailSlot, NoticeKey, Recipient } from './core/notices/notice.js';
import type { Later, Lead, LeadOffer, LeadState } from './core/plan/leads.js';
import type { SensorConfirmation } from './core/rides/attribution.js';
import type { Ride } from './core/rides/ride.js';
import type { OwnPlace } from './core/rides/settle.js';
import type { State } from './core/tokens.js';
import type { Problem } from './problems.js';
import type { Day, Instant } from './units.js';

export interface Clock {
  now(): Instant;
}

/** Randomness: an id that nobody can guess. */
export interface Ids {
  uuid(): string;
}

/** How a loop is doing, by a clock that only runs forward. Units: seconds. */
export interface LoopPulse {
  readonly name: string;
  /** How long the step under way has taken; null between steps. */
  readonly runningS: number | null;
  readonly sinceEndedS: number | null;
  /** Between two steps. */
  readonly pauseS: number;
  readonly failedInARow: number;
}

/** The loops of one process that works on the store, by its own last word. */
export interface Heartbeat {
  /** The machine that it is on. */
  readonly host: string;
  readonly isOwn: boolean;
  /** Whether it is known to have ended. */
  readonly isGone: boolean;
  /** Whose drop folder it scans. */
  readonly home: string;
  readonly loops: readonly LoopPulse[];
  /** Since that word, by the store's clock. Units: seconds. */
  readonly silentS: number;
}

/** How this process is doing. */
export interface Vitals {
  loops(): readonly LoopPulse[];
  /** Since the drop folder was scanned to its end; null before. */
  sinceScanS(): number | null;
}

export interface Log {
  info(what: Readonly<Record<string, unknown>>, message: string): void;
  error(what: Readonly<Record<string, unknown>>, message: string): void;
}

/** What a file says; the problem is null where there is a ride in it. */
export interface Decoded {
  readonly readings: readonly Reading[];
  readonly outcome: FileRow['outcome'];
  readonly problem: Problem | null;
}

export interface RideReader {
  /** Decodes what a file holds, by its content and never by its name; whatever it does to the decoder is a problem of its own. */
  decode(file: { readonly bytes: Uint8Array; readonly name: string }, now: Instant): Promise<Decoded>;
  /**
   * Yields the file at a path, or the files in it where it is an archive, one at a time.
   * Errors: ServiceError `disk-failed`.
   */
  open(path: string, name: string): AsyncIterable<FileMember>;
  /** The same for what is in memory. */
  openBytes(bytes: Uint8Array, name: string): AsyncIterable<FileMember>;
  /** Whether it is worth keeping and decoding; false for a photo and other things that lie beside rides. */
  mayBeRide(file: { readonly bytes: Uint8Array; readonly name: string }): boolean;
  /** Whether the file is there to its end by its own format; false for what has no end of its own. */
  isWhole(path: string): Promise<boolean>;
}

export type FileMember =
  | { readonly name: string; readonly bytes: Uint8Array }
  | { readonly name: string; readonly problem: Problem };

/** The drop folder: `<rider>/[<bike>/]file`. Nothing in it is ever moved or deleted. */
export interface Inbox {
  /**
   * Returns every file below it, a full scan; `problems` name what is no plain file. A folder that is gone (`missing`:
   * unmounted, renamed) or holds nothing at all says nothing of the files that lay in it.
   */
  scan(): Promise<
    { readonly files: readonly InboxFile[]; readonly problems: readonly Problem[] } | 'missing' | 'empty'
  >;
  /** Writes what became of each file into the rider's folder; returns why it could not. */
  tell(folder: string, text: string): Promise<Problem | null>;
}

export interface InboxFile {
  /** Relative to the drop folder, with slashes. */
  readonly path: string;
  /** On disk. */
  readonly at: string;
  readonly bytes: number;
  readonly modifiedMs: number;
  /** When anything about it last changed, its time of modification set back included. */
  readonly changedMs: number;
}

export type FileContent =
  | { readonly recordings: readonly Recording[] }
  | { readonly problem: Problem; readonly outcome: 'no-ride' | 'set-aside' };

/** Keeps each file once, by its content. */
export interface Originals {
  /** Returns the SHA-256 in hex; the file is on disk when it returns. */
  keep(bytes: Uint8Array): Promise<string>;
}

/** The files that are kept, by their hashes. */
export interface KeptOriginals {
  list(): Promise<readonly string[]>;
  /** One that is not there is no fault. Errors: ServiceError `disk-failed`. */
  remove(sha256: string): Promise<void>;
}

/** What of a rider lies outside the store, and who was forgotten. */
export interface Forgetting {
  /** Writes down an id that says nothing, so that a backup from before that is restored forgets it again. */
  note(riderId: string): Promise<void>;
  list(): Promise<readonly string[]>;
  /** Removes originals by hash and mails by message id; what is not there is no fault. Errors: `disk-failed`. */
  remove(of: {
    readonly originals: readonly string[];
    readonly messageIds: readonly string[];
  }): Promise<void>;
  /** Whether a rider of that handle has a drop folder; it is the rider's own, and nothing in it is deleted here. */
  hasFolder(handle: string): boolean;
}

/** Backups that the program makes by itself, one a day. */
export interface Backups {
  /** Days of which there is one, in order. Errors: ServiceError `disk-failed`. */
  list(): Promise<readonly Day[]>;
  /** Makes the one of a day; it has its name only once it is verified. Errors: ServiceError, as what went wrong has it. */
  make(day: Day, now: Instant): Promise<void>;
  remove(day: Day): Promise<void>;
}

export interface Mailer {
  /** Errors: ServiceError `mail-failed`, permanent where the relay refused for good. */
  deliver(mail: OutgoingMail): Promise<void>;
}

/** Puts what a mail tells into words, in the reader's language. */
export interface MailWriter {
  reminder(content: ReminderContent): Letter;
  digest(content: DigestContent): Letter;
  confirmAddress(content: ConfirmContent): Letter;
  silence(content: SilenceContent): Letter;
  /** With the calendar entry attached. */
  booking(content: BookingContent): Letter & Pick<OutgoingMail, 'attachments'>;
  link(content: LinkContent): Letter;
  dayAsked(content: DayAskedContent): Letter;
  /** Headers beyond addresses, subject, date and id; `stop` null for mails that cannot be unsubscribed from. */
  headers(language: string, stop: StopWays | null): Readonly<Record<string, string>>;
}

/** How a reader stops reminders. */
export interface StopWays {
  /** The address to which a mail asks for it. */
  readonly address: string;
  /** A page that takes one click, only where the mail goes out signed and the page is under HTTPS. */
  readonly oneClickUrl: string | null;
}

/** Returns the bookings as a calendar that others may read along. */
export type FeedWriter = (
  workshop: { readonly name: string; readonly language: string },
  entries: readonly FeedEntry[],
) => string;

/** Signs texts with this installation's secret. */
export interface Seal {
  mark(text: string): string;
  /** Compares in constant time. */
  fits(text: string, mark: string): boolean;
}

export interface Letter {
  readonly subject: string;
  readonly text: string;
  readonly html: string;
}

export interface Mailbox {
  readonly name: string;
  readonly address: string;
}

export interface OutgoingMail {
  /** With its angle brackets. */
  readonly messageId: string;
  readonly date: Instant;
  readonly from: Mailbox;
  readonly replyTo: Mailbox | null;
  readonly to: Mailbox;
  readonly subject: string;
  readonly text: string;
  readonly html: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly attachments?: readonly {
    readonly filename: string;
    readonly contentType: string;
    readonly content: string;
  }[];
}

export interface Store {
  /** One transaction that takes the write lock at once. Nothing else is awaited inside it. */
  write<T>(work: (tx: Tx) => Promise<T>): Promise<T>;
  read<T>(work: (tx: Tx) => Promise<T>): Promise<T>;
  /** What the database itself says of its soundness. */
  integrity(): Promise<{
    readonly integrityFaults: readonly string[];
    readonly foreignKeyFaults: readonly string[];
  }>;
  close(): Promise<void>;
}

/** What an export holds beside the rows of the import file, each kind after those that it refers to. */
export const COPIED = [
  'fact',
  'handle',
  'contact',
  'file',
  'arrival',
  'reading',
  'mail',
  'notice',
  'lead',
  'later',
] as const;
export type Copied = (typeof COPIED)[number];
export type CopiedRow = Readonly<Record<string, unknown>>;

/** The ledger's rows as they are stored, to be taken whole into another store. */
export interface CopyTable {
  /** The name of the schema that the rows have. */
  readonly schema: string;
  /** One at a time, in an order in which they can be added. */
  rows(of: Copied): AsyncIterable<CopiedRow>;
  /** Returns false where it is there already. Errors: `refused` where what is there contradicts it. */
  add(of: Copied, row: CopiedRow): Promise<boolean>;
}

/** Everything one workshop's transaction can do; each query is limited to that workshop. */
export interface Tx {
  readonly workshopId: string;
  readonly facts: FactTable;
  readonly handles: HandleTable;
  readonly contacts: ContactTable;
  readonly files: FileTable;
  readonly readings: ReadingTable;
  readonly rides: RideTable;
  readonly standings: StandingTable;
  readonly notices: NoticeTable;
  readonly mails: MailTable;
  readonly leads: LeadTable;
  readonly accounts: AccountTable;
  readonly inbox: InboxTable;
  readonly heartbeats: HeartbeatTable;
  readonly copies: CopyTable;
}

export interface NewFact<K extends FactKind> {
  readonly kind: K;
  readonly body: FactBodies[K];
  readonly at: Instant;
  readonly by: string;
  readonly why?: string;
}

export interface FactTable {
  /** Adds a fact about a new entity, or about `entityId` where one is given. */
  add<K extends FactKind>(fact: NewFact<K> & { readonly entityId?: string }): Promise<Fact<K>>;
  /** Errors: `already-replaced` when somebody else replaced it first, `not-found`. */
  replace<K extends FactKind>(factId: string, fact: NewFact<K>): Promise<Fact<K>>;
  void(factId: string, by: string, at: Instant, why: string): Promise<Fact>;
  find(factId: string): Promise<Fact | undefined>;
  /** The fact in force about an entity: neither replaced nor void. */
  current<K extends FactKind>(kind: K, entityId: string): Promise<Fact<K> | undefined>;
  /** Those in force, by what they are about (`subject`: a unit, a bike, a rider, a reading) or whom they touch (`object`). */
  list<K extends FactKind>(
    kind: K,
    by?: { readonly subject?: string; readonly object?: string },
  ): Promise<readonly Fact<K>[]>;
  listMany<K extends FactKind>(kind: K, subjects: readonly string[]): Promise<readonly Fact<K>[]>;
  /** Every version of a kind's facts that is not void, replaced ones too; of one entity where it is named. */
  versions<K extends FactKind>(kind: K, entityId?: string): Promise<readonly Fact<K>[]>;
  /** Every version of the facts that ever touched a subject, replaced and void ones too, in order of entry. */
  history(subject: string): Promise<readonly Fact[]>;
  count(): Promise<number>;
  /** Number of the last fact; 0 before any. */
  lastSeq(): Promise<number>;
}

export type HandleKind = 'rider' | 'bike' | 'unit' | 'fleet' | 'race';

/** What was named anew is still found by its earlier handles, until something else is given one of them. */
export interface HandleTable {
  find(kind: HandleKind, handle: string): Promise<string | undefined>;
  count(kind: HandleKind): Promise<number>;
  /** Handle by id, of those named: of several the one given last. */
  listOf(kind: HandleKind, ids: readonly string[]): Promise<ReadonlyMap<string, string>>;
  /** Handle by id: of several the one given last. */
  all(kind: HandleKind): Promise<ReadonlyMap<string, string>>;
  /** Id by handle, earlier ones too. */
  names(kind: HandleKind): Promise<ReadonlyMap<string, string>>;
  /** Gives a handle, also one that something else had; `factSeq` is the number of the fact that says so. */
  give(kind: HandleKind, handle: string, entityId: string, factSeq: number): Promise<void>;
  /** Puts one handle in the place of all that it ever had. */
  forget(kind: HandleKind, entityId: string, handle: string): Promise<void>;
}

/** The only place that knows a rider's name and address. */
export interface Contact {
  readonly riderId: string;
  readonly name: string;
  readonly email: string | null;
  /** Another for each new address, so that one can be told from the next without being kept. */
  readonly addressId: string;
  readonly phone: string | null;
  readonly language: string;
  readonly confirmedAt: Instant | null;
  readonly unsubscribedAt: Instant | null;
  /** When mail to this address was refused for good. */
  readonly refusedAt: Instant | null;
  /** Links of an earlier epoch are void. */
  readonly linkEpoch: number;
}

export interface ContactTable {
  find(riderId: string): Promise<Contact | undefined>;
  list(): Promise<readonly Contact[]>;
  listOf(riderIds: readonly string[]): Promise<readonly Contact[]>;
  /** A contact whose address changed is given a new `addressId`, unconfirmed and not refused. */
  put(contact: Omit<Contact, 'addressId' | 'refusedAt' | 'linkEpoch'>): Promise<void>;
  markRefused(riderId: string, at: Instant): Promise<void>;
  confirm(riderId: string, at: Instant): Promise<void>;
  /** Null takes the reminders up again. */
  setUnsubscribed(riderId: string, at: Instant | null): Promise<void>;
  /** Makes every link that the rider was sent void. */
  revokeLinks(riderId: string): Promise<void>;
  remove(riderId: string): Promise<void>;
}

/** A file as it was taken: what it was, once and for all. */
export interface FileRow {
  readonly id: string;
  readonly sha256: string;
  readonly bytes: number;
  readonly riderId: string | null;
  readonly outcome: 'ride' | 'no-ride' | 'set-aside';
  readonly code: string | null;
  readonly reason: string | null;
}

/** One handing-over of a file: where it lay and what that says. */
export interface Arrival {
  readonly fileId: string;
  readonly name: string;
  readonly riderId: string | null;
  readonly bikeId: string | null;
  /** `subfolder` without a bike: a folder that is named like no bike we know. */
  readonly rule: 'chosen' | 'subfolder' | null;
  readonly at: Instant;
  /** The last fact when it came: what was known then. */
  readonly afterFact: number;
}

/** A file as it was handed over last, for whoever wants to see what came in. */
export interface CameIn {
  readonly fileId: string;
  readonly at: Instant;
  readonly name: string;
  readonly riderId: string | null;
  /** That it was handed over for. */
  readonly bikeId: string | null;
  readonly outcome: FileRow['outcome'];
  readonly reason: string | null;
}

export interface FileTable {
  /** The latest handings-over since a moment, newest first. */
  listCameIn(since: Instant, most: number): Promise<readonly CameIn[]>;
  /** Handings-over since a moment by what the file was. */
  countCameIn(since: Instant): Promise<Readonly<Partial<Record<FileRow['outcome'], number>>>>;
  /** Each rider's copy of the same content. */
  list(sha256: string): Promise<readonly FileRow[]>;
  add(file: Omit<FileRow, 'id'>): Promise<FileRow>;
  addArrival(arrival: Arrival): Promise<void>;
  listArrivals(fileIds: readonly string[]): Promise<readonly Arrival[]>;
  /** Contents that nobody handed over at that moment or later. */
  listHashesBefore(at: Instant): Promise<readonly string[]>;
  /** Those that a rider handed over, and those of nobody in particular that turned out to be the rider’s. */
  listOfRider(riderId: string): Promise<readonly FileRow[]>;
  /** Puts one name in the place of all that a rider's files had. */
  renameArrivals(riderId: string, name: string): Promise<void>;
}

export interface ReadingRow {
  readonly id: string;
  readonly fileId: string;
  readonly part: number;
  readonly reading: Reading;
}

export interface ReadingTable {
  add(fileId: string, part: number, reading: Reading): Promise<ReadingRow>;
  listOfFile(fileId: string): Promise<readonly ReadingRow[]>;
  getMany(ids: readonly string[]): Promise<readonly ReadingRow[]>;
  listIds(): Promise<readonly string[]>;
}

/** A ride as stored: derived from readings or, with source `hand`, from hours that somebody entered. */
export interface RideRow extends Ride {
  readonly source: 'recorded' | 'hand';
  /** Day of its start in the workshop's zone. */
  readonly day: Day | null;
}

/** Where one reading went, and whose and when it is by itself. */
export interface RidePart extends OwnPlace {
  readonly readingId: string;
  readonly rideId: string;
  /** The bike that a person named for it. */
  readonly namedBikeId: string | null;
}

/** What a ride gives to the hours. */
export type RideHoursRow = Pick<RideRow, 'id' | 'source' | 'bikeId' | 'start' | 'movingS' | 'terrainMs'>;

export interface RideTable {
  find(id: string): Promise<RideRow | undefined>;
  /** The recorded rides that hold any of these readings. */
  listOfReadings(readingIds: readonly string[]): Promise<readonly RideRow[]>;
  /** The readings that by themselves are this rider's or on this bike, and touch the window. */
  listNear(
    whose: { readonly riderId: string | null; readonly bikeId: string | null },
    from: Instant,
    to: Instant,
  ): Promise<readonly string[]>;
  /** Rides that count, on a bike, in order of start. */
  listCounted(bikeId: string, from?: Instant): Promise<readonly RideRow[]>;
  /** The same in a fraction of the time and memory, with what is needed to count hours. */
  listCountedHours(bikeId: string, from?: Instant, until?: Instant): Promise<readonly RideHoursRow[]>;
  /** The latest that count on a bike and started in a time, newest first. */
  listLatestCounted(
    bikeId: string,
    of: { readonly from: Instant; readonly until: Instant; readonly most: number },
  ): Promise<readonly RideRow[]>;
  listCountedOfRider(riderId: string, from: Instant): Promise<readonly RideRow[]>;
  listLatestOfRider(riderId: string, most: number): Promise<readonly RideRow[]>;
  /** When the latest counted ones began, the last first. */
  listLatestStartsOfRider(riderId: string, most: number): Promise<readonly Instant[]>;
  lastStartOfRider(riderId: string): Promise<Instant | null>;
  /** What waits for a person's word. */
  listAsking(): Promise<readonly RideRow[]>;
  countAsking(): Promise<number>;
  list(): Promise<readonly RideRow[]>;
  /** The recorded rides of these riders or on these bikes, whenever they were. */
  listOf(whose: {
    readonly riderIds: readonly string[];
    readonly bikeIds: readonly string[];
  }): Promise<readonly RideRow[]>;
  /** All rides in order of id, at most so many after the one named. */
  page(afterId: string, most: number): Promise<readonly RideRow[]>;
  put(rides: readonly RideRow[], parts?: readonly RidePart[]): Promise<void>;
  /** Rides that are there, of which only what they weigh or their day is other than before. */
  reweigh(rides: readonly RideRow[]): Promise<void>;
  /** Where these readings went; all of them where none are named. */
  listParts(readingIds?: readonly string[]): Promise<readonly RidePart[]>;
  /** The readings that carry a sensor and whose bike a person named, as settled. */
  listConfirmations(
    sensorIds: readonly string[],
  ): Promise<readonly (SensorConfirmation & { readonly sensorId: string })[]>;
  /** The readings that carry a sensor and whose bike nobody named, as settled. */
  listCarrying(
    sensorIds: readonly string[],
  ): Promise<readonly { readonly readingId: string; readonly start: Instant; readonly sensorId: string }[]>;
  remove(ids: readonly string[]): Promise<void>;
}

export interface StandingRow extends Standing {
  /** Until when the hours alone will be reached; the months stand in `likely`. */
  readonly forecast: Pick<HoursForecast, 'likely' | 'weeksOfRides'> & Partial<HoursForecast>;
  /** Facts changed since the forecast was made. */
  readonly stale: boolean;
}

export interface StandingTable {
  list(): Promise<readonly StandingRow[]>;
  listOf(unitId: string): Promise<readonly StandingRow[]>;
  listOfMany(unitIds: readonly string[]): Promise<readonly StandingRow[]>;
  /** The units of which anything is in one of these states. */
  listUnitsIn(states: readonly State[]): Promise<readonly string[]>;
  /** Those in a list of what is due: pressing states first, then by likely date, hours left and tag; a part of them. */
  page(of: {
    readonly states: readonly State[];
    readonly from: number;
    readonly most: number;
  }): Promise<readonly StandingRow[]>;
  /** How many are in each state, and as of when the oldest is. */
  summary(): Promise<{ readonly counts: ReadonlyMap<State, number>; readonly asOf: Instant | null }>;
  /** Replaces all of a unit. */
  put(unitId: string, standings: readonly StandingRow[]): Promise<void>;
  /** Units whose forecast is stale, or not of the day between the two moments; at most so many. */
  listUnitsToRefresh(dayStart: Instant, dayEnd: Instant, most: number): Promise<readonly string[]>;
  markStale(unitIds: readonly string[]): Promise<void>;
}

export interface NoticeRow extends NoticeKey {
  readonly id: string;
  readonly mailId: string;
  readonly decidedAt: Instant;
  readonly withdrawnAt: Instant | null;
  /** False once it was withdrawn before anybody tried to send it. */
  readonly keepsPlace: boolean;
  /** Since when the reason of a sent one is gone. */
  readonly lapsedAt: Instant | null;
}

export interface NoticeTable {
  list(): Promise<readonly NoticeRow[]>;
  find(id: string): Promise<NoticeRow | undefined>;
  listOfMail(mailId: string): Promise<readonly NoticeRow[]>;
  /** Returns false when a notice with that key holds its place already. */
  add(notice: NoticeKey & Pick<NoticeRow, 'mailId' | 'decidedAt'>): Promise<boolean>;
  /** A withdrawn notice that nobody tried to send frees its place. */
  withdraw(id: string, at: Instant, freesPlace: boolean): Promise<void>;
  lapse(id: string, at: Instant): Promise<void>;
}

export const MAIL_STATES = ['waiting', 'handed-over', 'withdrawn', 'refused'] as const;
export type MailState = (typeof MAIL_STATES)[number];

export interface MailRow extends MailSlot {
  readonly id: string;
  readonly messageId: string;
  readonly to: Recipient;
  readonly cause: string;
  readonly state: MailState;
  readonly queuedAt: Instant;
  readonly tries: number;
  readonly nextTryAt: Instant;
  readonly settledAt: Instant | null;
  /** Written once, before the first try, so that every try carries the same mail. */
  readonly written: OutgoingMail | null;
  /** How many notices it tells of as written. */
  readonly told: number | null;
  /** What the relay answered last. */
  readonly answer: string | null;
}

/** What became of a mail, without what is in it. */
export type MailFate = Pick<MailRow, 'id' | 'mail' | 'day' | 'sendAt' | 'state' | 'tries' | 'settledAt'>;

export interface MailTable {
  list(): Promise<readonly MailRow[]>;
  listFates(): Promise<readonly MailFate[]>;
  /** The day of the last one of a kind that was handed over. */
  lastDayOf(kind: MailRow['mail']): Promise<Day | null>;
  listOfKind(kind: MailRow['mail']): Promise<readonly MailRow[]>;
  /** Waiting ones in the order in which they go out, then the others by when they were settled, the latest first. */
  listLatest(of: {
    readonly state?: MailState | undefined;
    readonly most: number;
  }): Promise<readonly MailRow[]>;
  count(): Promise<number>;
  /** Of those refused for good since a moment: how many. */
  countRefused(since: Instant): Promise<number>;
  listTo(recipient: Recipient): Promise<readonly MailRow[]>;
  /** Those to a recipient whose written mail holds one of the texts. */
  listHolding(recipient: Recipient, texts: readonly string[]): Promise<readonly MailRow[]>;
  find(id: string): Promise<MailRow | undefined>;
  /** Of the mails whose time has come and that wait: how many, and since when the oldest. */
  summary(now: Instant): Promise<{ readonly waiting: number; readonly oldestSendAt: Instant | null }>;
  /** The one that may be tried next, which no other worker is given until it is released or the claim runs out. */
  claimNext(now: Instant): Promise<MailRow | undefined>;
  release(id: string): Promise<void>;
  /** The waiting, unwritten one that a notice with this slot goes in. */
  findOpen(slot: Pick<MailRow, 'mail' | 'day' | 'to' | 'cause'>): Promise<MailRow | undefined>;
  add(
    mail: Pick<MailRow, 'messageId' | 'mail' | 'day' | 'sendAt' | 'to' | 'cause' | 'queuedAt' | 'nextTryAt'>,
  ): Promise<MailRow>;
  update(
    id: string,
    change: Partial<
      Pick<
        MailRow,
        'messageId' | 'state' | 'tries' | 'nextTryAt' | 'settledAt' | 'written' | 'told' | 'answer'
      >
    >,
  ): Promise<void>;
}

/** A lead with what the bench and the calendar need. */
export interface LeadRow extends Lead {
  readonly benchMinutes: number;
  readonly madeAt: Instant;
  readonly changedBy: string;
  /** A random UUID, the same through all its days. */
  readonly calendarUid: string;
  /** Rises with each change of its day. */
  readonly calendarSequence: number;
}

export interface LeadTable {
  list(states?: readonly LeadState[]): Promise<readonly LeadRow[]>;
  listOfUnit(unitId: string): Promise<readonly LeadRow[]>;
  find(id: string): Promise<LeadRow | undefined>;
  /** Errors: the store's own where the unit has a live one. */
  add(
    lead: LeadOffer & Pick<LeadRow, 'state' | 'day' | 'benchMinutes' | 'madeAt' | 'changedBy'>,
  ): Promise<LeadRow>;
  update(
    id: string,
    change: Partial<Omit<LeadRow, 'id' | 'unitId' | 'madeAt' | 'calendarUid'>>,
  ): Promise<void>;
  remove(id: string): Promise<void>;
  listLater(unitId?: string): Promise<readonly Later[]>;
  /** The last word about a unit counts. */
  putLater(later: Later): Promise<void>;
  /** Of the secret address of the bookings' calendar. */
  feedEpoch(): Promise<number>;
  renewFeed(): Promise<void>;
}

export const ROLES = ['owner', 'technician', 'mechanic'] as const;
export type Role = (typeof ROLES)[number];

export interface Account {
  readonly id: string;
  readonly name: string;
  readonly passwordHash: string;
  readonly role: Role;
  /** The fleet that a mechanic looks after; null for the others. */
  readonly fleetId: string | null;
}

export interface Session {
  /** SHA-256 of the secret in the cookie; the secret itself is nowhere. */
  readonly tokenHash: string;
  readonly accountId: string;
  readonly createdAt: Instant;
  /** Within minutes. */
  readonly usedAt: Instant;
  readonly expiresAt: Instant;
}

export interface AccountTable {
  findByName(name: string): Promise<Account | undefined>;
  find(id: string): Promise<Account | undefined>;
  /** Errors: `refused` when the name is taken. */
  add(account: Omit<Account, 'id' | 'fleetId'> & { readonly fleetId?: string | null }): Promise<Account>;
  /** In order of names. */
  list(): Promise<readonly Account[]>;
  setPassword(id: string, passwordHash: string): Promise<void>;
  /** Its sessions end with it. */
  remove(id: string): Promise<void>;
  addSession(session: Session): Promise<void>;
  findSession(tokenHash: string): Promise<Session | undefined>;
  /** Keeps when a session was used last. */
  useSession(tokenHash: string, at: Instant): Promise<void>;
  removeSession(tokenHash: string): Promise<void>;
  removeSessionsOf(accountId: string): Promise<void>;
}

/** What became of a path in the drop folder, for as long as the file there stays the same. */
export interface InboxRow {
  readonly path: string;
  readonly bytes: number;
  readonly modifiedMs: number;
  /** Another whenever the content, or what the folder means, may be another. */
  readonly stamp: string;
  readonly seenAt: Instant;
  readonly settled: boolean;
  readonly outcome: string | null;
  readonly code: string | null;
  readonly reason: string | null;
}

/** Of all processes that work on the store, on whatever machine. */
export interface HeartbeatTable {
  list(): Promise<readonly Heartbeat[]>;
  /** Says how the loops of this process are; those who said nothing for a week are forgotten. */
  put(loops: readonly LoopPulse[]): Promise<void>;
  /** Said by a process that ends in order. */
  remove(): Promise<void>;
}

export interface InboxTable {
  list(): Promise<readonly InboxRow[]>;
  put(row: InboxRow): Promise<void>;
  remove(paths: readonly string[]): Promise<void>;
}
