import type { BuiltInServiceKind } from '../core/ledger/serviceKinds.js';
import type { Day } from '../units.js';
import { DAY_MS } from '../units.js';
import { ALL, LANGUAGES, type Language } from './all.js';
import type { FileWords } from './fileText.js';
import type { PageTexts, RiderTexts } from './language.js';
import type { MailTexts } from './mailTexts.js';
import type { Terms, Words } from './words.js';

export { LANGUAGES, type Language } from './all.js';
export type { PageTexts, RiderTexts } from './language.js';
export type { MailTexts } from './mailTexts.js';
export type { Words } from './words.js';

/** A range wider than this is told in months: days would claim a precision that is not there. */
const DAYS_TOLD_AS_DAYS = 60;

// A day is written as its midnight in UTC and read back in UTC, so no zone can move it.
const dayMs = (day: Day): number => Date.parse(`${day}T00:00:00Z`);
const yearOf = (day: Day): string => day.slice(0, 4);

const dateFormat = (locale: string, options: Intl.DateTimeFormatOptions): Intl.DateTimeFormat =>
  new Intl.DateTimeFormat(locale, { ...options, timeZone: 'UTC' });

/** Intl sets thin spaces around the dash, which some mail readers show as boxes. */
const plainDash = (range: string): string =>
  range.replace(/[\u2009\u202f\u00a0]/g, ' ').replace(/^(\d{1,2}) – (?=\d)/, '$1–');

const wordsOf = (language: Language, terms: Terms): Words => {
  const { locale } = terms;
  const dayFormat = dateFormat(locale, { day: 'numeric', month: 'long' });
  const datedFormat = dateFormat(locale, { day: 'numeric', month: 'long', year: 'numeric' });
  const weekdayFormat = dateFormat(locale, { weekday: 'long', day: 'numeric', month: 'long' });
  const datedWeekdayFormat = dateFormat(locale, {
    weekday: 'long',
    day: 'numeric',
    month: 'long',
    year: 'numeric',
  });
  const monthFormat = dateFormat(locale, { month: 'long' });
  const datedMonthFormat = dateFormat(locale, { month: 'long', year: 'numeric' });
  const numberFormat = new Intl.NumberFormat(locale, { maximumFractionDigits: 1 });
  const tenthsFormat = new Intl.NumberFormat(locale, { minimumFractionDigits: 1, maximumFractionDigits: 1 });
  const listFormat = new Intl.ListFormat(locale, { type: 'conjunction' });
  const nameFormat = new Intl.DisplayNames(locale, { type: 'language' });
  const plural = new Intl.PluralRules(locale);

  const range = (from: Day, to: Day, today: Day): string => {
    const thisYear = yearOf(from) === yearOf(today) && yearOf(to) === yearOf(today);
    return plainDash((thisYear ? dayFormat : datedFormat).formatRange(dayMs(from), dayMs(to)));
  };
  const monthRange = (from: Day, to: Day, today: Day): string => {
    const thisYear = yearOf(from) === yearOf(today) && yearOf(to) === yearOf(today);
    return plainDash((thisYear ? monthFormat : datedMonthFormat).formatRange(dayMs(from), dayMs(to)));
  };
  const monthName = (month: number): string => monthFormat.format(Date.UTC(2001, month - 1, 1));
  const months = (of: readonly number[]): string => {
    const has = (month: number): boolean => of.includes(((month + 11) % 12) + 1);
    const firsts = of.filter((month) => !has(month - 1));
    const [first] = firsts;
    if (first === undefined) return terms.allYear;
    if (firsts.length > 1 || of.length < 3) return listFormat.format(of.map(monthName));
    return terms.monthsTo(monthName(first), monthName(((first + of.length - 2) % 12) + 1));
  };
  // Adding zero turns a rounded -0 into 0.
  const rounded = (value: number): number => Math.round(value * 10) / 10 + 0;
  const number = (value: number): string => numberFormat.format(rounded(value));
  const tenths = (value: number): string => tenthsFormat.format(rounded(value));

  const hours = (of: number): string => `${number(of)}\u00a0${terms.hourSign}`;
  const serviceKind = (kind: string): string =>
    Object.hasOwn(terms.serviceKind, kind) ? terms.serviceKind[kind as BuiltInServiceKind] : kind;
  const list = (items: readonly string[]): string => listFormat.format(items);

  return {
    ...terms,
    language,
    serviceKind,
    jobs: (kinds) => list(kinds.map(serviceKind)),
    because: ({ hoursLeft, intervalHours, limit }) =>
      terms.nearly(hours(Math.max(0, hoursLeft)), hours(intervalHours), terms.limit[limit]),
    day: (day, today) => (yearOf(day) === yearOf(today) ? dayFormat : datedFormat).format(dayMs(day)),
    weekday: (day, today) =>
      (yearOf(day) === yearOf(today) ? weekdayFormat : datedWeekdayFormat).format(dayMs(day)),
    range,
    about: (from, to, today) => {
      const wide = (dayMs(to) - dayMs(from)) / DAY_MS > DAYS_TOLD_AS_DAYS;
      return terms.about.replace('#', wide ? monthRange(from, to, today) : range(from, to, today));
    },
    months,
    number,
    tenths,
    measured: (of) => `${tenths(of)}\u00a0${terms.hourSign}`,
    hours,
    counted: (count, noun) => {
      const forms = terms.counted[noun];
      return (plural.select(count) === 'one' ? forms.one : forms.other).replace('#', number(count));
    },
    languageName: (tag) => nameFormat.of(languageOf(tag)) ?? tag,
    list,
  };
};

const WORDS: ReadonlyMap<Language, Words> = new Map(
  LANGUAGES.map((language) => [language, wordsOf(language, ALL[language].terms)]),
);

/** What is spoken where a tag asks for none of ours. */
const OTHERWISE: Language = 'en';

const oursOf = (primary: string | undefined): Language | undefined =>
  LANGUAGES.find((one) => one === primary);

/** Returns the language that a tag such as `pt-PT` asks for; English where there is none of ours. */
export const languageOf = (tag: string): Language =>
  oursOf(tag.toLowerCase().split(/[-_]/, 1)[0]) ?? OTHERWISE;

/**
 * Returns the first of our languages that a browser asks for; null where it asks for none of them.
 * Source: RFC 9110 12.5.4.
 */
export function acceptedLanguage(header: string | undefined): Language | null {
  const asked = (header ?? '').split(',').map((one) => {
    const [tag = '', ...rest] = one.split(';').map((part) => part.trim().toLowerCase());
    const weight = rest.find((part) => part.startsWith('q='))?.slice(2) ?? '1';
    return { primary: tag.split('-')[0], weight: Number(weight) || 0 };
  });
  const inOrder = asked.filter(({ weight }) => weight > 0).sort((a, b) => b.weight - a.weight);
  for (const { primary } of inOrder) {
    const ours = oursOf(primary);
    if (ours !== undefined) return ours;
  }
  return null;
}

/** Returns the words of the language that a tag asks for; English where there is none of ours. */
export const wordsFor = (tag: string): Words => WORDS.get(languageOf(tag))!;

export const pageTextsFor = (tag: string): PageTexts => ALL[languageOf(tag)].pages;

export const riderTextsFor = (tag: string): RiderTexts => ALL[languageOf(tag)].rider;

/** What a language says of files, to riders and to the workshop. */
export const fileTextsFor = (tag: string): FileWords => riderTextsFor(tag).own.files;

export const mailTextsFor = (tag: string): MailTexts => ALL[languageOf(tag)].mails;
