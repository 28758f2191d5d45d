import type { Context } from 'hono';
import { html } from 'hono/html';
import { z } from 'zod';
import type { Fact } from '../../core/ledger/facts.js';
import { isLine } from '../../core/lines.js';
import { getJobsPage, type JobRow, type JobWords, listJobs, setJobs } from '../../flow/counter/setJobs.js';
import { change } from '../change.js';
import type { WebDeps } from '../deps.js';
import { NotTaken } from '../entryForm.js';
import { fieldsOf } from '../guard.js';
import { columnsOf, describedBy, type Markup, table, when, wrongNote } from '../markup.js';
import type { Pages } from '../routes.js';
import { capitalised } from '../show.js';
import { type After, afterQuery, type Fields, taken } from '../taken.js';
import type { Viewer, WebEnv } from '../viewer.js';
import { seenFact, settingFrame, wrongAt } from './frame.js';
import { pathOfParts } from './parts.js';

const PATH = '/settings/jobs';

const minutesSchema = z
  .string()
  .trim()
  .regex(/^\d{1,4}$/)
  .transform(Number)
  .pipe(z.number().min(1).max(1440));
/** Null where nothing was typed. */
const wordsSchema = z
  .string()
  .trim()
  .max(60)
  .refine(isLine)
  .transform((text) => text || null);

const nameOf = (what: 'minutes' | 'price' | 'turnaround', { unitKind, serviceKind }: JobRow): string =>
  `${what}-${unitKind}-${serviceKind}`;

/** Every job with its minutes on the bench, and what mails tell of its price and how long the bike stands. */
export function jobsPage(pages: Pages, deps: WebDeps): void {
  const show = async (c: Context<WebEnv>, after: After): Promise<Markup> => {
    const { fact, jobs } = await deps.store.read(getJobsPage);
    return markup(c.get('viewer'), fact, jobs, after);
  };
  pages.get(PATH, async (c) => c.html(await show(c, afterQuery(c))));
  pages.post(PATH, async (c) => {
    const fields = await fieldsOf(c);
    const work = async (): Promise<string> => {
      const isOther = await change(deps, c, async (tx, entry) => {
        const words = (await listJobs(tx)).map((job) => wordsIn(fields, job, c.get('viewer')));
        return setJobs(tx, fields.fact, words, entry);
      });
      return `${PATH}?done=${isOther ? 'saved' : 'unchanged'}`;
    };
    return taken(c, fields, work, (after) => show(c, after));
  });
}

/** What was not on the page that was sent stays. Errors: NotTaken, naming the field. */
function wordsIn(fields: Fields, job: JobRow, { texts: { settings } }: Viewer): JobWords {
  const read = <T>(what: 'minutes' | 'price' | 'turnaround', schema: z.ZodType<T>, need: string): T => {
    const name = nameOf(what, job);
    const typed = fields[name];
    if (typed === undefined) return job[what] as T;
    const given = schema.safeParse(typed);
    if (!given.success) throw new NotTaken(need, name);
    return given.data;
  };
  const { jobs: says } = settings;
  return {
    unitKind: job.unitKind,
    serviceKind: job.serviceKind,
    minutes:
      fields[nameOf('minutes', job)]?.trim() === ''
        ? job.usual
        : read('minutes', minutesSchema, says.needMinutes),
    price: read('price', wordsSchema, says.needWords),
    turnaround: read('turnaround', wordsSchema, says.needWords),
  };
}

function markup(viewer: Viewer, fact: Fact<'workshop'>, jobs: readonly JobRow[], after: After): Markup {
  const { settings } = viewer.texts;
  const { jobs: says } = settings;
  const { columns } = says;
  return settingFrame(viewer, {
    ...{ title: says.title, lead: says.lead, after },
    body: html`
<form class="kept" method="post" action="${PATH}">${seenFact(viewer, fact, after)}
${table(
  columnsOf(
    [columns.job, columns.minutes, columns.price, columns.turnaround, columns.parts],
    [],
    [columns.parts],
  ),
  jobs.map((job) => jobRow(viewer, job, after)),
)}
<p><button class="primary">${settings.save}</button></p></form>`,
  });
}

function jobRow(viewer: Viewer, job: JobRow, after: After) {
  const { texts, words } = viewer;
  const { jobs: says } = texts.settings;
  const service = words.serviceKind(job.serviceKind);
  const whose = `${words.unitKind[job.unitKind]}, ${service}`;
  const input = (what: 'minutes' | 'price' | 'turnaround', value: string): Markup => {
    const name = nameOf(what, job);
    const of = { name, ...wrongAt(after, name) };
    return html`<input class="short" id="${name}" name="${name}" aria-label="${says.columns[what]}: ${whose}" value="${after.fields[name] ?? value}" autocomplete="off"${when(what === 'minutes', () => html` inputmode="numeric"`)}${when(of.isFocused === true, () => html` autofocus`)}${describedBy(of)}>${wrongNote(of)}`;
  };
  const isUsual = job.minutes === job.usual;
  return {
    head: html`<b>${capitalised(service)}</b><small>${words.unitKind[job.unitKind]}</small>`,
    cells: [
      html`${input('minutes', String(job.minutes))}${when(!isUsual, () => html`<small>${says.usual(words.number(job.usual))}</small>`)}`,
      job.isOffered ? input('price', job.price ?? '') : html`<small>${says.notOffered}</small>`,
      job.isOffered ? input('turnaround', job.turnaround ?? '') : html``,
      html`<a href="${pathOfParts(job)}" aria-label="${says.parts}: ${whose}">${says.parts}</a>`,
    ],
  };
}
