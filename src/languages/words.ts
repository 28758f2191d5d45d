import type { BuiltInServiceKind } from '../core/ledger/serviceKinds.js';
import type {
  BikeRule,
  BikeType,
  CallReason,
  DoneBy,
  FileWay,
  GoneWay,
  Ground,
  HandleFault,
  HourSource,
  IntervalRuleName,
  JobStep,
  Limit,
  State,
  UnitKind,
} from '../core/tokens.js';
import type { Day } from '../units.js';
import type { Language } from './all.js';

export const COUNTED_NOUNS = ['day', 'month', 'ride', 'file', 'service', 'unit', 'waiting', 'new'] as const;
type CountedNoun = (typeof COUNTED_NOUNS)[number];

/** What a language supplies as data: a word for each token, and nouns to count by. */
export interface Terms {
  /** What its speakers call it. */
  readonly name: string;
  /** BCP 47, for Intl. */
  readonly locale: string;
  readonly state: Readonly<Record<State, string>>;
  readonly gone: Readonly<Record<GoneWay, string>>;
  readonly jobStep: Readonly<Record<JobStep, string>>;
  readonly unitKind: Readonly<Record<UnitKind, string>>;
  /** A workshop's own kinds are shown as typed. */
  readonly serviceKind: Readonly<Record<BuiltInServiceKind, string>>;
  /** Why no mail reaches a rider. */
  readonly callReason: Readonly<Record<CallReason, string>>;
  readonly doneBy: Readonly<Record<DoneBy, string>>;
  readonly bikeType: Readonly<Record<BikeType, string>>;
  readonly limit: Readonly<Record<Limit, string>>;
  readonly ground: Readonly<Record<Ground, string>>;
  readonly bikeRule: Readonly<Record<BikeRule, string>>;
  /** By which way files come; `before`: nobody noted it yet. */
  readonly way: Readonly<Record<FileWay | 'before', string>>;
  readonly hourSource: Readonly<Record<HourSource, string>>;
  readonly intervalRule: Readonly<Record<IntervalRuleName, string>>;
  /** What is left of a larger job’s hours when a smaller one falls due. */
  readonly nearly: (left: string, of: string, limit: string) => string;
  /** What is wrong with a name, to follow "it". */
  readonly nameFault: Readonly<Record<HandleFault, string>>;
  /** `#` stands for the number. */
  readonly counted: Readonly<Record<CountedNoun, { readonly one: string; readonly other: string }>>;
  /** `#` stands for the range of days. */
  readonly about: string;
  readonly hourSign: string;
  readonly allYear: string;
  /** From a month to another, both with all their days. */
  readonly monthsTo: (from: string, to: string) => string;
}

/** A language's words with its ways to write days, ranges, hours and numbers. */
export interface Words
  extends Omit<Terms, 'serviceKind' | 'counted' | 'about' | 'hourSign' | 'nearly' | 'monthsTo'> {
  readonly language: Language;
  /** Returns the word for a built-in kind, and a workshop's own kind as typed. */
  serviceKind(kind: string): string;
  /** Returns `12 June`, with the year where it is not today's. */
  day(day: Day, today: Day): string;
  /** Returns `Thursday 12 June`, with the year where it is not today's. */
  weekday(day: Day, today: Day): string;
  /** Returns `12–20 June`, with the years where one is not today's. */
  range(from: Day, to: Day, today: Day): string;
  /** Returns `about 12–20 June`; a range of more than two months is given in months. */
  about(from: Day, to: Day, today: Day): string;
  /** Returns a number with at most one decimal. */
  /** Returns months, from 1 to 12, in words: `April to October`. */
  months(months: readonly number[]): string;
  number(value: number): string;
  /** With one decimal always, so that a column of them reads downward. */
  tenths(value: number): string;
  /** Hours that were counted, with one decimal always; hours that somebody set are `hours`. */
  measured(value: number): string;
  /** Returns `41.3 h`. */
  hours(hours: number): string;
  /** Returns why a larger job takes the place of a smaller one, in hours. */
  because(of: { readonly hoursLeft: number; readonly intervalHours: number; readonly limit: Limit }): string;
  /** Returns several jobs in one line. */
  jobs(kinds: readonly string[]): string;
  /** Returns `3 rides`, `1 ride`. */
  counted(count: number, noun: CountedNoun): string;
  /** Returns what a language is called here. */
  languageName(tag: string): string;
  /** Returns `a, b and c`. */
  list(items: readonly string[]): string;
}
