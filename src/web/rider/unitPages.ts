/** The pages about one unit: ask for a day, already done, later, sold or stored. */

import { html } from 'hono/html';
import { addDays } from '../../core/days/calendar.js';
import { dayNumber, parseDay } from '../../core/days/dayNumber.js';
import { groupBy } from '../../core/groupBy.js';
import { jobsOfVisit } from '../../core/plan/leads.js';
import { findStanding } from '../../flow/due/ownPage.js';
import { findUnitOnBike } from '../../flow/due/riderUnits.js';
import {
  askForDay,
  findLinkedUnit,
  isPlaced,
  type LinkedUnit,
  LONGEST_LATER_DAYS,
  listAlong,
  sayDone,
  sayGone,
  sayLater,
  withdrawDay,
  withSmaller,
} from '../../flow/mail/answerLink.js';
import { listOfferedDays } from '../../flow/plan/leadDays.js';
import { mailTextsFor } from '../../languages/index.js';
import type { Tx } from '../../ports/store.js';
import { type Day, hoursOfSeconds, hoursOfThousandths } from '../../units.js';
import { choice, field, type Markup, NOTHING, when } from '../markup.js';
import type { Fields } from '../taken.js';
import type { Voice } from '../viewer.js';
import {
  aboutUnit,
  done,
  fault,
  form,
  type LinkPage,
  notYours,
  type PageSaid,
  type RiderView,
  submit,
} from './riderPage.js';

/** What a rider says was done here is in the workshop's own book. */
const DONE_ELSEWHERE = ['another-workshop', 'at-home'] as const;
/** Every free day there is, and so many of them first. */
const ALL_DAYS = 60;
const DAYS_FIRST = 3;
const WEEKS_LATER = [2, 4, 8];

/** Returns a page that is about a unit, and says so where the unit is no longer on the rider's bike. */
function unitPage(page: {
  readonly purpose: LinkPage['purpose'];
  readonly title: LinkPage['title'];
  show(tx: Tx, view: RiderView, of: LinkedUnit): Promise<Markup>;
  take(tx: Tx, view: RiderView, of: LinkedUnit, fields: Fields): Promise<PageSaid>;
}): LinkPage {
  return {
    ...page,
    show: async (tx, view) => {
      const of = await findLinkedUnit(tx, view.opened, view.now);
      if (!of) return notYours(view);
      return html`${await aboutUnit(tx, view)}${await page.show(tx, view, of)}`;
    },
    take: async (tx, view, fields) => {
      const of = await findLinkedUnit(tx, view.opened, view.now);
      return of ? page.take(tx, view, of, fields) : fault(view.texts.notYours.says);
    },
  };
}

const weekday = ({ voice, today }: RiderView, day: Day): string => voice.words.weekday(day, today);

export const askPage = unitPage({
  purpose: 'ask',
  title: (texts) => texts.ask.title,
  show: async (tx, view, of) => {
    const { ask, call } = view.texts;
    const contact = html`<p>${call(view.workshop.phone)}</p>`;
    const { lead } = of;
    if (isPlaced(lead) && lead.state === 'booked')
      return html`<p><strong>${ask.booked(weekday(view, lead.day))}</strong></p>${contact}`;
    const wish = { units: [{ unitId: of.unitId, jobs: jobsOfVisit(of) }], count: ALL_DAYS };
    const held = isPlaced(lead) ? lead.day : null;
    const days = (await listOfferedDays(tx, wish, view.now)).filter((day) => day !== held);
    const { words } = view.voice;
    const job = words.jobs(jobsOfVisit(of));
    const along = (await listAlong(tx, of, view.now)).map(
      ({ unitKind, tag, serviceKind }) =>
        `${words.unitKind[unitKind]} ${tag}, ${words.serviceKind(serviceKind)}`,
    );
    return html`
${when(lead?.state === 'declined', () => html`<p>${ask.declined}</p>`)}
${isPlaced(lead) ? html`<p><strong>${ask.held(weekday(view, lead.day))}</strong></p><p>${ask.other}</p>` : html`<p>${ask.lead(job)}</p>`}
${await jobsMarkup(tx, view, of)}
${when(along.length > 0, () => html`<p>${ask.along(words.list(along))}</p>`)}
${days.length === 0 ? html`<p>${ask.none}</p>${contact}` : form(html`${smallerChoice(view, of)}${dayButtons(view, days)}`)}
${when(held !== null, () => withdrawForm(ask))}`;
  },
  take: async (tx, view, of, fields) => {
    const { ask, call, needDay } = view.texts;
    if (fields.action === 'withdraw')
      return (await withdrawDay(tx, of, view.entry, view.ids)) ? done(ask.withdrawn) : fault(ask.notHeld);
    const day = parseDay(fields.day ?? '');
    if (day === null) return fault(needDay);
    const wanted = fields.job === 'smaller' && of.because !== null ? withSmaller(of) : of;
    const asked = await askForDay(tx, wanted, day, view.entry, view.ids);
    if (asked.outcome === 'asked') return done(ask.done(weekday(view, asked.day)));
    return fault(asked.outcome === 'taken' ? ask.taken : call(view.workshop.phone));
  },
});

