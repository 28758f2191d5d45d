import type { Day } from '../../units.js';

const DAYS_IN_400_YEARS = 146_097;

/**
 * Returns the day as a count of days since 1970-01-01, for arithmetic that must be fast.
 * Source: the proleptic Gregorian calendar, years taken to begin in March so that the leap day comes last.
 */
export const dayNumber = (of: Day): number => {
  const month = Number(of.slice(5, 7));
  const year = Number(of.slice(0, 4)) - (month <= 2 ? 1 : 0);
  const era = Math.floor(year / 400);
  const yearOfEra = year - era * 400;
  const dayOfYear = Math.floor((153 * (month + (month > 2 ? -3 : 9)) + 2) / 5) + Number(of.slice(8, 10)) - 1;
  const leapDays = Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100);
  return era * DAYS_IN_400_YEARS + yearOfEra * 365 + leapDays + dayOfYear - 719_468;
};

/** Returns the day that is so many days after 1970-01-01. */
export const dayOfNumber = (count: number): Day => {
  const shifted = count + 719_468;
  const era = Math.floor(shifted / DAYS_IN_400_YEARS);
  const dayOfEra = shifted - era * DAYS_IN_400_YEARS;
  const yearOfEra = Math.floor(
    (dayOfEra -
      Math.floor(dayOfEra / 1460) +
      Math.floor(dayOfEra / 36_524) -
      Math.floor(dayOfEra / 146_096)) /
      365,
  );
  const dayOfYear = dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const monthFromMarch = Math.floor((5 * dayOfYear + 2) / 153);
  const dayOfMonth = dayOfYear - Math.floor((153 * monthFromMarch + 2) / 5) + 1;
  const month = monthFromMarch < 10 ? monthFromMarch + 3 : monthFromMarch - 9;
  const year = era * 400 + yearOfEra + (month <= 2 ? 1 : 0);
  const padded = (n: number, width: number): string => String(n).padStart(width, '0');
  return `${padded(year, 4)}-${padded(month, 2)}-${padded(dayOfMonth, 2)}` as Day;
};

/** Returns the day that a text names, or null where it is not `YYYY-MM-DD` or there is no such day. */
export function parseDay(text: string): Day | null {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text)) return null;
  const day = text as Day;
  return dayOfNumber(dayNumber(day)) === day ? day : null;
}
