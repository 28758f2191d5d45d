import type { BuiltInServiceKind } from '../core/ledger/serviceKinds.js';
import type { RemindedState } from '../core/states.js';
import type { BookingChange, DayLetGo, Limit, LinkReason } from '../core/tokens.js';

/** What a headline speaks of, in words already. */
export interface About {
  readonly bike: string;
  readonly unit: string;
  readonly job: string;
  /** `about 12–20 June`, or null where no date can be told. */
  readonly likely: string | null;
  /** `12 months since 7 December 2025`; empty where there is none to tell. */
  readonly reason: string;
}

/** All that mails say in one language; arguments are words and numbers already written out. */
export interface MailTexts {
  readonly greeting: (name: string) => string;
  /** How to reach the workshop, to end a sentence. */
  readonly contact: (phone: string | null) => string;
  /** The same where a reply reaches nobody, for the workshop has no address. */
  readonly noReply: (phone: string | null) => string;
  readonly phone: (phone: string) => string;
  readonly openingHours: (hours: string) => string;
  readonly stopLink: string;
  readonly stopWithout: (contact: string) => string;
  readonly estimateNote: string;
  readonly cautions: { readonly title: string; readonly items: readonly string[] };

  readonly reminder: {
    readonly subject: Readonly<Record<RemindedState, (about: About) => string>>;
    readonly andMore: (subject: string, more: number) => string;
    readonly headline: Readonly<Record<RemindedState, (about: About) => string>>;
    /** Why it is so, to begin a sentence. */
    readonly reason: {
      readonly months: (months: string, since: string) => string;
      readonly monthsAhead: (months: string, since: string, day: string) => string;
      readonly 'terrain-hours': (used: string, limit: string) => string;
      readonly 'moving-hours': (used: string, limit: string) => string;
    };
    /** What the job is, a sentence a kind. */
    readonly jobs: Readonly<Record<BuiltInServiceKind, string>>;
    readonly bring: string;
    /** Before what each job of several is. */
    readonly theJobs: string;
    readonly byHand: string;
    readonly hoursOf: (terrain: string, moving: string) => string;
    /** Before the way to all that is not asking for a day. */
    readonly somethingElse: string;
    readonly inItsPlace: (job: string, because: string | null) => string;
    readonly noRidesSince: (day: string) => string;
    readonly terrainHours: string;
    readonly movingHours: string;
    /** What was advised on a day and not wanted then. */
    readonly advised: (tag: string, job: string, day: string, why: string) => string;
    /** Of the hours, what nobody recorded. */
    readonly declared: string;
    readonly declaredAll: string;
    readonly stillSo: (bike: string, hours: string, ground: string, months: string) => string;
    readonly stillSoLink: string;
    readonly ofInterval: (hours: string, interval: string) => string;
    readonly ofAtMost: (hours: string, ceiling: string) => string;
    readonly left: (hours: string) => string;
    readonly over: (hours: string) => string;
    readonly countedSince: string;
    readonly atMostMonths: (day: string, months: string) => string;
    readonly comesFirst: string;
    readonly limit: Readonly<Record<Exclude<Limit, 'none'>, string>>;
    readonly price: string;
    readonly turnaround: string;
    /** How long it takes, to end a line. */
    readonly takes: (turnaround: string) => string;
    /** `bike` where all were on the same. */
    readonly lastRides: (bike: string | null) => string;
    /** `where`: the day, with the bike where they differ. */
    readonly ride: (where: string, moving: string, terrain: string, ground: string) => string;
    readonly ownPage: string;
    readonly wrongBike: string;
    readonly wrongBikeWithout: string;
    readonly freeDays: string;
    readonly askForDay: string;
    readonly alreadyDone: string;
    readonly later: string;
    readonly soldOrStored: string;
    readonly withoutLinks: (contact: string) => string;
  };

  readonly digest: {
    readonly subject: (day: string) => string;
    readonly newSince: (count: string, day: string | null) => string;
    readonly nothing: string;
    readonly stopRiding: string;
    readonly byDate: string;
    readonly columns: readonly [string, string];
    readonly now: string;
    readonly noDate: string;
    readonly newMark: string;
    readonly notOnABike: string;
    readonly between: (from: string, to: string) => string;
    readonly hours: (terrain: string, moving: string) => string;
    /** Of a unit whose history nobody knows. */
    readonly declared: (hours: string) => string;
    readonly sinceItCame: (terrain: string, moving: string) => string;
    /** `what`: `terrain hours`, `12 months`. */
    readonly reached: (what: string, day: string) => string;
    readonly monthsUp: (months: string, day: string) => string;
    readonly comesFirst: (what: string) => string;
    readonly dateNote: string;
    readonly toCall: string;
    readonly openList: string;
  };

  readonly confirm: {
    readonly subject: (workshop: string) => string;
    readonly why: (workshop: string) => string;
    readonly otherwise: string;
    readonly link: string;
    readonly withoutLink: (contact: string) => string;
  };

  readonly silence: {
    readonly subject: (day: string) => string;
    readonly resting: (day: string) => string;
    readonly stopped: (contact: string) => string;
    readonly estimates: string;
    readonly link: string;
  };

