import { html } from 'hono/html';
import { HTTPException } from 'hono/http-exception';
import type { PartUse } from '../../core/plan/parts.js';
import { BENCH_ORDERS } from '../../core/plan/raceBench.js';
import type { RaceReason } from '../../core/plan/races.js';
import { listRacePlans, type RaceJob, type RacePlan } from '../../flow/plan/racePlan.js';
import { numberFormat } from '../../languages/formats.js';
import { pathOfUnit, small } from '../cells/dueCells.js';
import { nextStep } from '../cells/nextStep.js';
import { amountText, minutesText, partText } from '../cells/planCells.js';
import type { WebDeps } from '../deps.js';
import { cautions, page } from '../layout.js';
import { columnsOf, type Markup, table, when } from '../markup.js';
import type { Pages } from '../routes.js';
import { capitalised, datedText } from '../show.js';
import type { Viewer } from '../viewer.js';

export function racesPages(pages: Pages, { store }: WebDeps): void {
  pages.get('/races', async (c) => {
    const viewer = c.get('viewer');
    return c.html(
      list(viewer, await store.read((tx) => listRacePlans(tx, viewer.now, viewer.fleet?.id ?? null))),
    );
  });
  pages.get('/races/:race', async (c) => {
    const viewer = c.get('viewer');
    const order = BENCH_ORDERS.find((one) => one === c.req.query('order')) ?? 'due-first';
    const plans = await store.read((tx) => listRacePlans(tx, viewer.now, viewer.fleet?.id ?? null, order));
    const plan = plans.find(({ race }) => race === c.req.param('race'));
    if (!plan) throw new HTTPException(404);
    return c.html(sheet(viewer, plan));
  });
}

const pathOf = ({ race }: RacePlan): string => `/races/${encodeURIComponent(race)}`;

function list(viewer: Viewer, plans: readonly RacePlan[]): Markup {
  const { races } = viewer.texts.plan;
  const { columns } = races;
  return page(viewer, {
    title: races.title,
    current: 'races',
    body: html`
<h1>${races.title}</h1>
<p class="lead">${races.lead}</p>
${
  plans.length === 0
    ? nextStep(races.none, '/races/new', viewer.texts.racing.race.enter)
    : html`<p class="screen"><a class="button" href="/races/new">${viewer.texts.racing.race.enter}</a></p>
${table(
  [columns.race, columns.when, columns.bikes, columns.before].map((label) => ({ label })),
  plans.map((plan) => ({
    head: html`<a href="${pathOf(plan)}">${plan.name}</a>${small(hoursText(viewer, plan))}`,
    cells: [
      html`${viewer.words.weekday(plan.on, viewer.today)}`,
      html`${viewer.words.list(plan.bikes.map(({ bike }) => bike.name))}`,
      before(viewer, plan),
    ],
  })),
)}`
}`,
  });
}

const hoursText = ({ texts, words }: Viewer, { practiceHours, raceHours }: RacePlan): string =>
  texts.plan.races.hours(words.hours(practiceHours), words.hours(raceHours));

function before(viewer: Viewer, { jobs, stopped }: RacePlan): Markup {
  const { races } = viewer.texts.plan;
  const first = jobs[0];
  const by = first?.by ? races.firstBy(viewer.words.weekday(first.by, viewer.today)) : null;
  return html`${races.tally(jobs.length)}${small(by)}${when(
    jobs.some((job) => job.isLate),
    () => html` <strong>${races.late}</strong>`,
  )}${stopped.map(({ unit, bike }) => html`<br><strong>${races.stopped(unit.tag, bike.name)}</strong>`)}`;
}

/** One race on a sheet of A4: what to do by when, and what to have along. */
function sheet(viewer: Viewer, plan: RacePlan): Markup {
  const { texts, words, today } = viewer;
  const { races } = texts.plan;
  return page(viewer, {
    title: plan.name,
    current: 'races',
    body: html`
<h1>${plan.name}</h1>
<p class="lead">${capitalised(words.weekday(plan.on, today))}. ${capitalised(hoursText(viewer, plan))}.</p>
<p class="screen"><a href="/races">${races.back}</a> · <a href="${pathOf(plan)}/change">${texts.racing.race.change}</a>. ${texts.plan.print}</p>
<div class="sheet">
${plan.stopped.map(({ unit, bike }) => html`<p><strong>${races.stopped(unit.tag, bike.name)}</strong></p>`)}
${plan.jobs.length === 0 ? html`<p>${races.tally(0)}</p>` : html`${capacity(viewer, plan)}${jobTable(viewer, plan.jobs)}`}
<p class="soft">${races.how(plan.openDaysBefore)}</p>
<h2>${races.partsTitle}</h2>
<p class="lead screen">${races.partsLead}</p>
${when(
  plan.jobs.some(({ on }) => on === null),
  () => html`<p class="soft">${races.partsOfFit}</p>`,
)}
${truckTable(viewer, plan)}
<h2>${races.bikesTitle}</h2>
<ul>${plan.bikes.map(({ bike, units }) => html`<li>${bike.name}: ${units.map((unit) => groundText(viewer, unit)).join('; ')}</li>`)}</ul>
</div>
${cautions(viewer)}`,
  });
}

