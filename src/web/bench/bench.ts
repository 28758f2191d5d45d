import type { Context } from 'hono';
import { html } from 'hono/html';
import { JOB_STEPS } from '../../core/tokens.js';
import { type BenchPage, getBenchPage } from '../../flow/plan/benchPage.js';
import type { ShownJob } from '../../flow/plan/jobs.js';
import type { ShownLead } from '../../flow/plan/listLeads.js';
import { pathOfUnit } from '../cells/dueCells.js';
import { minutesText } from '../cells/planCells.js';
import type { WebDeps } from '../deps.js';
import { formToken, page } from '../layout.js';
import { columnsOf, field, type Markup, said, saidAfter, table, when } from '../markup.js';
import type { Pages } from '../routes.js';
import { unbroken } from '../show.js';
import { type After, afterQuery } from '../taken.js';
import { showUnit } from '../unit/unit.js';
import type { Viewer, WebEnv } from '../viewer.js';
import { jobForms as forms, jobLines, saidFields } from './jobMarkup.js';
import { jobForms } from './jobs.js';

/** The board of jobs: what is at the workshop, step by step, what comes today, and which days are taken. */
export function benchPage(pages: Pages, deps: WebDeps): void {
  const show = async (c: Context<WebEnv>, after: After): Promise<Markup> => {
    const viewer = c.get('viewer');
    return markup(viewer, await deps.store.read((tx) => getBenchPage(tx, viewer.now)), after);
  };
  pages.get('/bench', async (c) => c.html(await show(c, afterQuery(c))));
  jobForms(pages, deps, { bench: (c, _tag, after) => show(c, after), unit: showUnit(deps) });
}

function markup(viewer: Viewer, { jobs, comes, leads, isMore }: BenchPage, after: After): Markup {
  const { bench } = viewer.texts;
  const { words } = viewer;
  const isHere = jobs.some(({ one }) => one.unit.tag === after.fields.unit);
  const minutes = jobs.reduce((sum, job) => sum + job.minutes, 0);
  return page(viewer, {
    title: bench.title,
    current: 'bench',
    takesPhotos: true,
    body: html`
<h1>${bench.title}</h1>
<p class="lead">${bench.lead}</p>
${saidAfter(isHere ? null : after.fault, after.done === null ? undefined : bench.done[after.done])}
${jobs.length === 0 ? html`<p>${bench.nothing}</p>` : html`<p>${bench.counted(words.counted(jobs.length, 'unit'), minutesText(minutes, viewer))}</p>`}
${when(comes.length > 0, () => html`<h2>${bench.comesTitle}</h2>${comes.map((lead) => comesEntry(viewer, lead))}`)}
<div class="board">${JOB_STEPS.map((step) => {
      const own = jobs.filter(({ stay }) => stay.job.step === step);
      return when(
        own.length > 0,
        () =>
          html`<section><h2>${bench.stepTitle[step]} <small>${words.number(own.length)}</small></h2>${own.map((job) => jobEntry(viewer, job, after))}</section>`,
      );
    })}</div>
<section class="entry screen"><h2>${bench.arriveTitle}</h2>
<form method="post" action="/bench/arrive">${formToken(viewer)}
${field({ name: 'tag', label: bench.tag, value: after.fields.tag, isShort: true, isRequired: true })}
${saidFields(viewer, null, after.fields.tag === undefined ? {} : after.fields, 'new')}
<p><button>${bench.job.arrive}</button></p></form></section>
<h2>${bench.daysTitle}</h2>
<div class="sheet">${dayTable(viewer, leads)}</div>
${when(isMore, () => html`<p class="screen"><a href="/leads">${bench.moreDays}</a></p>`)}`,
  });
}

function jobEntry(viewer: Viewer, shown: ShownJob, after: After): Markup {
  const { texts, words } = viewer;
  const { unit, bike } = shown.one;
  const isSent = after.fault !== null && after.fields.unit === unit.tag;
  const who =
    shown.rider === null
      ? null
      : texts.bench.job.call(
          shown.rider.name,
          shown.rider.phone === null ? texts.leads.noPhone : unbroken(shown.rider.phone),
        );
  return html`<article class="entry">
<h3><a href="${pathOfUnit(unit.tag)}">${unit.tag}</a> ${words.unitKind[unit.unitKind]}${unit.model === null ? '' : `, ${unit.model}`}</h3>
<p>${[bike?.name ?? shown.backTo ?? texts.due.noBike, who].filter((text) => text !== null).join(' · ')}</p>
${when(isSent, () => said(after.fault!, 'alert'))}
${jobLines(viewer, shown)}
${forms(viewer, shown, 'bench', isSent ? after.fields : {})}
</article>`;
}

const comesEntry = (viewer: Viewer, lead: ShownLead): Markup => {
  const { bench } = viewer.texts;
  return html`<article class="entry comes"><p><a href="${pathOfUnit(lead.unit)}">${lead.unit}</a>, ${viewer.words.jobs([lead.serviceKind, ...lead.beside])} · ${lead.bike ?? viewer.texts.due.noBike} · ${lead.riderName ?? viewer.texts.leads.noRider}</p>
<form method="post" action="${pathOfUnit(lead.unit)}/arrive">${formToken(viewer)}<input type="hidden" name="from" value="bench"><button aria-label="${bench.cameOf(lead.unit)}">${bench.came}</button></form></article>`;
};

function dayTable(viewer: Viewer, leads: readonly ShownLead[]): Markup {
  const { texts, words, today } = viewer;
  const { bench } = texts;
  const days = new Map<NonNullable<ShownLead['day']>, ShownLead[]>();
  for (const lead of leads) if (lead.day !== null) days.set(lead.day, [...(days.get(lead.day) ?? []), lead]);
  if (days.size === 0) return html`<p>${bench.noDays}</p>`;
  const { day, jobs, minutes } = bench.dayColumns;
  return table(
    columnsOf([day, jobs, minutes], [minutes]),
    [...days]
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([on, own]) => ({
        head: html`<a href="/day?on=${on}">${words.weekday(on, today)}</a>`,
        cells: [
          html`${own.map((lead) => html`<div><a href="${pathOfUnit(lead.unit)}">${lead.unit}</a>, ${words.jobs([lead.serviceKind, ...lead.beside])}${lead.state === 'asked-for' ? html` (${bench.asked})` : ''}</div>`)}`,
          html`${minutesText(
            own.reduce((sum, lead) => sum + lead.benchMinutes, 0),
            viewer,
          )}`,
        ],
      })),
  );
}