  /** Into a quiet week of the bench. */
  readonly invitation: {
    readonly subject: (bike: string) => string;
    readonly room: (week: string, month: string) => string;
    readonly job: (bike: string, unit: string, job: string) => string;
    readonly noHurry: string;
    readonly ownPage: string;
  };

  readonly booking: {
    readonly subject: Readonly<Record<BookingChange, (bike: string, day: string) => string>>;
    readonly said: Readonly<Record<BookingChange, (about: About, day: string) => string>>;
    /** Other days in place of one that cannot be. */
    readonly offered: (days: string) => string;
    readonly change: (contact: string) => string;
    /** Onto the page where the rider changes it. */
    readonly changeDay: string;
    readonly otherDay: string;
    readonly calendar: string;
  };

  readonly dayAsked: {
    readonly subject: (rider: string, day: string) => string;
    readonly said: (about: About, rider: string, day: string) => string;
    /** What else of the bike comes on that day. */
    readonly also: (jobs: string) => string;
    /** In the rider's own words. */
    readonly wishes: (wish: string) => string;
    readonly holds: string;
    readonly link: string;
  };

  /** A rider lets go of a day. */
  readonly dayWithdrawn: {
    readonly subject: Readonly<Record<DayLetGo, (rider: string, day: string) => string>>;
    readonly said: Readonly<Record<DayLetGo, (about: About, rider: string, day: string) => string>>;
  };

  /** A rider moved a day that was booked. */
  readonly dayMoved: {
    readonly subject: (rider: string, day: string) => string;
    readonly said: (about: About, rider: string, was: string, day: string) => string;
    readonly holds: string;
  };

  /** A unit at the workshop is done. */
  readonly ready: {
    readonly subject: (bike: string) => string;
    readonly said: (bike: string, unit: string) => string;
    readonly did: (services: string) => string;
    readonly price: (price: string) => string;
    readonly next: (service: string, day: string) => string;
    readonly call: (contact: string) => string;
  };

  /** Whether another job may be done on a unit that is open on the bench. */
  readonly jobQuestion: {
    readonly subject: (bike: string) => string;
    readonly seen: (bike: string, unit: string, why: string) => string;
    readonly advise: (job: string) => string;
    readonly adviseInstead: (job: string, from: string) => string;
    readonly day: string;
    readonly waits: string;
    readonly link: string;
    readonly linkWithPhotos: string;
    readonly call: (contact: string) => string;
  };
  /** What was found at a service; the mail and the page that it leads to say the same. */
  readonly found: {
    readonly subject: (bike: string) => string;
    readonly title: string;
    readonly stop: string;
    readonly stopHow: (contact: string) => string;
    readonly soon: string;
    readonly soonHow: (contact: string) => string;
    readonly seen: string;
    readonly sound: string;
    readonly hours: (terrain: string, moving: string) => string;
    readonly next: (service: string, when: string) => string;
    readonly parts: string;
    readonly setUp: string;
    readonly left: string;
    readonly link: string;
    readonly linkWithPhotos: string;
    readonly later: string;
    readonly stopLink: string;
    readonly stopWithout: (contact: string) => string;
    readonly stopPage: {
      readonly says: string;
      readonly submit: string;
      readonly stopped: string;
      readonly again: string;
      readonly on: string;
    };
    readonly print: string;
    readonly done: (services: string, day: string) => string;
    readonly price: (price: string) => string;
    readonly corrected: string;
  };

  /** The answer to rides that came by mail. */
  readonly filesTaken: {
    readonly subject: (rides: number) => string;
    /** Where rides are mailed to. */
    readonly address: (address: string) => string;
    readonly empty: string;
    readonly counted: (rides: number, moving: string) => string;
    /** Before by how much each unit’s did. */
    readonly grew: string;
    readonly asks: (rides: number) => string;
    readonly answer: string;
    /** Before what became of the other files. */
    readonly others: string;
    readonly more: (files: number) => string;
    readonly stopWithout: (contact: string) => string;
    readonly stop: string;
  };

  readonly stopRiding: {
    /** `bike` as shown; `unit`: its kind. */
    readonly subject: (bike: string, unit: string) => string;
    readonly said: (bike: string, unit: string) => string;
    /** Of a unit in its box. */
    readonly boxed: (unit: string) => string;
    readonly why: (why: string) => string;
    readonly call: (contact: string) => string;
    readonly phone: (phone: string) => string;
    readonly forWorkshop: {
      readonly subject: (whose: string, unit: string) => string;
      readonly said: (whose: string, unit: string) => string;
      readonly told: (rider: string, phone: string | null) => string;
    };
  };

  /** The workshop's calendar of bookings. */
  readonly feed: {
    readonly title: (workshop: string) => string;
    readonly askedFor: (summary: string) => string;
  };

  readonly link: Readonly<
    Record<
      LinkReason,
      {
        readonly subject: (workshop: string) => string;
        readonly said: string;
        readonly label: string;
        readonly otherwise: string;
      }
    >
  >;
}
