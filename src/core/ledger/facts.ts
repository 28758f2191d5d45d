/** The facts of the ledger by kind: what was said, by whom and when. None is edited; a correction replaces one. */
import type { Day, Instant, Moment } from '../../units.js';
import type {
  AnsweredBy,
  BikeType,
  BookingStep,
  ClaimStep,
  ComebackCause,
  DoneBy,
  Going,
  Ground,
  HomeStep,
  InformedBy,
  InspectionCause,
  InspectionResult,
  JobAnswer,
  JobStep,
  PhotoSubject,
  SecondLook,
  ServiceKind,
  SetUpStage,
  Spring,
  State,
  UnitKind,
  Weekday,
} from '../tokens.js';
import type { FormerFleet } from './bikeFleet.js';
import type { UnitHistory, Weights } from './ledger.js';

/** As the workshop typed it; null where it said nothing. */
export interface JobOffer {
  readonly unitKind: UnitKind;
  readonly serviceKind: ServiceKind;
  readonly price: string | null;
  readonly turnaround: string | null;
}

/** How long a job takes on this workshop's bench. */
export interface JobMinutes {
  readonly unitKind: UnitKind;
  readonly serviceKind: ServiceKind;
  readonly minutes: number;
}

/** Somebody who works at the bench. */
export interface BenchPerson {
  readonly name: string;
  readonly days: readonly Weekday[];
  readonly minutesADay: number;
  /** Days of theirs on which they do not come. */
  readonly off: readonly Day[];
}

/** A job on a model that riders may do at home. */
export interface HomeJob {
  readonly unitKind: UnitKind;
  readonly serviceKind: ServiceKind;
  readonly model: string;
  /** When to stop and bring it, a line each, as the workshop typed it; empty where it said nothing. */
  readonly stopHere: string;
}

/** A line of the workshop's own in mails to riders, as typed; null for none. */
export interface OwnLines {
  readonly reminder: string | null;
  readonly booking: string | null;
  readonly ready: string | null;
}

export interface WorkshopFact {
  readonly handle: string;
  readonly name: string;
  readonly timeZone: string;
  readonly openDays: readonly Weekday[];
  readonly digestHour: number;
  readonly noticeDays: number;
  readonly language: string;
  readonly email: string | null;
  readonly phone: string | null;
  readonly address: string | null;
  readonly openingHours: string | null;
  /** Services that may be booked in a week; left out or null for no bound but the minutes. */
  readonly placesAWeek?: number | null;
  /** Left out: the default. */
  readonly benchMinutesADay?: number;
  readonly closedDays?: readonly Day[];
  /** Of riders who are reminded, how many come, from 0 to 1; left out: the default. */
  readonly responseShare?: number;
  /** Open days before a race by which its services are done; left out: the default. */
  readonly raceOpenDays?: number;
  /** The day from which reminders go; null while they rest. Left out: nobody said, in a store from before the rule. */
  readonly remindersFrom?: Day | null;
  /** What mails say of a job's price and how long the bike stands. */
  readonly offers?: readonly JobOffer[];
  /** What jobs take here; what is not named takes its default. */
  readonly jobMinutes?: readonly JobMinutes[];
  /** Left out or nobody: the bench has the same minutes on each open day. */
  readonly people?: readonly BenchPerson[];
  readonly ownLines?: OwnLines;
  /** What a second pair of eyes is asked to see at a service; left out: nothing. */
  readonly secondLook?: readonly SecondLook[];
  /** What riders may do at home; left out: nothing. */
  readonly homeJobs?: readonly HomeJob[];
}

export interface BikeFact {
  readonly handle: string;
  readonly riderId: string | null;
  readonly fleetId: string | null;
  /** Fleets that it was of before, oldest first; left out: none. */
  readonly formerFleets?: readonly FormerFleet[];
  readonly name: string;
  readonly type: BikeType;
  /** Whether a motor helps; left out: no. */
  readonly motor?: boolean;
  /** The day on which its rider sold it; left out or null: it is there. */
  readonly sold?: Day | null;
  /** From this day on its rider's rides are on it, where nothing else tells; left out or null: no. */
  readonly usual?: Day | null;
}

export interface FleetFact {
  readonly handle: string;
  readonly name: string;
  /** What its truck always carries; left out: nothing. */
  readonly spares?: readonly UsedPart[];
}