function groundText(
  { texts: { plan }, words }: Viewer,
  { tag, weight, rides }: RacePlan['bikes'][number]['units'][number],
): string {
  if (rides === 0) return plan.races.noRides(tag);
  const shown = numberFormat(words.locale, { maximumFractionDigits: 2 }).format(weight);
  return plan.races.ground(tag, shown, words.counted(rides, 'ride'));
}

/** Whether the bench has time for all of it; else that it has not, and what another order would bring. */
function capacity(viewer: Viewer, plan: RacePlan): Markup {
  const { races } = viewer.texts.plan;
  const { jobs, order, moreByOther } = plan;
  const minutes = jobs.reduce((sum, job) => sum + job.minutes, 0);
  const missing = jobs.filter((job) => job.on === null);
  const other = order === 'due-first' ? 'short-first' : 'due-first';
  return html`<p>${races.takes(minutesText(minutes, viewer))} ${
    missing.length === 0 ? races.allFit : html`<strong>${races.notAllFit(missing.length)}</strong>`
  } ${when(
    moreByOther > 0 || order !== 'due-first',
    () =>
      html`<a class="screen" href="${pathOf(plan)}${other === 'due-first' ? '' : `?order=${other}`}">${moreByOther > 0 ? races.moreBy[other](moreByOther) : races.dueFirst}</a>`,
  )}</p>`;
}

/** The day on the bench, or that there is none, and the spare that could be raced instead. */
function benchText(viewer: Viewer, { on, spare, minutes }: RaceJob): Markup {
  const { races } = viewer.texts.plan;
  const long = minutesText(minutes, viewer);
  if (on !== null) return small(races.onBench(viewer.words.weekday(on, viewer.today), long));
  return html`<br><strong>${races.doesNotFit(long)}</strong>${small(spare === null ? races.noSpare : races.useSpare(spare))}`;
}

const BOX = html`<span class="box"></span>`;

function jobTable(viewer: Viewer, jobs: readonly RaceJob[]): Markup {
  const { races } = viewer.texts.plan;
  const { jobColumns: columns } = races;
  return table(
    [columns.unit, columns.by, columns.bike, columns.service, columns.why, columns.done].map((label) => ({
      label,
    })),
    jobs.map((job) => ({
      head: html`<a href="${pathOfUnit(job.unit.tag)}">${job.unit.tag}</a>${small(job.unit.model)}`,
      cells: [
        byCell(viewer, job),
        html`${job.bike.name}`,
        html`${viewer.words.serviceKind(job.serviceKind)}${small(job.wantsShakedown ? races.shakedown : null)}`,
        html`${job.reasons.map((reason) => html`<div>${reasonText(viewer, reason)}</div>`)}${small(job.because === null ? null : races.inPlace(viewer.words.because(job.because)))}`,
        BOX,
      ],
    })),
  );
}

function byCell(viewer: Viewer, job: RaceJob): Markup {
  const { by, isLate } = job;
  const { races } = viewer.texts.plan;
  const day = by === null ? races.noDay : viewer.words.weekday(by, viewer.today);
  return html`${day}${when(isLate, () => html`<br><strong>${races.late}</strong>`)}${benchText(viewer, job)}`;
}

function reasonText(viewer: Viewer, reason: RaceReason): string {
  const { texts, words, today } = viewer;
  const { why } = texts.plan.races;
  const service = words.serviceKind(reason.serviceKind);
  switch (reason.limit) {
    case 'terrain-hours':
      return why['terrain-hours'](
        service,
        words.measured(reason.terrainHoursThen),
        words.hours(reason.limitHours!),
      );
    case 'moving-hours':
      return why['moving-hours'](
        service,
        words.measured(reason.movingHoursThen),
        words.hours(reason.limitHours!),
      );
    case 'months':
      return why.months(service, datedText(reason.monthsOn!, viewer), reason.monthsOn! <= today);
    case 'none':
      return why.none(service);
  }
}

function truckTable(viewer: Viewer, { parts, carry, spares }: RacePlan): Markup {
  const { partColumns: columns } = viewer.texts.plan.races;
  const names = new Map([...parts, ...carry, ...spares].map((use) => [`${use.measure} ${use.part}`, use]));
  const amount = (uses: readonly PartUse[], key: string): string => {
    const use = uses.find((one) => `${one.measure} ${one.part}` === key);
    return use ? amountText(use, viewer) : '';
  };
  return table(
    columnsOf(
      [columns.part, columns.before, columns.carry, columns.spares, columns.packed],
      [columns.before, columns.carry, columns.spares],
    ),
    [...names].map(([key, use]) => ({
      head: html`<b>${partText(use.part, viewer)}</b>`,
      cells: [html`${amount(parts, key)}`, html`${amount(carry, key)}`, html`${amount(spares, key)}`, BOX],
    })),
  );
}