/** Where a larger job takes the place of a smaller one: why, in hours, and the choice. */
const smallerChoice = ({ texts, voice: { words } }: RiderView, of: LinkedUnit): Markup =>
  of.because === null || of.serviceKind === of.told.standing.serviceKind
    ? NOTHING
    : choice({
        name: 'job',
        label: texts.ask.which,
        hint: texts.ask.larger(words.serviceKind(of.serviceKind), words.because(of.because)),
        value: 'larger',
        choices: [
          { value: 'larger', label: words.serviceKind(of.serviceKind) },
          { value: 'smaller', label: words.serviceKind(of.told.standing.serviceKind) },
        ],
      });

const withdrawForm = ({ withdrawLead, withdraw }: RiderView['texts']['ask']): Markup => html`
<p>${withdrawLead}</p>
${form(html`<input type="hidden" name="action" value="withdraw"><div class="field"><button class="plain">${withdraw}</button></div>`)}`;

/** What each job of the visit is, costs and takes, as far as the workshop typed it, and what to bring. */
async function jobsMarkup(tx: Tx, view: RiderView, of: LinkedUnit): Promise<Markup> {
  const { texts, voice, workshop } = view;
  const { ask } = texts;
  const kind = (await findUnitOnBike(tx, of.unitId, view.opened.contact.riderId))?.unit.unitKind;
  const { jobs, bring } = mailTextsFor(voice.words.language).reminder;
  return html`<ul>${jobsOfVisit(of).map((serviceKind) => {
    const typed = (workshop.offers ?? []).find(
      (one) => one.unitKind === kind && one.serviceKind === serviceKind,
    );
    const what = (jobs as Readonly<Record<string, string>>)[serviceKind];
    const says = [
      what ?? null,
      typed?.price ? ask.costs(typed.price) : null,
      typed?.turnaround ? ask.takes(typed.turnaround) : null,
    ].filter((one) => one !== null);
    return html`<li><b>${voice.words.serviceKind(serviceKind)}</b>${when(says.length > 0, () => html`: ${says.join(' ')}`)}</li>`;
  })}</ul>
<p class="soft">${bring}</p>`;
}

/** The days that suit best at once, all others by week. */
function dayButtons(view: RiderView, days: readonly Day[]): Markup {
  const { ask } = view.texts;
  const buttons = (some: readonly Day[]): Markup =>
    html`<div class="row">${some.map(
      (day) => html`<button class="plain" name="day" value="${day}">${weekday(view, day)}</button>
`,
    )}</div>`;
  const others = days.slice(DAYS_FIRST);
  const weeks = groupBy(others, (day) => String(Math.floor((dayNumber(day) + MONDAY) / 7)));
  return html`${buttons(days.slice(0, DAYS_FIRST))}${when(
    others.length > 0,
    () =>
      html`<details><summary>${ask.allDays(others.length)}</summary>${[...weeks.values()].map(
        (week) =>
          html`<h2>${view.voice.words.range(week[0]!, week.at(-1)!, view.today)}</h2>${buttons(week)}`,
      )}</details>`,
  )}`;
}

/** Day 0 was a Thursday. */
const MONDAY = 3;

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
${submit(texts.done.submit)}`)}`,
  take: async (tx, view, of, fields) => {
    const { texts, voice, today } = view;
    const on = parseDay(fields.on ?? '');
    const isHome = fields.by === 'at-home';
    const said = isHome ? (fields.homeKind ?? fields.kind) : fields.kind;
    const kind = of.subjects.map(({ standing }) => standing.serviceKind).find((one) => one === said);
    if (on === null || on > today || kind === undefined) return fault(texts.done.need);
    const by = DONE_ELSEWHERE.find((one) => one === fields.by) ?? 'another-workshop';
    const isClaim = await sayDone(tx, of, { serviceKind: kind, on, by }, view.entry, view.ids);
    if (isClaim) return done(texts.done.claimed);
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
${submit(later.submit)}`)}`;
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
${submit(gonePart.submit)}`)}`,
  take: async (tx, { texts: { gonePart }, entry, ids }, of, { why }) => {
    if (why !== 'sold' && why !== 'stored') return fault(gonePart.need);
    await sayGone(tx, of, why, entry, ids);
    return done(gonePart.said);
  },
});
