import type { Context } from 'hono';
import { html } from 'hono/html';
import { parseDay } from '../../core/days/dayNumber.js';
import { type BookableUnit, type BookingPage, getBookingPage } from '../../flow/plan/bookingPage.js';
import { bookVisit } from '../../flow/plan/leads.js';
import { actButton } from '../cells/actButton.js';
import { pathOfUnit } from '../cells/dueCells.js';
import { change } from '../change.js';
import type { WebDeps } from '../deps.js';
import { EntryForm, NotTaken } from '../entryForm.js';
import { fieldsOf } from '../guard.js';
import { formToken, page } from '../layout.js';
import { choice, field, type Markup, saidAfter, tick } from '../markup.js';
import type { Pages } from '../routes.js';
import { type After, afterQuery, taken } from '../taken.js';
import type { Viewer, WebEnv } from '../viewer.js';
import { riderHears } from './riderHears.js';

/** Books any unit for any day; what else is on its bike may come along. One day for one bike. */
export function bookingPage(pages: Pages, deps: WebDeps): void {
  const read = (c: Context<WebEnv>, tag: string): Promise<BookingPage> =>
    deps.store.read((tx) => getBookingPage(tx, tag, c.get('viewer').now));
  const show = async (c: Context<WebEnv>, tag: string, after: After): Promise<Markup> =>
    markup(c.get('viewer'), tag, await read(c, tag), after);
  pages.get('/units/:tag/day', async (c) => c.html(await show(c, c.req.param('tag'), afterQuery(c))));
  pages.post('/units/:tag/day', async (c) => {
    const viewer = c.get('viewer');
    const tag = c.req.param('tag');
    const fields = await fieldsOf(c);
    const work = async (): Promise<string> => {
      const form = new EntryForm(fields, viewer);
      const { units } = await read(c, tag);
      const day = parseDay(fields.other || fields.day || '');
      if (day === null || day < viewer.today) throw new NotTaken(viewer.texts.leads.needDay);
      const chosen = units.filter(({ unit }) => fields[nameOf(unit)]);
      if (chosen.length === 0) throw new NotTaken(viewer.texts.leads.needJob);
      const mailed = await change(deps, c, async (tx, entry) => {
        const coming = chosen.map(({ unit, jobs }) => {
          const beside = jobs.filter((job) => form.isTicked(besideOf(unit, job)));
          return { unitId: unit.id, jobs: [form.choice(nameOf(unit), jobs), ...beside] };
        });
        const without = units.filter((one) => !chosen.includes(one)).map(({ unit }) => unit.id);
        const options = { evenIfFull: form.isTicked('evenIfFull') };
        const visit = { units: coming, without, day };
        return (await bookVisit(tx, visit, entry, deps.ids, options)).isMailed;
      });
      return `/leads?done=${mailed ? 'booked' : 'call'}`;
    };
    return taken(c, fields, work, (after) => show(c, tag, after));
  });
}

const nameOf = ({ tag }: BookableUnit['unit']): string => `job-${tag}`;
const besideOf = ({ tag }: BookableUnit['unit'], job: string): string => `beside-${tag}-${job}`;

function markup(
  viewer: Viewer,
  tag: string,
  { bike, rider, units, days }: BookingPage,
  after: After,
): Markup {
  const { texts, words, today } = viewer;
  const { leads: says } = texts;
  const { fields } = after;
  const hears = riderHears(viewer, rider, says.tellsDay);
  return page(viewer, {
    title: says.bookTitle(tag),
    current: 'bookings',
    body: html`
<h1>${says.bookTitle(tag)}</h1>
<p class="lead">${bike ?? texts.due.noBike}. ${says.bookLead}</p>
${saidAfter(after.fault, undefined)}
<form method="post" action="${pathOfUnit(tag)}/day">${formToken(viewer)}
${units.map((one, i) => jobChoice(viewer, one, i === 0, fields))}
<fieldset class="taps"><legend>${says.day}</legend>${days.map(
      (day) =>
        html`<label class="tap"><input type="radio" name="day" value="${day}"${(fields.day ?? days[0]) === day ? html` checked` : ''}>${words.weekday(day, today)}</label>`,
    )}</fieldset>
${field({ name: 'other', label: says.anotherDay, type: 'date', value: fields.other })}
${tick('evenIfFull', says.evenIfFull, fields.evenIfFull === 'yes')}
${actButton({ id: 'book', label: rider?.isMailed === true ? says.bookNow : says.book, ...hears, look: hears.look === 'usual' ? 'primary' : hears.look })}</form>
<p class="screen"><a href="${pathOfUnit(tag)}">${texts.paper.back(tag)}</a></p>`,
  });
}

function jobChoice(viewer: Viewer, one: BookableUnit, isFirst: boolean, sent: After['fields']): Markup {
  const { texts, words, today } = viewer;
  const { unit, jobs, coming, beside, day } = one;
  const usual = coming ?? (isFirst ? jobs[0]! : '');
  const name = nameOf(unit);
  const isSent = sent[name] !== undefined;
  const also = beside.map((job) => {
    const field = besideOf(unit, job);
    return tick(field, texts.leads.alongside(words.serviceKind(job)), !isSent || sent[field] === 'yes');
  });
  return html`${choice({
    name,
    label: `${words.unitKind[unit.unitKind]} ${unit.tag}`,
    value: sent[name] ?? (isFirst || day === null ? usual : ''),
    ...(day === null ? {} : { hint: texts.leads.has(words.weekday(day, today)) }),
    choices: [
      ...(isFirst ? [] : [{ value: '', label: texts.leads.staysHome }]),
      ...jobs.map((job) => ({ value: job, label: words.serviceKind(job) })),
    ],
  })}${also}`;
}
