import { html } from 'hono/html';
import { LEAST_DARK, LEAST_SERVICES, type Lesson, type NineOfTen } from '../../core/ledger/findingsTeach.js';
import { getTeaching, type RingsTaught, UNUSABLE } from '../../flow/due/ringsSeen.js';
import { listLink } from '../cells/listLink.js';
import { nextStep } from '../cells/nextStep.js';
import { percentText } from '../cells/planCells.js';
import type { WebDeps } from '../deps.js';
import { page } from '../layout.js';
import { columnsOf, type Markup, table, when } from '../markup.js';
import { darkPlot } from '../plots/darkPlot.js';
import type { Pages } from '../routes.js';
import type { Viewer } from '../viewer.js';

export function findingsPage(pages: Pages, { store }: WebDeps): void {
  pages.get('/findings', async (c) => {
    const viewer = c.get('viewer');
    const { words } = viewer;
    const { findings } = viewer.texts.plan;
    const taught = await store.read((tx) => getTeaching(tx, viewer.now));
    const { services, dark, lesson } = taught;
    return c.html(
      page(viewer, {
        title: findings.title,
        current: 'findings',
        body: html`
<h1>${findings.title}</h1>
<p class="lead">${findings.lead}</p>
<p class="screen"><a href="/findings/year">${viewer.texts.benchYear.link}</a></p>
<p class="screen"><a href="/comebacks">${viewer.texts.comebacks.link}</a></p>
<p>${findings.seen(words.counted(services, 'service'), words.number(dark))}</p>
${unusableMarkup(viewer, taught)}
${lesson === null ? silentMarkup(viewer, taught) : lessonMarkup(viewer, lesson)}
<h2 class="screen">${viewer.texts.customer.services}</h2>
${[0, 1].map((ago) => String(Number(viewer.today.slice(0, 4)) - ago)).map((year) => listLink(viewer, 'services', { year }, viewer.texts.customer.servicesOf(year)))}`,
      }),
    );
  });
}

/** Why nothing is told yet. Rings that were all dark say at least that they were opened too late. */
function silentMarkup(viewer: Viewer, { allDarkFrom, missing }: RingsTaught): Markup {
  const { findings } = viewer.texts.plan;
  const early = nextStep(
    `${findings.silent(LEAST_SERVICES, LEAST_DARK)} ${findings.missing(missing.services, missing.dark)}`,
    '/bench',
    viewer.texts.today.toBench,
  );
  const late = (hours: number): Markup =>
    html`<p><strong>${findings.allDark(viewer.words.hours(hours))}</strong> ${findings.allDarkHow}</p>`;
  return html`${allDarkFrom === null ? '' : late(allDarkFrom)}${when(allDarkFrom === null || missing.services > 0, () => early)}`;
}

/** Which looks could not be used, by reason. */
const unusableMarkup = ({ texts }: Viewer, { unusable, unusableBy }: RingsTaught): Markup => {
  const { findings } = texts.plan;
  const reasons = UNUSABLE.filter((reason) => unusableBy[reason] > 0);
  const lines = reasons.map((reason) => html`<li>${findings.why[reason](unusableBy[reason])}</li>`);
  return when(unusable > 0, () => html`<p>${findings.unusable(unusable)}</p><ul>${lines}</ul>`);
};

/** Offered as an interval, on the page that first shows what would change. */
function suggestion({ words, texts }: Viewer, { hours, low, high }: NineOfTen): Markup {
  const { findings } = texts.plan;
  const whole = Math.max(1, Math.floor(hours));
  return html`<p><strong>${findings.suggested(words.hours(hours))}</strong> ${findings.range(words.hours(low), words.hours(high))} ${findings.suggestedHow}</p>
<p><a class="button" href="/intervals/fork/lower-leg?terrainHours=${whole}">${findings.tryIt(words.hours(whole))}</a></p>`;
}

function lessonMarkup(viewer: Viewer, lesson: Lesson): Markup {
  const { words } = viewer;
  const { findings } = viewer.texts.plan;
  const percent = (share: number): string => percentText(share, viewer);
  const { nineOfTen } = lesson;
  const points = (lead: number): string => words.number(100 * lead);
  return html`
${nineOfTen === null ? html`<p>${findings.notReached}</p>` : suggestion(viewer, nineOfTen)}
${darkPlot(lesson, viewer)}
<h2>${findings.betterTitle}</h2>
<p><strong>${findings.better[lesson.better]}</strong></p>
<h2>${findings.tableTitle}</h2>
${table(
  columnsOf(Object.values(findings.columns), Object.values(findings.columns)),
  lesson.steps.map((step) => ({
    head: html`<b>${words.measured(step.hours)}</b>`,
    cells: [html`${percent(step.share)}`, html`${words.number(step.services)}`],
  })),
)}
<details><summary>${findings.howTitle}</summary><p>${findings.pairs(percent(lesson.terrain), percent(lesson.moving))}
${findings.lead80(points(lesson.leadRange.low), points(lesson.leadRange.high))}</p><p>${findings.how}</p></details>
<p class="soft">${viewer.texts.severityNote}</p>`;
}
