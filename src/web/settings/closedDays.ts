import { html } from 'hono/html';
import type { WorkshopFact } from '../../core/ledger/facts.js';
import { listOnClosedDays } from '../../flow/plan/onClosedDays.js';
import { type Day, day } from '../../units.js';
import { pathOfUnit } from '../cells/dueCells.js';
import type { WebDeps } from '../deps.js';
import { formToken } from '../layout.js';
import { type Markup, tick, when } from '../markup.js';
import type { Pages } from '../routes.js';
import type { Viewer } from '../viewer.js';
import { keptDays, stretchesAhead, stretchFields, stretchIn, stretchText } from './days.js';
import { type SentSetting, settingFrame, settingPage, wrongAt } from './frame.js';

const PATH = '/settings/closed';
/** A holiday of each year is written down for so many. */
const YEARS = 5;

/** Days on which nobody can bring anything: a day, a holiday of each year, two weeks in August. */
export function closedDaysPage(pages: Pages, deps: WebDeps): void {
  settingPage(pages, deps, {
    path: PATH,
    read: (sent, { body }, viewer) => ({ closedDays: closedIn(sent, body, viewer) }),
    show: async (c, fact, after) => {
      const viewer = c.get('viewer');
      const booked = await deps.store.read((tx) => listOnClosedDays(tx, viewer.today));
      const { closedDays = [] } = fact.body;
      const ahead = stretchesAhead(closedDays, viewer.today);
      const { settings } = viewer.texts;
      const { closed: says } = settings;
      return settingFrame(viewer, {
        ...{ title: says.title, lead: says.lead, after },
        body: html`
${bookedNote(viewer, booked)}
<form method="post" action="${PATH}">${formToken(viewer)}
<div class="row">${stretchFields(viewer, { id: 'closed', fields: after.fields, wrong: (name) => wrongAt(after, name) })}</div>
${tick('yearly', says.yearly(YEARS), after.fields.yearly === 'yes')}
<p><button class="primary">${says.close}</button></p></form>
<h2>${says.ahead}</h2>
${
  ahead.length === 0
    ? html`<p>${says.none}</p>`
    : html`<ul class="lines">${ahead.map(
        (one) => html`<li><form class="line" method="post" action="${PATH}">${formToken(viewer)}
<input type="hidden" name="open" value="${one.from}"><input type="hidden" name="openTo" value="${one.to}">
<span>${stretchText(viewer, one)}</span><button aria-label="${says.openOf(stretchText(viewer, one))}">${says.open}</button></form></li>`,
      )}</ul>`
}`,
      });
    },
  });
}

function closedIn({ fields }: SentSetting, { closedDays = [] }: WorkshopFact, viewer: Viewer): Day[] {
  const { open, openTo } = fields;
  if (open !== undefined) return closedDays.filter((one) => one < open || one > (openTo ?? open));
  const days = stretchIn(fields, viewer);
  const years = fields.yearly === 'yes' ? YEARS : 1;
  const each = Array.from({ length: years }, (_, after) => days.flatMap((one) => inYears(one, after)));
  return keptDays([...closedDays, ...each.flat()], viewer.today);
}

/** Returns the same day of a later year; none on 29 February where there is none. */
function inYears(on: Day, years: number): Day[] {
  const later = `${Number(on.slice(0, 4)) + years}${on.slice(4)}`;
  return later.endsWith('-02-29') && !isLeap(Number(later.slice(0, 4))) ? [] : [day(later)];
}

const isLeap = (year: number): boolean => year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);

/** Bookings stay as they are: a person moves them. */
const bookedNote = (viewer: Viewer, booked: Awaited<ReturnType<typeof listOnClosedDays>>): Markup =>
  when(
    booked.length > 0,
    () => html`<div class="said"><p><strong>${viewer.texts.settings.closed.booked}</strong></p>
<ul>${booked.map(
      ({ unit, day: on }) =>
        html`<li><a href="${pathOfUnit(unit)}/day">${unit}</a>, ${viewer.words.weekday(on, viewer.today)}</li>`,
    )}</ul></div>`,
  );
