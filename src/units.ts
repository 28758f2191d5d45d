/** Branded numbers, so that a second is never added to a metre; the only place that converts between units. */

declare const unit: unique symbol;
type Branded<Base, Name extends string> = Base & { readonly [unit]: Name };

/** A moment. Units: whole milliseconds since 1970-01-01T00:00:00Z. */
export type Instant = Branded<number, 'instant'>;
/** A calendar day of the workshop's zone. Shape: `YYYY-MM-DD`. */
export type Day = Branded<string, 'day'>;
/** A moment as it was said. Shape: ISO 8601 in UTC, or a day of the workshop's zone, which is its start. */
export type Moment = Branded<string, 'moment'> | Day;
/** Whole seconds. Sums of them do not depend on order. */
export type Seconds = Branded<number, 's'>;
/** Whole thousandths of a second: terrain time, which is moving time times a weight. */
export type Thousandths = Branded<number, 'ms'>;

export const SECOND_MS = 1000;
export const MINUTE_MS = 60_000;
export const HOUR_MS = 3_600_000;
export const DAY_MS = 86_400_000;

export const instant = (ms: number): Instant => Math.round(ms) as Instant;
export const seconds = (s: number): Seconds => Math.round(s) as Seconds;
export const thousandths = (ms: number): Thousandths => Math.round(ms) as Thousandths;
export const day = (text: string): Day => text as Day;
export const moment = (text: string): Moment => text as Moment;

/** Returns the moment as ISO 8601 in UTC, without a fraction when it has none. */
export const isoTime = (at: Instant): Moment => moment(new Date(at).toISOString().replace('.000Z', 'Z'));

/** Returns hours with four decimals, so that the whole second can be read back. */
export const hoursOfSeconds = (s: number): number => Math.round((s / 3600) * 10_000) / 10_000;
export const hoursOfThousandths = (ms: number): number => hoursOfSeconds(ms / 1000);
export const secondsOfHours = (h: number): Seconds => seconds(h * 3600);
export const secondsOfMinutes = (min: number): Seconds => seconds(min * 60);
export const thousandthsOfHours = (h: number): Thousandths => thousandths(h * HOUR_MS);
export const secondsOfMs = (ms: number): Seconds => seconds(ms / SECOND_MS);
/** Milliseconds of so many seconds, whole or not. */
export const msOf = (s: number): number => s * SECOND_MS;
/** Seconds in so many milliseconds, whole or not. */
export const secondsIn = (ms: number): number => ms / SECOND_MS;
export const minutesIn = (s: number): number => s / 60;

export const DAY_MINUTES = 1440;
export const minutesOfHours = (h: number): number => h * 60;

export const KILOMETRE_M = 1000;
export const kilometresIn = (m: number): number => m / KILOMETRE_M;
export const metresOfKm = (km: number): number => km * KILOMETRE_M;
/** Kilometres an hour in one metre a second. */
export const KMH_IN_MPS = 3.6;
