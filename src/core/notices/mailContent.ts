/** What a mail tells, before it is put in words. Units: hours. */

import type { Day, Instant } from '../../units.js';
import type { FileTold } from '../fileTold.js';
import type { Likely } from '../ledger/comingUp.js';
import type { SetUpFact } from '../ledger/facts.js';
import type { Interval } from '../ledger/interval.js';
import type { JobNearness } from '../ledger/offer.js';
import type { RemindedState, ToldState } from '../states.js';
import type {
  BookingChange,
  CallReason,
  DayLetGo,
  Ground,
  Limit,
  LinkReason,
  ServiceKind,
  UnitKind,
} from '../tokens.js';
import type { ConfirmContent } from './kinds/confirmAddress.js';
import type { InvitationContent } from './kinds/invitation.js';
import type { SilenceContent } from './kinds/silence.js';
import type { StopContent } from './kinds/stopRiding.js';
import type { Matters, SeenLook } from './matters.js';
import type { MailFrame, MailWorkshop } from './notice/frame.js';
import type { MailKind } from './notice/notice.js';

/** Pages for one item of a reminder. */
export interface ItemLinks {
  readonly askForDay: string;
  readonly alreadyDone: string;
  readonly later: string;
  readonly soldOrStored: string;
}

/** A job that was advised on a day, and why, as typed. */
export interface AdvisedJob {
  readonly job: ServiceKind;
  readonly why: string;
  readonly on: Day;
}

/** One service kind of one unit that a rider is told about. */
export interface ReminderItem {
  readonly bike: string;
  readonly tag: string;
  readonly unitKind: UnitKind;
  readonly model: string | null;
  /** What fell due: the figures are of this kind. */
  readonly serviceKind: ServiceKind;
  /** What is offered: the same, or the larger job that falls due soon too. */
  readonly offered: ServiceKind;
  /** Why the larger job is offered; null where it is wanted itself. */
  readonly because: JobNearness | null;
  readonly state: RemindedState;
  readonly movingHours: number;
  readonly terrainHours: number;
  /** Of the terrain hours what the rider declared; left out: nothing. */
  readonly declaredHours?: number;
  readonly interval: Interval;
  /** First day of the service period, where it is known. */
  readonly since: Day | null;
  /** The day on which the interval's months are up; null where none run. */
  readonly monthsEnd: Day | null;
  readonly limit: Limit;
  /** Terrain hours; negative once over; null where unknown. */
  readonly hoursLeft: number | null;
  /** The middle half of the days on which the interval may be reached. */
  readonly about: { readonly from: Day; readonly to: Day } | null;
  /** Where rides have stopped arriving: the last day that has one. */
  readonly noRidesSince: Day | null;
  readonly price: string | null;
  readonly turnaround: string | null;
  /** Jobs that were advised at an earlier visit and not wanted then; left out: none. */
  readonly advised?: readonly AdvisedJob[];
  readonly links: ItemLinks | null;
}

export interface ReminderRide {
  readonly day: Day;
  readonly bike: string;
  readonly movingHours: number;
  readonly terrainHours: number;
  readonly ground: Ground;
  /** Somebody typed it: no recorder did. */
  readonly isByHand: boolean;
}

/** All of one bike: asked for in one day. */
export interface ReminderBike {
  readonly bike: string;
  /** The most pressing first. */
  readonly items: readonly ReminderItem[];
  /** In order; at most three are shown. */
  readonly freeDays: readonly Day[];
  /** What was declared of it, where it is time to ask whether that is still so. */
  readonly asked?: AskedDeclared | null;
}

/** What a rider declared of a bike, and the page on which to say that it is otherwise. */
export interface AskedDeclared {
  readonly hoursAWeek: number;
  readonly ground: Ground;
  readonly months: readonly number[];
}

export interface ReminderContent extends MailFrame {
  /** The bike that presses most first. */
  readonly bikes: readonly ReminderBike[];
  /** The latest first; at most three are shown. */
  readonly lastRides: readonly ReminderRide[];
  readonly links: {
    readonly wrongBike: string;
    readonly stopMails: string;
    readonly ownPage: string;
  } | null;
}

export interface LinkContent extends MailFrame {
  readonly link: string;
  readonly why: LinkReason;
  /** To which the rider mails rides; null where that is not told. */
  readonly ridesAddress: string | null;
}

/** The bike, unit and job of a booking. */
export interface BookedJob {
  readonly bike: string;
  readonly tag: string;
  readonly unitKind: UnitKind;
  readonly serviceKind: ServiceKind;
  /** Other jobs of the same visit; left out: none. */
  readonly beside?: readonly ServiceKind[];
  /** The day that is booked, or was. */
  readonly day: Day;
}

/** What comes on one visit: a job, and what else of the bike. */
export interface BookedVisit extends BookedJob {
  readonly also: readonly BookedJob[];
}

export interface BookingContent extends MailFrame, BookedVisit {
  readonly change: BookingChange;
  /** Other days that are offered in place of one that was declined. */
  readonly offered: readonly Day[];
  /** Where the rider changes the day, or chooses another; null where there is no such page. */
  readonly link: string | null;
  /** The calendar entry that goes with it, unless the day was declined. */
  readonly calendar: CalendarStamp;
  /** Whose entry it is. */
  readonly organizer: { readonly name: string; readonly address: string };
}

/** One version of a calendar entry. */
export interface CalendarStamp {
  /** The same through all versions. */
  readonly uid: string;
  readonly sequence: number;
  /** When this version was made. */
  readonly stamp: Instant;
}

