import { html } from 'hono/html';
import type { Spread } from '../../core/chance/poissonBinomial.js';
import type { BenchWeek } from '../../core/plan/benchWeeks.js';
import type { PartPlan } from '../../core/plan/parts.js';
import { type BenchPlan, getBenchPlan, type LeftOut } from '../../flow/plan/benchPlan.js';
import { quietWeeksOf } from '../../flow/plan/quietWeek.js';
import { small } from '../cells/dueCells.js';
import { nextStep } from '../cells/nextStep.js';
import { amountText, minutesText, partText, percentText } from '../cells/planCells.js';
import type { WebDeps } from '../deps.js';
import { page } from '../layout.js';
import { columnsOf, type Markup, table, when } from '../markup.js';
import { minutesPlot } from '../plots/minutesPlot.js';
import type { Pages } from '../routes.js';
import type { Viewer } from '../viewer.js';

export function loadPage(pages: Pages, { store }: WebDeps): void {
  pages.get('/load', async (c) => {
    const viewer = c.get('viewer');
    return c.html(markup(viewer, await store.read((tx) => getBenchPlan(tx, viewer.now))));
  });
}

function markup(viewer: Viewer, plan: BenchPlan): Markup {
  const { load } = viewer.texts.plan;
  const crowded = plan.weeks.filter((week) => week.isCrowded).map((week) => weekText(week, viewer));
  return page(viewer, {
    title: load.title,
    current: 'load',
    body: html`
<h1>${load.title}</h1>
<p class="lead">${load.lead}</p>
<p><strong>${crowded.length === 0 ? load.noneCrowded : load.crowded(viewer.words.list(crowded))}</strong></p>
${minutesPlot(plan.weeks, viewer)}
<div class="sheet">${weekTable(viewer, plan.weeks)}</div>
${quietMarkup(viewer, quietWeeksOf(plan, viewer.zone))}
<p class="soft">${leftOutText(viewer, plan.leftOut)}</p>
<details><summary>${load.howTitle}</summary><p>${load.how(percentText(plan.response, viewer))}</p></details>
<h2>${load.partsTitle}</h2>
<p class="lead">${load.partsLead(plan.weeks.length)}</p>
${plan.parts.length === 0 ? nextStep(load.noParts, '/due', viewer.texts.today.allDue) : html`<div class="sheet">${partsTable(viewer, plan.parts)}</div>`}
<p class="screen"><a href="/settings/shelf">${load.countTitle}</a></p>`,
  });
}

/** Weeks with room, each with the page on which to fill it; in summer too, that page tells who was invited. */
const quietMarkup = (viewer: Viewer, weeks: readonly BenchWeek[]): Markup => {
  const { load } = viewer.texts.plan;
  return html`<section class="screen"><h2>${load.quietTitle}</h2>${when(
    weeks.length > 0,
    () => html`<p>${load.quietLead}</p>
<ul class="lines">${weeks.map(
      (week) =>
        html`<li><a href="/load/quiet?week=${week.from}">${load.invite(weekText(week, viewer))}</a> <small>${load.quietFree(minutesText(week.usableMinutes - week.minutes.mean, viewer))}</small></li>`,
    )}</ul>`,
  )}
<p><a href="/load/quiet">${load.invited}</a></p></section>`;
};

const weekText = ({ from, to }: BenchWeek, { words, today }: Viewer): string => words.range(from, to, today);

function leftOutText({ texts, words }: Viewer, leftOut: LeftOut): string {
  const { load } = texts.plan;
  const parts = (Object.keys(load.out) as (keyof LeftOut)[])
    .filter((name) => leftOut[name] > 0)
    .map((name) => load.out[name](leftOut[name]));
  return parts.length === 0 ? '' : load.leftOut(words.list(parts));
}

const rangeText = ({ texts, words }: Viewer, { p10, p90 }: Spread): string =>
  texts.plan.range(words.number(p10), words.number(p90));

function weekTable(viewer: Viewer, weeks: readonly BenchWeek[]): Markup {
  const { texts, words } = viewer;
  const { load } = texts.plan;
  const { columns, spread } = load;
  const minutes = (count: number): string => minutesText(count, viewer);
  return table(
    [
      { label: columns.week },
      { label: columns.due, isFigure: true },
      { label: columns.services, note: spread, isFigure: true },
      { label: columns.minutes, note: spread, isFigure: true },
      { label: columns.usable, isFigure: true },
      { label: columns.full, isFigure: true },
    ],
    weeks.map((week) => ({
      head: html`<b>${weekText(week, viewer)}</b>`,
      cells: [
        html`${words.number(week.due)}${small(week.booked > 0 ? load.booked(week.booked) : null)}`,
        html`${words.number(Math.round(week.services.mean))}${small(rangeText(viewer, week.services))}`,
        html`${minutes(week.minutes.mean)}${small(load.minutes(rangeText(viewer, week.minutes)))}`,
        html`${minutes(week.usableMinutes)}${small(load.openDays(week.openDays))}${small(week.places === null ? null : load.places(week.places))}`,
        html`${percentText(week.chanceTooFull, viewer)}${when(week.isCrowded, () => html` <strong>${load.isCrowded}</strong>`)}`,
      ],
    })),
  );
}

function partsTable(viewer: Viewer, parts: readonly PartPlan[]): Markup {
  const { words, today } = viewer;
  const { load } = viewer.texts.plan;
  const { partColumns: columns } = load;
  return table(
    columnsOf(
      [columns.part, columns.left, columns.expected, columns.cover, columns.order],
      [columns.left, columns.expected, columns.cover],
    ),
    parts.map((plan) => {
      const amount = (count: number): string => amountText({ count, measure: plan.measure }, viewer);
      const weeks = plan.weeks.map((week) => words.tenths(week.mean)).join('\u00a0· ');
      return {
        head: html`<b>${partText(plan.part, viewer)}</b>`,
        cells: [
          html`${plan.left === null ? load.notCounted : amount(plan.left)}`,
          html`${plan.measure === 'ml' ? load.millilitres(words.tenths(plan.total.mean)) : words.tenths(plan.total.mean)}${small(load.byWeek(weeks))}`,
          html`${amount(plan.total.p90)}`,
          plan.orderBy === null
            ? html`${plan.left === null ? '' : load.enough}`
            : html`${plan.isLate ? html`<strong>${load.late}</strong>` : words.weekday(plan.orderBy, today)}${small(load.orderCount(amount(plan.orderCount)))}${small(load.shortFrom(words.day(plan.shortOn!, today)))}`,
        ],
      };
    }),
  );
}
