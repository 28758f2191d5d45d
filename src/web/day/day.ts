import { html } from 'hono/html';
import { parseDay } from '../../core/days/dayNumber.js';
import type { Card } from '../../flow/plan/card.js';
import { getDayPage } from '../../flow/plan/dayPage.js';
import type { DayJob, DayPlan } from '../../flow/plan/dayPlan.js';
import { benchCard } from '../card/benchCard.js';
import { small, unitCell } from '../cells/dueCells.js';
import { nextStep } from '../cells/nextStep.js';
import { jobFor, minutesText, useText } from '../cells/planCells.js';
import type { WebDeps } from '../deps.js';
import { page } from '../layout.js';
import { columnsOf, field, type Markup, table, when } from '../markup.js';
import type { Pages } from '../routes.js';
import { capitalised } from '../show.js';
import type { Viewer } from '../viewer.js';

export function dayPage(pages: Pages, { store }: WebDeps): void {
  pages.get('/day', async (c) => {
    const viewer = c.get('viewer');
    const on = parseDay(c.req.query('on') ?? '') ?? undefined;
    const view = await store.read((tx) => getDayPage(tx, viewer.now, on));
    return c.html(markup(viewer, view.plan, view.cards));
  });
}

function markup(viewer: Viewer, plan: DayPlan, cards: readonly Card[]): Markup {
  const { texts, words, today } = viewer;
  const { day } = texts.plan;
  const title = day.title(words.weekday(plan.on, today));
  return page(viewer, {
    title,
    current: 'day',
    body: html`
<h1>${title}</h1>
<p class="lead">${day.lead} ${plan.isOpen ? day.usable(minutesText(plan.usableMinutes, viewer)) : day.closed}</p>
<form class="row screen" method="get" action="/day">
${field({ name: 'on', label: day.on, value: plan.on, type: 'date' })}<div class="field"><button>${day.show}</button></div></form>
${plan.jobs.length === 0 ? nextStep(day.nothing, '/leads', texts.today.toLeads) : html`<div class="sheet">${jobTable(viewer, plan.jobs)}</div>`}
${when(plan.parts.length > 0, () => html`<h2>${day.partsTitle}</h2><ul class="plain">${plan.parts.map((use) => html`<li><span class="box"></span>${useText(use, viewer)}</li>`)}</ul>`)}
${when(
  cards.length > 0,
  () =>
    html`<section class="cards-print"><div class="screen"><h2>${day.cardsTitle}</h2><p class="lead">${day.cardsLead} ${texts.plan.print}</p></div>${cards.map((card) => benchCard(viewer, card))}</section>`,
)}`,
  });
}

function jobTable(viewer: Viewer, jobs: readonly DayJob[]): Markup {
  const { texts, words } = viewer;
  const { columns } = texts.plan.day;
  return table(
    columnsOf([columns.unit, columns.service, columns.why, columns.time, columns.takes], [columns.time]),
    jobs.map((job) => ({
      head: unitCell(viewer, {
        unit: job.one.unit.tag,
        unitKind: job.one.unit.unitKind,
        model: job.one.unit.model,
      }),
      cells: [
        html`${jobFor(viewer, job)}${small(job.one.bike?.name ?? texts.due.noBike)}`,
        html`${whyText(viewer, job)}${small(job.wantsShakedown ? texts.plan.races.shakedown : null)}`,
        timeCell(viewer, job),
        html`${words.list(job.parts.map((use) => useText(use, viewer)))}`,
      ],
    })),
  );
}

function whyText({ texts, words, today }: Viewer, { reason, race, by }: DayJob): string {
  const { day, races } = texts.plan;
  if (race === null) return day.reason[reason];
  const forRace = day.forRace(race, by === null ? races.noDay : words.weekday(by, today));
  return reason === 'race' ? forRace : `${capitalised(day.reason[reason])}; ${forRace}`;
}

function timeCell(viewer: Viewer, { minutes, minutesSoFar, fits }: DayJob): Markup {
  const { day } = viewer.texts.plan;
  const soFar = day.soFar(minutesText(minutesSoFar, viewer));
  return html`${minutesText(minutes, viewer)}${small(fits ? soFar : day.another)}`;
}
