/** The words of the trade as tokens; files, tables, commands and pages use the same ones. */

export const UNIT_KINDS = ['fork', 'air-shock', 'coil-shock'] as const;
export type UnitKind = (typeof UNIT_KINDS)[number];

export const BIKE_TYPES = ['road', 'gravel', 'trail', 'gravity', 'other'] as const;
export type BikeType = (typeof BIKE_TYPES)[number];

/** What carries a unit: a fork may have either; shocks say it by their kind. */
export const SPRINGS = ['air', 'coil'] as const;
export type Spring = (typeof SPRINGS)[number];

/** What a photograph shows. */
export const PHOTO_SUBJECTS = ['rings', 'oil', 'seals', 'stanchions', 'damage', 'other'] as const;
export type PhotoSubject = (typeof PHOTO_SUBJECTS)[number];

/** Why what was sent as a photograph is none that can be kept. */
export const PHOTO_FAULTS = ['no-picture', 'heic', 'too-many-pixels', 'broken', 'too-slow', 'busy'] as const;
export type PhotoFault = (typeof PHOTO_FAULTS)[number];

/** One of the built-in kinds, or one that the workshop added. */
export type ServiceKind = string;

/** Where a service was done. */
export const DONE_BY = ['here', 'another-workshop', 'at-home'] as const;
export type DoneBy = (typeof DONE_BY)[number];

/** How a unit left for good. */
export const GONE_WAYS = ['sold', 'retired', 'stolen', 'returned'] as const;
export type GoneWay = (typeof GONE_WAYS)[number];
/** The same, and that it came back. */
export const GOINGS = [...GONE_WAYS, 'back'] as const;
export type Going = (typeof GOINGS)[number];

export const STATES = [
  'stop-riding',
  'on-the-bench',
  'history-unknown',
  'over-interval',
  'due',
  'coming-up',
  'in-time',
] as const;
export type State = (typeof STATES)[number];

export const LIMITS = ['terrain-hours', 'moving-hours', 'months', 'none'] as const;
export type Limit = (typeof LIMITS)[number];

export const BIKE_RULES = [
  'chosen',
  'subfolder',
  'sensor',
  'profile',
  'ride-type',
  'only-suspended',
  'usual',
] as const;
export type BikeRule = (typeof BIKE_RULES)[number];

/** By what it is known whose a file is. */
export type RiderRule = 'chosen' | 'folder' | 'link' | 'recorder';

/** By which way files come: the drop folder, the rider's own page, a mail, a cable at the workshop, a command. */
export type FileWay = 'folder' | 'page' | 'mail' | 'cable' | 'command';

export const INTERVAL_RULES = ['unit', 'model', 'fleet', 'kind'] as const;
export type IntervalRuleName = (typeof INTERVAL_RULES)[number];

export const OCCASIONS = [
  'first',
  'repeat',
  'again',
  'silence',
  'confirm-address',
  'call-rider',
  'invitation',
] as const;
export type Occasion = (typeof OCCASIONS)[number];

export const GROUNDS = ['smooth', 'typical', 'rough'] as const;
export type Ground = (typeof GROUNDS)[number];

export const WEEKDAYS = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const;
export type Weekday = (typeof WEEKDAYS)[number];

/** Where hours come from; the last two are estimates. */
export const HOUR_SOURCES = ['recorded', 'by-hand', 'unrecorded', 'declared'] as const;
export type HourSource = (typeof HOUR_SOURCES)[number];

/** What became of a file. */
export type TakeOutcome =
  | 'counted'
  | 'counted-already'
  | 'counts-now'
  | 'joined'
  | 'moved'
  | 'kept-only'
  | 'ask'
  | 'no-ride'
  | 'set-aside';

/** The steps of a unit's stay at the workshop, in their usual order. */
export const JOB_STEPS = [
  'arrived',
  'on-the-bench',
  'waits-for-parts',
  'done',
  'informed',
  'collected',
] as const;
export type JobStep = (typeof JOB_STEPS)[number];

/**
 * The steps of a booking. `declined`: not on that day, with others offered. `not-wanted`: not in this service period.
 * `withdrawn`: its rider let go of it. `missed`: it did not come. `ended`: nobody said for a week whether it came.
 */
export const BOOKING_STEPS = [
  'asked-for',
  'booked',
  'declined',
  'not-wanted',
  'withdrawn',
  'missed',
  'ended',
  'done',
] as const;
export type BookingStep = (typeof BOOKING_STEPS)[number];

/** How a rider was told that a unit can be collected. */
export const INFORMED_BY = ['mail', 'call'] as const;
export type InformedBy = (typeof INFORMED_BY)[number];

/** Why a unit is inspected: it crashed or is in doubt, or nobody knows its history. */
export const INSPECTION_CAUSES = ['crash', 'history'] as const;
export type InspectionCause = (typeof INSPECTION_CAUSES)[number];