/** Units: hours that each bike is expected to be ridden in practice and in the race. */
export interface RaceFact {
  readonly handle: string;
  readonly name: string;
  readonly on: Day;
  readonly bikeIds: readonly string[];
  readonly practiceHours: number;
  readonly raceHours: number;
}

export const MEASURES = ['pieces', 'ml'] as const;
export type Measure = (typeof MEASURES)[number];

/** What a service kind takes for a unit: one part, or so much of an oil, as the workshop typed it. */
export interface PartFact {
  readonly unitKind: UnitKind;
  readonly serviceKind: ServiceKind;
  /** Null for every model that has no rows of its own. */
  readonly model: string | null;
  readonly part: string;
  readonly count: number;
  readonly measure: Measure;
}

/** How much of a part lies on the shelf, as somebody counted it. */
export interface ShelfFact {
  readonly part: string;
  readonly count: number;
  /** Days from order to delivery. */
  readonly deliveryDays: number;
  /** Tells a later count from an earlier one that found as many. */
  readonly countedOn: Day | null;
}

/** What the maker's manual says about a model and year, or differs for one unit, as people typed it. */
export interface SheetFact {
  readonly unitKind: UnitKind;
  /** Of a fork; left out: air. */
  readonly spring?: Spring;
  /** A model, of every year or of one; or one unit alone. */
  readonly scope: {
    readonly model: string | null;
    readonly modelYear: number | null;
    readonly unitId: string | null;
  };
  /** Of the manual. */
  readonly edition: string | null;
  /** By the names of core/ledger/sheet.ts, whatever stands in the manual. */
  readonly values: Readonly<Record<string, string>>;
  readonly typedBy: string;
  /** Who held it against the manual, another than who typed it; null until then. */
  readonly checkedBy: string | null;
}

export interface UnitFact {
  readonly tag: string;
  readonly unitKind: UnitKind;
  /** Of a fork; left out: air. */
  readonly spring?: Spring;
  readonly model: string | null;
  readonly serial: string | null;
  readonly warrantyEnd: Day | null;
  readonly factor: number;
  readonly history: UnitHistory;
  /** Whose it is while it is on no bike; left out: of the bike that it was on last. */
  readonly riderId?: string;
  /** As typed from the maker's manual, like the two below; left out where nobody did. */
  readonly travelMm?: number;
  readonly modelYear?: number;
  /** Oils, volumes, torques, pressures: name and value, whatever the workshop typed. */
  readonly spec?: Readonly<Record<string, string>>;
}

export interface FittingFact {
  readonly unitId: string;
  readonly bikeId: string;
  readonly from: Moment;
  readonly to: Moment | null;
  /** On loan, to come back on that day; left out: it is there to stay. */
  readonly loanUntil?: Day;
}

/** The fleet that a unit belongs to from a day on, whatever bike it is on; null for none. */
export interface MembershipFact {
  readonly unitId: string;
  readonly fleetId: string | null;
  /** Null for ever since. */
  readonly from: Day | null;
}

/** That a unit left for good on a day, or came back on one. */
export interface GoneFact {
  readonly unitId: string;
  readonly how: Going;
  readonly on: Day;
}

/** What was seen inside by the names of core/findings.ts: `foamRings: "dark"`, `oil: "milky"`. */
export type Findings = Readonly<Record<string, string>>;

/** So much of a part or an oil that went into a unit. */
export interface UsedPart {
  readonly part: string;
  readonly count: number;
  readonly measure: Measure;
}

export interface ServiceFact {
  readonly unitId: string;
  readonly serviceKind: ServiceKind;
  readonly on: Day;
  readonly restarts: readonly ServiceKind[];
  readonly by: DoneBy;
  /** The rider's word for a job that renews more than itself; its clocks run on until the workshop agrees. */
  readonly isClaim?: true;
  readonly findings: Findings | null;
  readonly note: string | null;
  /** Parts and oil, technician and price, as typed; left out where nobody did. */
  readonly parts?: readonly UsedPart[];
  readonly technician?: string;
  readonly price?: string;
}

