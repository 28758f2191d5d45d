import { z } from 'zod';
import { atHour, dayOf } from '../core/days/calendar.js';
import { parseDay } from '../core/days/dayNumber.js';
import { isLine } from '../core/lines.js';
import type { PageTexts } from '../languages/index.js';
import { DAY_MINUTES, type Day, type Instant, instant, MINUTE_MS, minutesOfHours } from '../units.js';
import type { Viewer } from './viewer.js';

/** One line that a person typed. */
export const lineSchema = z.string().trim().max(300).refine(isLine);

/** A form that cannot be taken, told to the person in the page's words; nothing was changed. */
export class NotTaken extends Error {
  constructor(
    message: string,
    /** The field that it is about. */
    readonly field: string | null = null,
  ) {
    super(message);
  }
}

/** What a form is read with. */
type FormReader = Pick<Viewer, 'texts' | 'today' | 'zone' | 'now'>;

/** Reads fields one by one; the first that cannot be taken stops it with the words for it. */
export class EntryForm<V extends FormReader = Viewer> {
  readonly #texts: PageTexts;
  constructor(
    readonly fields: Readonly<Record<string, string>>,
    readonly viewer: V,
  ) {
    this.#texts = viewer.texts;
  }

  isTicked(name: string): boolean {
    return this.fields[name] === 'yes';
  }

  /** Errors: NotTaken. */
  choice<T extends string>(name: string, choices: readonly T[]): T {
    return (
      choices.find((one) => one === this.fields[name]) ?? this.#refuse(this.#texts.tray.needChoice, name)
    );
  }

  day(name: string): Day {
    const day = parseDay(this.fields[name] ?? '');
    return day !== null && day <= this.viewer.today ? day : this.#refuse(this.#texts.needDay, name);
  }

  /** Returns a day from today on; null where the field was left empty. */
  laterDay(name: string): Day | null {
    if ((this.fields[name] ?? '') === '') return null;
    const day = parseDay(this.fields[name]!);
    return day !== null && day >= this.viewer.today ? day : this.#refuse(this.#texts.hire.needUntil, name);
  }

  /** Returns the moment of a day and a clock time in the workshop's zone. */
  moment(dayName: string, timeName: string): Instant {
    const day = this.day(dayName);
    const [, hour, minute] = /^([01]\d|2[0-3]):([0-5]\d)$/.exec(this.fields[timeName] ?? '') ?? [];
    if (hour === undefined) return this.#refuse(this.#texts.tray.needTime, timeName);
    const at = instant(atHour(day, Number(hour), this.viewer.zone) + Number(minute) * MINUTE_MS);
    return at <= this.viewer.now && dayOf(at, this.viewer.zone) === day
      ? at
      : this.#refuse(this.#texts.needDay);
  }

  /** Returns minutes typed as such, or as hours and minutes: 80, 1:20 or 1h20. */
  minutes(name: string): number {
    const typed = this.fields[name]?.trim() ?? '';
    const [, hours, rest, alone] = /^(?:(\d{1,2}) ?[h:] ?([0-5]\d)?|(\d{1,4}))$/i.exec(typed) ?? [];
    const minutes =
      hours === undefined ? Number(alone ?? 0) : minutesOfHours(Number(hours)) + Number(rest ?? 0);
    return minutes > 0 && minutes <= DAY_MINUTES ? minutes : this.#refuse(this.#texts.tray.needMinutes, name);
  }

  /** Returns null where the field was left empty. */
  line(name: string): string | null {
    const read = lineSchema.safeParse(this.fields[name] ?? '');
    if (!read.success) return this.#refuse(this.#texts.needLine, name);
    return read.data === '' ? null : read.data;
  }

  why(name: string): string {
    return this.line(name) ?? this.#refuse(this.#texts.needWhy, name);
  }

  #refuse(message: string, field: string | null = null): never {
    throw new NotTaken(message, field);
  }
}
