import { html } from 'hono/html';
import { addDays } from '../../core/days/calendar.js';
import { parseDay } from '../../core/days/dayNumber.js';
import type { Day } from '../../units.js';
import { NotTaken } from '../entryForm.js';
import { field, type Markup } from '../markup.js';
import type { Fields } from '../taken.js';
import type { Viewer } from '../viewer.js';

/** Nobody is away for longer at a stretch. */
const LONGEST_DAYS = 366;

/** Returns the days of a stretch, both ends included; one day where no last one was typed. Errors: NotTaken. */
export function stretchIn(
  { from: first = '', to: last = '' }: Fields,
  { texts }: Pick<Viewer, 'texts'>,
): Day[] {
  const { settings } = texts;
  const from = parseDay(first);
  if (from === null) throw new NotTaken(settings.needFrom, 'from');
  const to = last === '' ? from : parseDay(last);
  if (to === null || to < from || to > addDays(from, LONGEST_DAYS)) throw new NotTaken(settings.needTo, 'to');
  const days: Day[] = [];
  for (let day = from; day <= to; day = addDays(day, 1)) days.push(day);
  return days;
}

/** Returns days in order, each once; those long past are let go. */
export function keptDays(days: readonly Day[], today: Day): Day[] {
  const oldest = addDays(today, -LONGEST_DAYS);
  return [...new Set(days)].filter((day) => day >= oldest).sort();
}

/** Days that follow each other, as one. */
export interface DayStretch {
  readonly from: Day;
  readonly to: Day;
}

/** Returns the days from today on as stretches, in order. */
export function stretchesAhead(days: readonly Day[], today: Day): DayStretch[] {
  const stretches: DayStretch[] = [];
  for (const day of [...days].sort()) {
    if (day < today) continue;
    const last = stretches.at(-1);
    if (last !== undefined && addDays(last.to, 1) === day)
      stretches[stretches.length - 1] = { ...last, to: day };
    else stretches.push({ from: day, to: day });
  }
  return stretches;
}

/** Returns a stretch in words: `Thursday, 24 December`, or `24–31 December`. */
export const stretchText = ({ words, today }: Viewer, { from, to }: DayStretch): string =>
  from === to ? words.weekday(from, today) : words.range(from, to, today);

interface StretchFields {
  /** Tells the fields of several forms on a page apart. */
  readonly id: string;
  readonly fields: Fields;
  readonly wrong: (name: string) => { readonly wrong?: string; readonly isFocused?: boolean };
}

/** Two fields for a stretch of days; the last may stay empty. */
export const stretchFields = (
  { texts: { settings } }: Viewer,
  { id, fields, wrong }: StretchFields,
): Markup => html`
${field({ name: 'from', id: `from-${id}`, label: settings.from, type: 'date', value: fields.from, isShort: true, isRequired: true, ...wrong('from') })}
${field({ name: 'to', id: `to-${id}`, label: settings.to, type: 'date', value: fields.to, isShort: true, ...wrong('to') })}`;