/** A service kind of the workshop's own; null takes its default. */
export interface ServiceKindFact {
  readonly unitKind: UnitKind;
  readonly name: ServiceKind;
  readonly terrainHours: number | null;
  readonly months: number | null;
  readonly benchMinutes: number | null;
  /** The clocks that it restarts; left out: its own. */
  readonly restarts?: readonly ServiceKind[];
  /** Other kinds that restart its clock, beside the full service. */
  readonly restartedBy?: readonly ServiceKind[];
}

/**
 * Service kinds that a later version of the program brought to a ledger that was there before. Their clocks begin on a
 * day, and a full service from before restarted them too.
 */
export interface ClocksFact {
  readonly on: Day;
  readonly kinds: readonly { readonly unitKind: UnitKind; readonly name: ServiceKind }[];
}

export interface IntervalFact {
  readonly unitKind: UnitKind;
  readonly serviceKind: ServiceKind;
  readonly scope: {
    readonly fleetId: string | null;
    readonly model: string | null;
    readonly unitId: string | null;
  };
  readonly terrainHours: number | null;
  readonly months: number | null;
  /** `default`: 1.0 × the hours under warranty, else 1.5 ×; null: no ceiling. */
  readonly movingHoursCeiling: number | null | 'default';
}

/** Riding without a recorder, entered by hand. */
export interface HoursFact {
  readonly bikeId: string;
  readonly on: Day;
  readonly minutes: number;
  readonly ground: Ground;
  readonly note: string | null;
}

/** So much of all riding on a bike in a time went unrecorded: an estimate. Shape: half open; `to` null for from then on. */
export interface UnrecordedFact {
  readonly bikeId: string;
  readonly from: Day;
  readonly to: Day | null;
  /** From 0 to 1. */
  readonly share: number;
  readonly note: string | null;
}

/** Riding on a bike that nobody records: so many hours a week. Shape: half open days, months from 1 to 12. */
export interface DeclaredFact {
  readonly bikeId: string;
  /** 0: it is ridden no longer. */
  readonly hoursAWeek: number;
  readonly ground: Ground;
  readonly months: readonly number[];
  readonly from: Day;
  /** Null for from then on. */
  readonly to: Day | null;
  /** The day on which somebody last said that it is still so; left out: nobody was asked again. */
  readonly saidOn?: Day;
}

/** A crash mark, set or cleared. */
export interface MarkFact {
  readonly unitId: string;
  readonly stop: boolean;
  readonly why: string;
}

/** What was looked at on a unit after a crash, or because nobody knows its history. */
export interface InspectionFact {
  readonly unitId: string;
  readonly cause: InspectionCause;
  readonly on: Day;
  readonly findings: Findings;
  /** As it stands on the unit; null where nobody read it. */
  readonly serial: string | null;
  /** What comes of it after a crash; null where nothing was to be decided. */
  readonly result: InspectionResult | null;
  /** Who looked, and says so. */
  readonly by: string;
  readonly note: string | null;
}

/** A unit's stay at the workshop: each step takes the place of the one before. Texts as typed; null where nobody did. */
export interface JobFact {
  readonly unitId: string;
  readonly step: JobStep;
  readonly arrivedOn: Day;
  /** What the rider wants. */
  readonly wish: string | null;
  readonly promisedFor: Day | null;
  /** What was promised that it costs. */
  readonly price: string | null;
  /** What is waited for, or did not come with the unit. */
  readonly missing: string | null;
  readonly informedBy: InformedBy | null;
  /** The service here after which it came back, and why, null until that is known. Left out or null: none. */
  readonly comeback?: {
    readonly serviceKind: ServiceKind;
    readonly on: Day;
    readonly cause: ComebackCause | null;
  } | null;
}

/** A claim under warranty: each step takes the place of the one before. Texts as typed; null where nobody did. */
export interface ClaimFact {
  readonly unitId: string;
  readonly step: ClaimStep;
  readonly openedOn: Day;
  readonly what: string;
  readonly sentTo: string | null;
  readonly answer: string | null;
}

/** What a rider says of a service once two rides have come since. */
export interface HeardFact {
  readonly unitId: string;
  readonly serviceKind: ServiceKind;
  readonly on: Day;
  readonly isWell: boolean;
  /** What is wrong, as typed; null where all is well. */
  readonly what: string | null;
}

