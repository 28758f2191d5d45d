/** The pages about one unit: already done, later, sold or stored. */

import { html } from 'hono/html';
import { addDays } from '../../core/days/calendar.js';
import { parseDay } from '../../core/days/dayNumber.js';
import { findStanding } from '../../flow/due/ownPage.js';
import {
  type LinkedUnit,
  LONGEST_LATER_DAYS,
  sayDone,
  sayGone,
  sayLater,
} from '../../flow/mail/answerLink.js';
import { hoursOfSeconds, hoursOfThousandths } from '../../units.js';
import { choice, field, type Markup, when } from '../markup.js';
import type { Voice } from '../viewer.js';
import { done, fault, form, submit } from './riderPage.js';
import { unitPage } from './unitPage.js';

/** What a rider says was done here is in the workshop's own book. */
const DONE_ELSEWHERE = ['another-workshop', 'at-home'] as const;
const WEEKS_LATER = [2, 4, 8];

/** The jobs of a unit, the smallest first: whoever works at home seldom does more. */
const whatWasDone = (
  { subjects }: LinkedUnit,
  { words }: Voice,
  field: { readonly name: string; readonly label: string; readonly value: string | undefined },
): Markup => {
  const kinds = [...subjects].sort((a, b) => a.restarts.length - b.restarts.length);
  const choices = kinds.map(({ standing: { serviceKind } }) => ({
    value: serviceKind,
    label: words.serviceKind(serviceKind),
  }));
  return choice({ ...field, value: field.value ?? choices[0]?.value ?? '', choices });
};

export const donePage = unitPage({
  purpose: 'done',
  title: (texts) => texts.done.title,
  show: async (_tx, { texts, voice, sent }, of) => html`<p>${texts.done.lead}</p>
${form(html`
${field({ name: 'on', label: texts.done.day, type: 'date', value: sent.on, isRequired: true })}
${choice({
  name: 'by',
  label: texts.done.by,
  value: sent.by ?? 'another-workshop',
  choices: DONE_ELSEWHERE.map((by) => ({ value: by, label: voice.words.doneBy[by] })),
})}
${whatWasDone(of, voice, { name: 'kind', label: texts.done.kind, value: sent.kind ?? of.told.standing.serviceKind })}
${whatWasDone(of, voice, { name: 'homeKind', label: texts.done.homeKind, value: sent.homeKind })}
${submit(texts.done.submit, true)}`)}`,
  take: async (tx, view, of, fields) => {
    const { texts, voice, today } = view;
    const on = parseDay(fields.on ?? '');
    const isHome = fields.by === 'at-home';
    const chosen = isHome ? (fields.homeKind ?? fields.kind) : fields.kind;
    const kind = of.subjects.map(({ standing }) => standing.serviceKind).find((one) => one === chosen);
    if (on === null || on > today || kind === undefined) return fault(texts.done.need);
    const by = DONE_ELSEWHERE.find((one) => one === fields.by) ?? 'another-workshop';
    const said = await sayDone(tx, of, { serviceKind: kind, on, by }, view.entry, view.ids);
    if (said === 'known')
      return fault(texts.done.twice(voice.words.serviceKind(kind), voice.words.day(on, today)));
    if (said === 'claim') return done(texts.done.claimed);
    const since = await findStanding(tx, of.unitId, kind);
    const { hours } = voice.words;
    const now = since
      ? ` ${texts.done.now(hours(hoursOfThousandths(since.terrainMs)), hours(hoursOfSeconds(since.movingS)))}`
      : '';
    return done(`${texts.done.said(voice.words.serviceKind(kind), voice.words.day(on, today))}${now}`);
  },
});

export const laterPage = unitPage({
  purpose: 'later',
  title: (texts) => texts.later.title,
  show: async (_tx, { texts: { later }, voice, today, sent }) => {
    const days = WEEKS_LATER.map((weeks) => ({ weeks, day: addDays(today, 7 * weeks) }));
    const chosen = sent.until ?? days[0]!.day;
    const ticked = (until: string): Markup => when(until === chosen, () => html` checked`);
    return html`<p>${later.lead}</p>
${form(html`<fieldset class="ticks">${days.map(
  ({ weeks, day }) =>
    html`<label class="tick"><input type="radio" name="until" value="${day}"${ticked(day)}>${later.weeks(weeks, voice.words.day(day, today))}</label>`,
)}<label class="tick"><input type="radio" name="until" value="other"${ticked('other')}>${later.otherDay}</label></fieldset>
<div class="field"><label for="day">${later.otherDay}</label>
<input id="day" name="day" type="date" value="${sent.day ?? ''}" min="${addDays(today, 1)}" max="${addDays(today, LONGEST_LATER_DAYS)}"></div>
${submit(later.submit, true)}`)}`;
  },
  take: async (tx, { texts: { later }, voice, today, opened, now }, of, fields) => {
    // A day that was typed is meant, whatever was chosen before.
    const typed = fields.day ?? '';
    const until = parseDay(typed === '' ? (fields.until ?? '') : typed);
    const isSaid = until !== null && (await sayLater(tx, of, opened.contact.riderId, until, now));
    return isSaid ? done(later.said(voice.words.day(until, today))) : fault(later.need);
  },
});

export const gonePage = unitPage({
  purpose: 'gone',
  title: (texts) => texts.gonePart.title,
  show: async (_tx, { texts: { gonePart } }) => html`<p>${gonePart.lead}</p>
${form(html`<fieldset class="ticks">
<label class="tick"><input type="radio" name="why" value="sold" required>${gonePart.sold}</label>
<label class="tick"><input type="radio" name="why" value="stored">${gonePart.stored}</label></fieldset>
${submit(gonePart.submit, true)}`)}`,
  take: async (tx, { texts: { gonePart }, entry, ids }, of, { why }) => {
    if (why !== 'sold' && why !== 'stored') return fault(gonePart.need);
    await sayGone(tx, of, why, entry, ids);
    return done(gonePart.said);
  },
});
