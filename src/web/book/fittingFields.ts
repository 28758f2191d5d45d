import { html } from 'hono/html';
import { dayOf, startOfDay } from '../../core/days/calendar.js';
import type { Fact } from '../../core/ledger/facts.js';
import { afterLastRideOf, eveningOf, momentOf } from '../../core/ledger/moment.js';
import type { FittedSpan } from '../../flow/fittings/moveFitting.js';
import { type Day, isoTime, type Moment } from '../../units.js';
import { type EntryForm, NotTaken } from '../entryForm.js';
import { choice, field, type Markup, soft, tick, when } from '../markup.js';
import { inputTime } from '../show.js';
import type { Fields } from '../taken.js';
import type { Viewer } from '../viewer.js';

/** When on a day something went on or came off. */
export const DAY_TIMES = ['before', 'at', 'after'] as const;
type DayTime = (typeof DAY_TIMES)[number];

interface Shown {
  readonly day: Day;
  readonly when: DayTime;
  /** Of the clock; empty where the day alone says it. */
  readonly time: string;
}

function shownOf(moment: Moment, { zone }: Viewer): Shown {
  const at = momentOf(moment, zone)!;
  const day = dayOf(at, zone);
  if (at === startOfDay(day, zone)) return { day, when: 'before', time: '' };
  if (eveningOf(at, zone) !== null) return { day, when: 'after', time: '' };
  return { day, when: 'at', time: inputTime(at, zone) };
}

type Edge = 'from' | 'to';

/** Returns the moment as typed; one whose words stay as they were shown stays to the thousandth of a second. */
function edgeOf(form: EntryForm, edge: Edge, before: Moment | null): Moment {
  const { fields, viewer } = form;
  const day = form.day(edge);
  const shown = before === null ? null : shownOf(before, viewer);
  // Without a word on the time, an evening stays one and any other day is meant from its start.
  const silent =
    shown?.when === 'after' || (shown?.day === day && shown.when === 'at') ? shown.when : 'before';
  const said = fields[`${edge}When`] === undefined ? silent : form.choice(`${edge}When`, DAY_TIMES);
  const time = fields[`${edge}Time`] ?? shown?.time ?? '';
  const isSame = shown?.day === day && shown.when === said && (said !== 'at' || shown.time === time);
  if (isSame) return before!;
  if (said === 'at') return isoTime(form.moment(edge, `${edge}Time`));
  return said === 'after' ? afterLastRideOf(day, viewer.zone) : day;
}

/** Returns from when to when the fitting was, as typed. Errors: NotTaken. */
export function spanIn(form: EntryForm, { body }: Fact<'fitting'>): FittedSpan {
  const { zone, texts } = form.viewer;
  const from = edgeOf(form, 'from', body.from);
  const to = (form.fields.to ?? '') === '' ? null : edgeOf(form, 'to', body.to);
  if (to !== null && momentOf(to, zone)! <= momentOf(from, zone)!)
    throw new NotTaken(texts.paper.correct.order);
  return { from, to };
}

/** Returns the fields for both ends of a fitting; `along` names what was swapped with it. */
export function spanFields(
  viewer: Viewer,
  { body }: Fact<'fitting'>,
  fields: Fields,
  along: readonly string[],
): Markup {
  const { correct } = viewer.texts.paper;
  const of = (edge: Edge, moment: Moment | null, hint?: string): Markup => {
    const shown = moment === null ? { day: '', when: 'before', time: '' } : shownOf(moment, viewer);
    return html`<div class="pair">
${field({ name: edge, id: `day-${edge}`, label: correct[edge], type: 'date', value: fields[edge] ?? shown.day, isShort: true, isRequired: edge === 'from', ...(hint === undefined ? {} : { hint }) })}
${choice({ name: `${edge}When`, label: correct.when[edge], value: fields[`${edge}When`] ?? shown.when, choices: DAY_TIMES.map((value) => ({ value, label: viewer.texts.team.swap.whens[value] })) })}
${field({ name: `${edge}Time`, label: correct.time[edge], type: 'time', value: fields[`${edge}Time`] ?? shown.time, isShort: true })}
</div>`;
  };
  return html`${of('from', body.from)}${of('to', body.to, correct.toHint)}
${when(along.length > 0, () => html`${soft(correct.along(viewer.words.list(along)))}${tick('alone', correct.alone, fields.alone === 'yes')}`)}`;
}