/** A job that a rider does at home: each step takes the place of the one before. */
export interface AtHomeFact {
  readonly unitId: string;
  readonly serviceKind: ServiceKind;
  /** The service period for which it was chosen. */
  readonly periodId: string;
  readonly riderId: string;
  readonly step: HomeStep;
  readonly chosenOn: Day;
  /** When its kit left the shelf, and what that was; null until then. */
  readonly pickedUp: { readonly at: Instant; readonly parts: readonly UsedPart[] } | null;
  /** The day on which the rider said that it is still to come; null until asked. */
  readonly stillOn: Day | null;
  /** What was logged, through all its corrections; null until then. */
  readonly serviceId: string | null;
  /** The day on which somebody called about a bad answer; null until then. */
  readonly calledOn: Day | null;
}

/** A bike's time out on hire, as a demo or on loan. */
export interface HireFact {
  readonly bikeId: string;
  readonly out: Day;
  /** When it is expected back; null where nobody said. */
  readonly until: Day | null;
  /** Null while it is out, like the days that it was ridden. */
  readonly back: Day | null;
  readonly daysRidden: number | null;
  /** As typed. */
  readonly hoursADay: number;
  readonly ground: Ground;
  readonly note: string | null;
}

/** A photograph of what was seen on a unit. The pictures lie beside the store, by their hashes. */
export interface PhotoFact {
  readonly unitId: string;
  /** The service that it belongs to, through all its corrections; null until one is logged. */
  readonly serviceId: string | null;
  readonly on: Day;
  readonly shows: PhotoSubject;
  /** The picture as this program encoded it, and a small one. Shape: SHA-256 in hex. */
  readonly sha256: string;
  readonly small: string;
  readonly width: number;
  readonly height: number;
  /** It shows a person or a name, and goes with its rider. */
  readonly showsPerson: boolean;
  /** Whose unit it was; null for nobody’s. */
  readonly riderId: string | null;
  readonly takenBy: 'workshop' | 'rider';
}

/** A unit that came to the workshop or left it, as programs from before jobs said it. */
export interface BenchFact {
  readonly unitId: string;
  readonly in: boolean;
}

/** What a booking is for of one unit, and the service period for which it was wanted. */
export interface BookedUnit {
  readonly unitId: string;
  /** The job, which may be a larger one than the one wanted. */
  readonly serviceKind: ServiceKind;
  readonly wanted: ServiceKind;
  /** Other jobs of the unit on the same visit; left out: none. */
  readonly beside?: readonly ServiceKind[];
  readonly periodId: string;
  readonly periodStart: Day | null;
  /** As reckoned when the day was given. */
  readonly benchMinutes: number;
  /** Its service was logged, while others of the visit are to come. */
  readonly isDone?: true;
}

/** One day for one bike, or for units without one: each step takes the place of the one before. */
export interface BookingFact {
  readonly step: BookingStep;
  /** Null for a job that is not wanted, and had no day. */
  readonly day: Day | null;
  readonly bikeId: string | null;
  readonly riderId: string | null;
  readonly units: readonly BookedUnit[];
  /** Other days that were offered in place of one that was declined. */
  readonly offered?: readonly Day[];
  /** What the rider wrote with the wish for a day. */
  readonly wish?: string;
  /** A random UUID, the same through all its days, and the number that it began with. */
  readonly calendar: { readonly uid: string; readonly sequence: number };
}

/** The first day on which a service period came up, and the day to which files were known then. */
export interface ComingUpFact {
  readonly unitId: string;
  readonly serviceKind: ServiceKind;
  readonly periodId: string;
  readonly on: Day;
  readonly knownUpTo: Day;
  /** By when files were expected to tell more; left out by former versions. */
  readonly filesBy?: Day;
}

/** Somebody reached the rider by another way than mail about what a service period had come to. */
export interface ToldFact {
  readonly unitId: string;
  readonly serviceKind: ServiceKind;
  readonly periodId: string;
  readonly state: State;
  /** Of a crash mark: which. */
  readonly markId: string | null;
}

