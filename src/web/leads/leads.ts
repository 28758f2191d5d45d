import type { Context } from 'hono';
import { html } from 'hono/html';
import { z } from 'zod';
import { parseDay } from '../../core/days/dayNumber.js';
import { groupBy } from '../../core/groupBy.js';
import type { Entry } from '../../flow/entry.js';
import { bookLead, type Changed, declineLead, finishLead, missBooking } from '../../flow/plan/leads.js';
import { getLeadsPage, type LeadsPage } from '../../flow/plan/leadsPage.js';
import type { ShownLead } from '../../flow/plan/listLeads.js';
import type { Tx } from '../../ports/store.js';
import type { Day } from '../../units.js';
import { actButton } from '../cells/actButton.js';
import { pathOfUnit, stopBox } from '../cells/dueCells.js';
import { listLink } from '../cells/listLink.js';
import { nextStep } from '../cells/nextStep.js';
import { change } from '../change.js';
import type { WebDeps } from '../deps.js';
import { NotTaken } from '../entryForm.js';
import { fieldsOf } from '../guard.js';
import { formToken, page } from '../layout.js';
import { choice, field, type Markup, saidAfter, tick, when } from '../markup.js';
import type { Pages } from '../routes.js';
import { unbroken } from '../show.js';
import type { Fields } from '../taken.js';
import { type After, afterQuery, taken } from '../taken.js';
import type { Viewer, WebEnv } from '../viewer.js';
import { riderHears } from './riderHears.js';

const OPEN_SHOWN = 40;
/** Declined jobs stay to be seen, and can be booked again: so many more with each press. */
const DECLINED_SHOWN = 20;
const MOST_DECLINED = 10_000;

/** How many of the latest declined ones are asked for. */
const declinedSchema = z.coerce.number().int().min(DECLINED_SHOWN).max(MOST_DECLINED).catch(DECLINED_SHOWN);

type Act = (tx: Tx, id: string, fields: Fields, entry: Entry) => Promise<Changed>;

export function leadsPage(pages: Pages, deps: WebDeps): void {
  const show = async (c: Context<WebEnv>, after: After): Promise<Markup> => {
    const viewer = c.get('viewer');
    const most = declinedSchema.parse(c.req.query('declined') ?? DECLINED_SHOWN);
    const view = await deps.store.read((tx) => getLeadsPage(tx, viewer.now, most));
    return markup(viewer, view, after);
  };
  pages.get('/leads', async (c) => c.html(await show(c, afterQuery(c))));

  const { ids } = deps;
  const add = (
    name: 'book' | 'decline' | 'done' | 'reopen',
    done: string,
    act: (viewer: Viewer) => Act,
  ): void =>
    pages.post(`/leads/:lead/${name}`, async (c) => {
      const viewer = c.get('viewer');
      const id = c.req.param('lead');
      const fields = await fieldsOf(c);
      const work = async (): Promise<string> => {
        const { isMailed } = await change(deps, c, (tx, entry) => act(viewer)(tx, id, fields, entry));
        return `/leads?done=${isMailed ? done : 'call'}`;
      };
      return taken(c, { ...fields, lead: id }, work, (after) => show(c, after));
    });
  add('book', 'booked', (viewer) => async (tx, id, fields, entry) => {
    const day = dayFrom(fields, viewer);
    const options = {
      evenIfFull: fields.evenIfFull === 'yes',
      smaller: fields.job === 'smaller',
      seen: fields.seen,
    };
    return bookLead(tx, id, day, entry, ids, options);
  });
  add(
    'decline',
    'declined',
    () =>
      (tx, id, { seen }, entry) =>
        declineLead(tx, id, entry, ids, { seen }),
  );
  add(
    'reopen',
    'reopened',
    () =>
      (tx, id, { seen }, entry) =>
        missBooking(tx, id, entry, ids, seen),
  );
  add('done', 'done', () => (tx, id, _fields, entry) => finishLead(tx, id, entry, ids));
}

function dayFrom({ day = '' }: Fields, { texts, today }: Viewer): Day {
  const typed = parseDay(day);
  if (typed === null || typed < today) throw new NotTaken(texts.leads.needDay);
  return typed;
}

type Booking = readonly [ShownLead, ...ShownLead[]];

function markup(viewer: Viewer, { leads, offered, declined }: LeadsPage, after: After): Markup {
  const { leads: says } = viewer.texts;
  const of = (state: ShownLead['state']): Booking[] => {
    const own = leads.filter((lead) => lead.state === state);
    return [...groupBy(own, ({ id }) => id).values()] as unknown as Booking[];
  };
  const part = (title: string, own: readonly Booking[], shown = own): Markup =>
    when(
      own.length > 0,
      () =>
        html`<h2>${title}</h2>${when(shown.length < own.length, () => html`<p class="soft">${says.more(shown.length, own.length)}</p>`)}
${shown.map((booking) => entry(viewer, booking, offered.get(booking[0].id) ?? [], after))}`,
    );
  const open = of('open');
  return page(viewer, {
    title: says.title,
    current: 'bookings',
    body: html`
<h1>${says.title}</h1>
<p class="lead">${says.lead}</p>
${saidAfter(after.fault, after.done === null ? undefined : says.done[after.done])}
${when(leads.length === 0, () => nextStep(says.none, '/units', says.toUnits))}
${part(says.askedTitle, of('asked-for'))}
${part(says.bookedTitle, of('booked'))}
${part(says.openTitle, open, open.slice(0, OPEN_SHOWN))}
<div id="declined">${part(says.declinedTitle, of('declined').reverse())}
${when(declined.shown < declined.all, () => html`<p><a href="/leads?declined=${declined.shown + DECLINED_SHOWN}#declined">${says.moreDeclined}</a> <span class="soft">${says.more(declined.shown, declined.all)}</span></p>`)}</div>
${when(leads.length > 0, () => listLink(viewer, 'bookings'))}`,
  });
}

