import { html } from 'hono/html';
import type { ForeseenUnit } from '../../flow/due/foreseen.js';
import { getBenchPage } from '../../flow/plan/benchPage.js';
import { dueKind } from '../../flow/plan/dayPlan.js';
import type { ShownLead } from '../../flow/plan/listLeads.js';
import { pathOfUnit, unitCell } from '../cells/dueCells.js';
import { minutesText, planPages } from '../cells/planCells.js';
import type { WebDeps } from '../deps.js';
import { page } from '../layout.js';
import { type Markup, table } from '../markup.js';
import type { Pages } from '../routes.js';
import type { Viewer } from '../viewer.js';

/** What lies on the bench, and which days are taken. */
export function benchPage(pages: Pages, { store }: WebDeps): void {
  pages.get('/bench', async (c) => {
    const viewer = c.get('viewer');
    const view = await store.read((tx) => getBenchPage(tx, viewer.now));
    return c.html(markup(viewer, view.units, view.leads));
  });
}

function markup(viewer: Viewer, units: readonly ForeseenUnit[], leads: readonly ShownLead[]): Markup {
  const { bench } = viewer.texts;
  return page(viewer, {
    title: bench.title,
    current: 'plan',
    body: html`
<h1>${bench.title}</h1>
<p class="lead">${bench.lead}</p>
${planPages(viewer, 'bench')}
<h2>${bench.onTitle}</h2>
${units.length === 0 ? html`<p>${bench.nothing}</p>` : unitTable(viewer, units)}
<h2>${bench.daysTitle}</h2>
${dayTable(viewer, leads)}`,
  });
}

function unitTable(viewer: Viewer, units: readonly ForeseenUnit[]): Markup {
  const { texts, words, today } = viewer;
  const { bench } = texts;
  const { columns } = bench;
  return table(
    [columns.unit, columns.bike, columns.job, columns.card].map((label) => ({ label })),
    units.map((one) => {
      const job = dueKind(one, today);
      const { tag, unitKind, model } = one.unit;
      return {
        head: unitCell(viewer, { unit: tag, unitKind, model }),
        cells: [
          html`${one.bike?.name ?? texts.due.noBike}`,
          html`${job === null ? bench.nothingDue : words.serviceKind(job)}`,
          html`<a href="${pathOfUnit(tag)}/card" aria-label="${bench.card}: ${tag}">${bench.card}</a>`,
        ],
      };
    }),
  );
}

function dayTable(viewer: Viewer, leads: readonly ShownLead[]): Markup {
  const { texts, words, today } = viewer;
  const { bench } = texts;
  const days = new Map<NonNullable<ShownLead['day']>, ShownLead[]>();
  for (const lead of leads) if (lead.day !== null) days.set(lead.day, [...(days.get(lead.day) ?? []), lead]);
  if (days.size === 0) return html`<p>${bench.noDays}</p>`;
  const { day, jobs, minutes } = bench.dayColumns;
  return table(
    [day, jobs, minutes].map((label) => ({ label })),
    [...days]
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([on, own]) => ({
        head: html`<a href="/day?on=${on}">${words.weekday(on, today)}</a>`,
        cells: [
          html`${own.map((lead) => html`<div><a href="${pathOfUnit(lead.unit)}">${lead.unit}</a>, ${words.serviceKind(lead.serviceKind)}${lead.state === 'asked-for' ? html` (${bench.asked})` : ''}</div>`)}`,
          html`${minutesText(
            own.reduce((sum, lead) => sum + lead.benchMinutes, 0),
            viewer,
          )}`,
        ],
      })),
  );
}