/** A unit at the workshop is done and can be collected. */
export interface ReadyContent extends MailFrame {
  /** The bike's name; the tag of a unit on none. */
  readonly bike: string;
  readonly tag: string;
  readonly unitKind: UnitKind;
  /** What was done since it arrived. */
  readonly did: readonly ServiceKind[];
  /** As it was promised. */
  readonly price: string | null;
  readonly next: { readonly serviceKind: ServiceKind; readonly day: Day } | null;
}

/** A unit is done: what was found, what was done, hours that day and what comes next. */
export interface FoundContent extends Omit<ReadyContent, 'next'> {
  readonly matters: Matters;
  /** What else was seen, in the order of the work. */
  readonly found: readonly SeenLook[];
  /** How it was set as it was handed over; null where nobody wrote it down. */
  readonly left: SetUpFact['values'] | null;
  /** Of the service that began the ended period to this one; null where nobody knows them. */
  readonly hours: { readonly terrainHours: number; readonly movingHours: number } | null;
  readonly next: { readonly serviceKind: ServiceKind; readonly from: Day; readonly to: Day } | null;
  readonly photos: number;
  readonly links: { readonly page: string; readonly stopMails: string } | null;
}

/** What became of the files that a rider mailed. */
export interface FilesTakenContent extends MailFrame {
  /** That count. */
  readonly rides: number;
  readonly movingHours: number;
  /** By how much the hours of each unit grew. */
  readonly gains: readonly { readonly tag: string; readonly terrainHours: number }[];
  /** Rides that need an answer. */
  readonly asks: number;
  /** What did not count, up to some. */
  readonly others: readonly { readonly file: string; readonly told: FileTold }[];
  readonly more: number;
  /** No file was in it at all. */
  readonly isEmpty: boolean;
  readonly links: { readonly ownPage: string; readonly stopMails: string } | null;
}

/** For the workshop: a rider asks for a day, moves it, or lets it go. */
export interface DayAskedContent extends BookedVisit {
  readonly workshop: MailWorkshop & { readonly language: string };
  readonly today: Day;
  readonly rider: string;
  /** What the rider wrote with it. */
  readonly wish: string | null;
  /** The page with all leads. */
  readonly link: string | null;
  /** The day that was booked before, of one that was moved. */
  readonly was?: Day;
  readonly how?: DayLetGo;
}

/** An entry of the workshop's own calendar; it names no rider. */
export interface FeedEntry extends BookedVisit, CalendarStamp {
  readonly isBooked: boolean;
}

export interface DigestRow {
  /** Null for a bike of nobody in particular. */
  readonly rider: string | null;
  /** Null for a unit in its box. */
  readonly bike: string | null;
  readonly tag: string;
  readonly unitKind: UnitKind;
  readonly serviceKind: ServiceKind;
  readonly state: ToldState;
  readonly movingHours: number;
  readonly terrainHours: number;
  /** Of them what the rider declared; left out: nothing. */
  readonly declaredHours?: number;
  readonly interval: Interval;
  readonly likely: Likely;
  /** Which limit came first, or will. */
  readonly limit: Limit;
  /** The day on which the interval's months are up; null where none run. */
  readonly monthsEnd: Day | null;
  /** Not in an earlier digest in this state. */
  readonly isNew: boolean;
}

/** A call that somebody has to make. */
export interface DigestCall {
  readonly rider: string;
  readonly phone: string | null;
  readonly unit: string;
  readonly serviceKind: ServiceKind;
  readonly state: ToldState;
  readonly reason: CallReason;
}

export interface DigestContent {
  readonly workshop: MailWorkshop & { readonly language: string };
  readonly today: Day;
  readonly rows: readonly DigestRow[];
  readonly lastDigest: Day | null;
  /** Rides and files that wait for a person's word. */
  readonly trayCount: number;
  /** Whom no mail reaches, the most pressing first. */
  readonly toCall: readonly DigestCall[];
  /** The page with the whole list. */
  readonly link: string | null;
}

/** Whether another job may be done on a unit at the workshop. */
export interface JobQuestionContent extends MailFrame {
  readonly bike: string;
  readonly tag: string;
  readonly unitKind: UnitKind;
  readonly from: ServiceKind | null;
  readonly to: ServiceKind;
  readonly why: string;
  readonly price: string | null;
  readonly day: Day | null;
  readonly photos: number;
  /** The page with the two answers. */
  readonly link: string | null;
}

/** What each mail is written from. */
export interface MailContents {
  readonly reminder: ReminderContent;
  readonly digest: DigestContent;
  readonly 'stop-riding': StopContent;
  readonly silence: SilenceContent;
  readonly invitation: InvitationContent;
  readonly 'confirm-address': ConfirmContent;
  readonly booking: BookingContent;
  readonly 'fresh-link': LinkContent;
  readonly 'own-page': LinkContent;
  readonly 'day-asked': DayAskedContent;
  readonly 'day-withdrawn': DayAskedContent;
  readonly 'day-moved': DayAskedContent;
  readonly ready: ReadyContent;
  readonly 'files-taken': FilesTakenContent;
  readonly 'service-told': FoundContent;
  readonly 'job-question': JobQuestionContent;
}

/** A mail before it is put in words. */
export type ToldMail<K extends MailKind = MailKind> = {
  [P in K]: { readonly mail: P; readonly content: MailContents[P] };
}[K];