/** One booking: a day for a bike, with all that comes on it. */
function entry(viewer: Viewer, booking: Booking, days: readonly Day[], after: After): Markup {
  const { texts, words, today } = viewer;
  const { leads: says } = texts;
  const [lead] = booking;
  const wasSent = after.fault !== null && after.fields.lead === lead.id;
  const isPressing = lead.state === 'asked-for';
  const minutes = booking.reduce((sum, one) => sum + one.benchMinutes, 0);
  const person = [
    lead.riderName ?? says.noRider,
    lead.phone === null ? says.noPhone : unbroken(lead.phone),
    lead.bike ?? texts.due.noBike,
    says.minutes(words.number(minutes)),
  ];
  const others = words.list(lead.offered.map((day) => words.weekday(day, today)));
  return html`<section class="entry" id="${lead.id}">
<h3>${booking.map((one, i) => html`${i > 0 ? html`; ` : ''}<a href="${pathOfUnit(one.unit)}">${one.unit}</a>, ${words.jobs([one.serviceKind, ...one.beside])}`)}: ${dayText(viewer, lead)}</h3>
<p>${person.join(' · ')}</p>
${booking.map((one) => when(one.stopWhy !== null, () => html`<p>${one.unit}: ${stopBox(viewer, one.stopWhy)}</p>`))}
${when(lead.wish !== null, () => html`<p>${lead.wish}</p>`)}
${when(lead.offered.length > 0, () => html`<p class="soft">${says.offered(others)}</p>`)}
<details class="screen"${wasSent || isPressing ? html` open` : ''}><summary>${says.act}</summary>${forms(viewer, booking, days, wasSent ? after.fields : {})}</details>
</section>`;
}

function dayText({ texts: { leads: says }, words, today }: Viewer, lead: ShownLead): Markup {
  const day = lead.day === null ? null : words.weekday(lead.day, today);
  if (lead.state === 'declined') return html`${says.isDeclined}${day === null ? '' : html` (${day})`}`;
  if (day !== null)
    return html`<strong>${lead.state === 'asked-for' ? says.asks(day) : says.has(day)}</strong>`;
  return html`${lead.likely === null ? says.noLikely : says.likely(words.day(lead.likely, today))}`;
}

const riderOf = ({ riderName: name, isMailed }: ShownLead) => (name === null ? null : { name, isMailed });

function forms(viewer: Viewer, booking: Booking, days: readonly Day[], fields: Fields): Markup {
  const { words, today } = viewer;
  const { leads: says } = viewer.texts;
  const [lead] = booking;
  const path = `/leads/${encodeURIComponent(lead.id)}`;
  const seen = when(
    lead.factId !== null,
    () => html`<input type="hidden" name="seen" value="${lead.factId}">`,
  );
  const form = (name: string, body: Markup): Markup =>
    html`<form method="post" action="${path}/${name}">${formToken(viewer)}${seen}${body}</form>`;
  const day = { name: 'day', id: `day-${lead.id}`, label: says.day, value: fields.day ?? lead.day ?? '' };
  const isBooked = lead.state === 'booked';
  const book = {
    id: `book-${lead.id}`,
    label: isBooked ? says.move : says.book,
    ...riderHears(viewer, riderOf(lead), says.tellsDay),
  };
  const others = words.list(days.map((one) => words.weekday(one, today)));
  const decline = {
    id: `decline-${lead.id}`,
    label: isBooked ? says.cancel : says.decline,
    tells:
      lead.state === 'open'
        ? says.declineOpen
        : riderHears(viewer, riderOf(lead), (rider) => says.declineTells(rider, others)).tells,
    look: 'grave',
  } as const;
  return html`
<form class="row" method="post" action="${path}/book">${formToken(viewer)}${seen}
${booking.filter((one) => one.wanted !== one.serviceKind).map((one) => smallerChoice(viewer, one, fields))}
${field({ ...day, type: 'date', isRequired: true })}
<div class="field">${tick('evenIfFull', says.evenIfFull, fields.evenIfFull === 'yes')}</div>
<div class="field">${actButton(book)}</div>
</form>
${when(days.length > 0, () => html`<p>${says.otherDays}</p><div class="answers">${days.map((one) => form('book', html`<input type="hidden" name="day" value="${one}"><button${book.look === 'mails' ? html` class="mails"` : ''}${book.tells === null ? '' : html` aria-describedby="tells-${book.id}"`}>${words.weekday(one, today)}</button>`))}</div>`)}
${when(
  lead.state !== 'declined',
  () => html`<details class="sure"><summary>${decline.label}</summary>${form('decline', actButton(decline))}</details>
<div class="answers">${form('done', html`<button>${says.finish}</button>`)}</div>`,
)}`;
}

/** Where a larger job takes the place of the smaller one that alone is wanted, either may be booked. */
const smallerChoice = ({ words, texts }: Viewer, lead: ShownLead, fields: Fields): Markup =>
  choice({
    name: 'job',
    id: `job-${lead.id}`,
    label: texts.leads.which,
    value: fields.job ?? 'larger',
    choices: [
      { value: 'larger', label: words.serviceKind(lead.serviceKind) },
      { value: 'smaller', label: words.serviceKind(lead.wanted) },
    ],
  });
