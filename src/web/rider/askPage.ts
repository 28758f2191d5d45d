/** The page on which a rider asks for a day, moves it, or lets it go. */
import { html } from 'hono/html';
import { dayNumber, parseDay } from '../../core/days/dayNumber.js';
import { groupBy } from '../../core/groupBy.js';
import { jobsOfVisit } from '../../core/plan/leads.js';
import { findUnitOnBike } from '../../flow/due/riderUnits.js';
import { isPlaced, type LinkedUnit } from '../../flow/mail/answerLink.js';
import {
  type AlongJob,
  askForDay,
  type DayStand,
  letDayGo,
  listAlong,
  listVisit,
  standOf,
  withSmaller,
} from '../../flow/mail/riderDay.js';
import { listOfferedDays } from '../../flow/plan/leadDays.js';
import { mailTextsFor } from '../../languages/index.js';
import type { Tx } from '../../ports/store.js';
import type { Day } from '../../units.js';
import { actButton } from '../cells/actButton.js';
import { choice, type Markup, NOTHING, when } from '../markup.js';
import { done, fault, form, type RiderView } from './riderPage.js';
import { unitPage } from './unitPage.js';

/** Every free day there is, and so many of them first. */
const ALL_DAYS = 60;
const DAYS_FIRST = 3;

const weekday = ({ voice, today }: RiderView, day: Day): string => voice.words.weekday(day, today);

export const askPage = unitPage({
  purpose: 'ask',
  title: (texts) => texts.ask.title,
  show: async (tx, view, of) => {
    const { ask, call } = view.texts;
    const contact = html`<p>${call(view.workshop.phone, view.workshop.email)}</p>`;
    const stand = standOf(of, view.today);
    if (stand === 'settled') return html`<p><strong>${settledText(view, of)}</strong></p>${contact}`;
    const held = isPlaced(of.lead) ? of.lead.day : null;
    const wish = { units: await listVisit(tx, of), count: ALL_DAYS };
    const days = (await listOfferedDays(tx, wish, view.now)).filter((day) => day !== held);
    const along = stand === 'booked' ? [] : await listAlong(tx, of, view.now);
    return html`
${standMarkup(view, of, stand)}
${await jobsMarkup(tx, view, of)}
${when(along.length > 0, () => html`<p>${ask.along(alongText(view, along))}</p>`)}
${days.length === 0 ? html`<p>${ask.none}</p>${contact}` : form(html`${when(stand === 'free', () => smallerChoice(view, of))}${dayButtons(view, days)}`)}
${when(held !== null, () => letGoForm(view, stand))}`;
  },
  take: async (tx, view, of, fields) => {
    const { ask, call, needDay } = view.texts;
    if (fields.action === 'withdraw') {
      const stood = await letDayGo(tx, of, view.entry, view.ids);
      if (stood === 'free') return fault(ask.notHeld);
      if (stood === 'settled') return fault(call(view.workshop.phone, view.workshop.email));
      return done(ask.letGo[stood].done, { href: view.path, label: ask.another });
    }
    const day = parseDay(fields.day ?? '');
    if (day === null) return fault(needDay);
    const wanted = fields.job === 'smaller' && of.because !== null ? withSmaller(of) : of;
    const asked = await askForDay(tx, wanted, day, view.entry, view.ids);
    if (asked.outcome === 'asked') return done(ask.done(weekday(view, asked.day)));
    if (asked.outcome === 'moved') return done(ask.moved(weekday(view, asked.day)));
    return fault(asked.outcome === 'taken' ? ask.taken : call(view.workshop.phone, view.workshop.email));
  },
});

/** How the day stands, and what the days below are for. */
function standMarkup(view: RiderView, of: LinkedUnit, stand: DayStand): Markup {
  const { ask } = view.texts;
  const { lead, declined } = of;
  if (isPlaced(lead) && stand !== 'free' && stand !== 'settled') {
    const { says, other } = ask.stands[stand];
    return html`<p><strong>${says(weekday(view, lead.day))}</strong></p><p>${other}</p>`;
  }
  return html`${when(lead?.state === 'declined', () => html`<p>${ask.declined}</p>`)}
${when(declined !== null, () => html`<p><strong>${ask.notThatDay(weekday(view, declined!))}</strong></p>`)}
<p>${ask.lead(view.voice.words.jobs(jobsOfVisit(of)))}</p>`;
}

const settledText = (view: RiderView, { lead }: LinkedUnit): string =>
  isPlaced(lead) && lead.day === view.today ? view.texts.ask.today : view.texts.ask.there;

const alongText = ({ voice: { words } }: RiderView, along: readonly AlongJob[]): string =>
  words.list(
    along.map(
      ({ unitKind, tag, serviceKind }) =>
        `${words.unitKind[unitKind]} ${tag}, ${words.serviceKind(serviceKind)}`,
    ),
  );

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

function letGoForm({ texts }: RiderView, stand: DayStand): Markup {
  if (stand === 'free' || stand === 'settled') return NOTHING;
  const { lead, submit } = texts.ask.letGo[stand];
  return form(
    html`<input type="hidden" name="action" value="withdraw">${actButton({ id: 'let-go', label: submit, tells: lead, look: 'mails' })}`,
  );
}

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
      (day) => html`<button name="day" value="${day}">${weekday(view, day)}</button>
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
