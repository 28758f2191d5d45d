const DECIMAL = /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)$/;
const DATE_TIME = /^(-?\d{4,})-(\d\d)-(\d\d)T(\d\d):(\d\d):(\d\d)(\.\d+)?(Z|[+-]\d\d:\d\d)?$/;

/** Returns the number that an xsd:decimal stands for, NaN where it is malformed: no exponent, no comma. */
export function decimalOf(text: string | undefined): number {
  const trimmed = text?.trim() ?? '';
  return DECIMAL.test(trimmed) ? Number(trimmed) : Number.NaN;
}

/**
 * Returns the moment that an xsd:dateTime stands for; one without a zone is read as UTC.
 * Units: whole milliseconds since 1970 UTC, NaN where it is malformed.
 */
export function dateTimeOf(text: string): { ms: number; zoned: boolean } {
  const found = DATE_TIME.exec(text.trim());
  if (found === null) return { ms: Number.NaN, zoned: false };
  const [, year, month, day, hour, minute, second, fraction, zone] = found;
  const days = daysIn(Number(year), Number(month));
  // Hour 24 is the end of a day; second 60 is a leap second, which a receiver may write.
  const inRange =
    Number(day) >= 1 &&
    Number(day) <= days &&
    Number(hour) <= 24 &&
    Number(minute) < 60 &&
    Number(second) <= 60;
  if (!inRange) return { ms: Number.NaN, zoned: false };
  const whole = new Date(0).setUTCFullYear(Number(year), Number(month) - 1, Number(day));
  const inDay = (Number(hour) * 60 + Number(minute) - minutesAhead(zone)) * 60 + Number(second);
  return { ms: Math.round(whole + (inDay + Number(fraction ?? 0)) * 1000), zoned: zone !== undefined };
}

function minutesAhead(zone: string | undefined): number {
  if (zone === undefined || zone === 'Z') return 0;
  const minutes = Number(zone.slice(1, 3)) * 60 + Number(zone.slice(4));
  return zone.startsWith('-') ? -minutes : minutes;
}

/** 0 where there is no such month. */
function daysIn(year: number, month: number): number {
  if (month < 1 || month > 12) return 0;
  return new Date(new Date(0).setUTCFullYear(year, month, 0)).getUTCDate();
}