/** What comes of looking after a crash. */
export const INSPECTION_RESULTS = ['ride', 'repair', 'replace'] as const;
export type InspectionResult = (typeof INSPECTION_RESULTS)[number];

/** What a second pair of eyes may be asked to see at a service. */
export const SECOND_LOOKS = ['oil', 'torques', 'pressure'] as const;
export type SecondLook = (typeof SECOND_LOOKS)[number];

/** Why a job came back after a service here. */
export const COMEBACK_CAUSES = ['seal', 'part', 'set-up', 'rider'] as const;
export type ComebackCause = (typeof COMEBACK_CAUSES)[number];

/** The steps of a claim under warranty; the last two are its answer. */
export const CLAIM_STEPS = ['opened', 'sent', 'granted', 'refused'] as const;
export type ClaimStep = (typeof CLAIM_STEPS)[number];

/** The same as people are told it. */
export type ToldOutcome = TakeOutcome | 'indoors';

/** The formats of ride files that are read. */
export const RIDE_FORMATS = ['fit', 'gpx', 'tcx'] as const;
export type RideFormat = (typeof RIDE_FORMATS)[number];

/** Why a reading needs a person's word before it counts. */
export const READING_QUESTIONS = [
  'no-times',
  'clock-unset',
  'clock-future',
  'too-sparse',
  'sport-unclear',
  'vehicle',
  'climbs',
] as const;
export type ReadingQuestion = (typeof READING_QUESTIONS)[number];

/** What a person is asked about a recording. */
export type Question =
  | ReadingQuestion
  | 'who'
  | 'which-bike'
  | 'same-ride-shifted'
  | 'same-ride-unclear'
  | 'not-in-file'
  | 'two-places';

/** A clause of why a ride has its weight. */
export type ExplanationCode =
  | 'smooth'
  | 'below-typical'
  | 'typical'
  | 'above-typical'
  | 'rough'
  | 'good'
  | 'fair'
  | 'poor'
  | 'none'
  | 'noisy'
  | 'receiver'
  | 'unseen'
  | 'wet'
  | 'landed'
  | 'landings'
  | 'lift'
  | 'vehicle';

/** What is wrong with a name for people, folders and addresses. */
export type HandleFault = 'spaces' | 'signs' | 'dot';

/** Why no mail reaches a rider: there is no address, it is unconfirmed or takes none, reminders were stopped, or enough went. */
export type CallReason = 'no-address' | 'unconfirmed' | 'refused' | 'unsubscribed' | 'told-twice';

/** What became of a booking; `declined`: a day asked for that cannot be. */
export const BOOKING_CHANGES = ['booked', 'moved', 'cancelled', 'done', 'declined'] as const;
export type BookingChange = (typeof BOOKING_CHANGES)[number];

/** How a rider lets go of a day: of one asked for, of one booked, or of one that went by and on which nothing came. */
export const DAYS_LET_GO = ['withdrawn', 'cancelled', 'missed'] as const;
export type DayLetGo = (typeof DAYS_LET_GO)[number];

/** Why a link is mailed: in place of one that is too old, or to the rider's own page for the first time. */
export type LinkReason = 'fresh' | 'first';

/** When a unit was set so: read before it was opened, when it was handed over, or kept to be set again. */
export const SET_UP_STAGES = ['came', 'left', 'kept'] as const;
export type SetUpStage = (typeof SET_UP_STAGES)[number];

/** What came of an invitation into a quiet week. */
export const INVITED_OUTCOMES = ['done', 'booked', 'not-now', 'to-call', 'told', 'waits'] as const;
export type InvitedOutcome = (typeof INVITED_OUTCOMES)[number];

/** What a rider said of a job that changed on the bench. */
export type JobAnswer = 'asked' | 'yes' | 'not-now';
/** On the own page, or to somebody who called. */
export type AnsweredBy = 'rider' | 'phone';

/** The steps of a job that a rider does at home: chosen, its kit picked up, done, or not wanted after all. */
export const HOME_STEPS = ['chosen', 'picked-up', 'done', 'not-wanted'] as const;
export type HomeStep = (typeof HOME_STEPS)[number];

/** What somebody at the counter says of a job at home. */
export const KIT_WORDS = ['picked-up', 'not-wanted', 'called'] as const;
export type KitWord = (typeof KIT_WORDS)[number];

/** What is done in a job at home, step by step. */
export const HOME_DEEDS = [
  'wash',
  'off-bike',
  'nuts-back',
  'lowers-off',
  'can-off',
  'clean',
  'soak-rings',
  'fit-seals',
  'oil-in',
  'grease-in',
  'lowers-on',
  'can-on',
  'nuts-tight',
  'pressure-in',
  'mounts-tight',
  'on-bike',
] as const;
export type HomeDeed = (typeof HOME_DEEDS)[number];