/** A person's word on a recording; only the keys that were answered. */
export interface AnswerFact {
  readonly readingId: string;
  readonly riderId?: string;
  readonly bikeId?: string;
  /** By question: yes, riding and a ride of its own; or no. */
  readonly ride?: Readonly<Record<string, boolean>>;
  readonly on?: Instant;
  readonly minutes?: number;
  /** It was ridden in the wet, or not after all. */
  readonly wet?: boolean;
  /** Which stretches upward were ridden, and which not. Units: milliseconds since the recording's start. */
  readonly climbs?: {
    readonly ridden: readonly (readonly [number, number])[];
    readonly notRidden: readonly (readonly [number, number])[];
  };
  /** By another recording: by how many milliseconds its clock goes behind this one's, and both are one ride; or false. */
  readonly joins?: Readonly<Record<string, number | false>>;
}

/** What a new reader changed: hours of a service period, by unit and service kind. */
export interface RereadChange {
  readonly unitId: string;
  readonly serviceKind: ServiceKind;
  readonly before: { readonly movingS: number; readonly terrainMs: number };
  readonly after: { readonly movingS: number; readonly terrainMs: number };
}

/** That all files that are kept were read again by another reader. */
export interface RereadFact {
  readonly version: number;
  readonly files: number;
  /** Rides that it no longer finds; they wait in the tray. */
  readonly lost: number;
  /** Readings that stay as they were, for their file is there no more. */
  readonly kept: number;
  readonly changes: readonly RereadChange[];
}

/** A job that changed on the bench, and what its rider said of it. Each answer takes the place of the one before. */
export interface JobQuestionFact {
  readonly unitId: string;
  /** Of which stay. */
  readonly arrivedOn: Day;
  /** What it came for; null where nobody said. */
  readonly from: ServiceKind | null;
  readonly to: ServiceKind;
  /** What was seen, as typed. */
  readonly why: string;
  readonly price: string | null;
  readonly day: Day | null;
  readonly answer: JobAnswer;
  /** Null until somebody answered. */
  readonly answeredBy: AnsweredBy | null;
}

/** How a unit is set: as it came, as it left, or a set that is kept for a rider or a track. Texts as typed. */
export interface SetUpFact {
  readonly unitId: string;
  readonly stage: SetUpStage;
  readonly on: Day;
  /** Whose it is, or for where; null for the one in use. */
  readonly name: string | null;
  /** By the names of core/plan/setUp.ts; only what was read. */
  readonly values: Readonly<Record<string, string>>;
}

/** That somebody chose to invite a unit into a quiet week of the bench. */
export interface InvitedFact {
  readonly unitId: string;
  readonly serviceKind: ServiceKind;
  /** What of it falls due first, and in which service period. */
  readonly wanted: ServiceKind;
  readonly periodId: string;
  /** The week. */
  readonly from: Day;
  readonly to: Day;
  /** The first day of the busy months that follow. */
  readonly before: Day;
}

export interface FactBodies {
  invited: InvitedFact;
  setUp: SetUpFact;
  atHome: AtHomeFact;
  jobQuestion: JobQuestionFact;
  workshop: WorkshopFact;
  weights: Weights;
  rider: Record<string, never>;
  fleet: FleetFact;
  bike: BikeFact;
  unit: UnitFact;
  sheet: SheetFact;
  fitting: FittingFact;
  membership: MembershipFact;
  gone: GoneFact;
  serviceKind: ServiceKindFact;
  service: ServiceFact;
  clocks: ClocksFact;
  interval: IntervalFact;
  hours: HoursFact;
  unrecorded: UnrecordedFact;
  declared: DeclaredFact;
  mark: MarkFact;
  inspection: InspectionFact;
  bench: BenchFact;
  job: JobFact;
  photo: PhotoFact;
  claim: ClaimFact;
  hire: HireFact;
  heard: HeardFact;
  booking: BookingFact;
  comingUp: ComingUpFact;
  told: ToldFact;
  race: RaceFact;
  part: PartFact;
  shelf: ShelfFact;
  answer: AnswerFact;
  reread: RereadFact;
}

export type FactKind = keyof FactBodies;

export interface Fact<K extends FactKind = FactKind> {
  readonly id: string;
  /** Order of entry, also within one moment. */
  readonly seq: number;
  /** What the fact is about, the same through all its corrections: a service, a fitting, a unit. */
  readonly entityId: string;
  readonly kind: K;
  readonly body: FactBodies[K];
  readonly recordedAt: Instant;
  /** When the first fact about the entity was recorded. */
  readonly since: Instant;
  readonly recordedBy: string;
  readonly replacesId: string | null;
  readonly isVoid: boolean;
  readonly why: string | null;
}
