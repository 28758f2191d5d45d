import type { Context } from 'hono';
import { html } from 'hono/html';
import { z } from 'zod';
import type { Spread } from '../../core/chance/poissonBinomial.js';
import type { BenchWeek } from '../../core/plan/benchWeeks.js';
import type { PartPlan } from '../../core/plan/parts.js';
import { type BenchPlan, getBenchPlan, type LeftOut } from '../../flow/plan/benchPlan.js';
import { countShelf } from '../../flow/plan/partsShelf.js';
import { small } from '../cells/dueCells.js';
import { amountText, minutesText, partText, percentText, planPages } from '../cells/planCells.js';
import { change } from '../change.js';
import type { WebDeps } from '../deps.js';
import { lineSchema, NotTaken } from '../entryForm.js';
import { fieldsOf } from '../guard.js';
import { formToken, page } from '../layout.js';
import { field, type Markup, saidAfter, table, when } from '../markup.js';
import { minutesPlot } from '../plots/minutesPlot.js';
import type { Pages } from '../routes.js';
import { type After, afterQuery, taken } from '../taken.js';
import type { Viewer, WebEnv } from '../viewer.js';

export function loadPage(pages: Pages, deps: WebDeps): void {
  const show = async (c: Context<WebEnv>, after: After): Promise<Markup> => {
    const viewer = c.get('viewer');
    return markup(viewer, await deps.store.read((tx) => getBenchPlan(tx, viewer.now)), after);
  };
  pages.get('/load', async (c) => c.html(await show(c, afterQuery(c))));

  pages.post('/load/count', async (c) => {
    const viewer = c.get('viewer');
    const fields = await fieldsOf(c);
    const work = async (): Promise<string> => {
      const shelf = readCount(fields, viewer);
      await change(deps, c, (tx, entry) => countShelf(tx, { ...shelf, countedOn: viewer.today }, entry));
      return '/load?done=counted';
    };
    return taken(c, fields, work, (after) => show(c, after));
  });
}

const countSchema = z.coerce.number().min(0).max(1_000_000);
const daysSchema = z.coerce.number().int().min(0).max(365);

function readCount(fields: Readonly<Record<string, string>>, { texts: { plan } }: Viewer) {
  const refuse = (message: string): never => {
    throw new NotTaken(message);
  };
  const typed = (name: string): string => (fields[name] ?? '').trim().replace(',', '.');
  const part = lineSchema
    .min(1)
    .max(200)
    .safeParse(fields.part ?? '');
  const count = countSchema.safeParse(typed('count') || undefined);
  const days = daysSchema.safeParse(typed('deliveryDays') || '0');
  return {
    part: part.success ? part.data : refuse(plan.load.needPart),
    count: count.success ? count.data : refuse(plan.load.needCount),
    deliveryDays: days.success ? days.data : refuse(plan.load.needDays),
  };
}

function markup(viewer: Viewer, plan: BenchPlan, after: After): Markup {
  const { load } = viewer.texts.plan;
  const crowded = plan.weeks.filter((week) => week.isCrowded).map((week) => weekText(week, viewer));
  return page(viewer, {
    title: load.title,
    current: 'plan',
    body: html`
<h1>${load.title}</h1>
<p class="lead">${load.lead}</p>
${planPages(viewer, 'load')}
${saidAfter(after.fault, after.done === 'counted' ? load.counted : undefined)}
<p><strong>${crowded.length === 0 ? load.noneCrowded : load.crowded(viewer.words.list(crowded))}</strong></p>
${minutesPlot(plan.weeks, viewer)}
<div class="sheet">${weekTable(viewer, plan.weeks)}</div>
<p class="soft">${load.how(percentText(plan.response, viewer))} ${leftOutText(viewer, plan.leftOut)}</p>
<h2>${load.partsTitle}</h2>
<p class="lead">${load.partsLead(plan.weeks.length)}</p>
${plan.parts.length === 0 ? html`<p>${load.noParts}</p>` : html`<div class="sheet">${partsTable(viewer, plan.parts)}</div>`}
${countForm(viewer, plan.parts, after)}`,
  });
}

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
      { label: columns.due },
      { label: columns.services, note: spread },
      { label: columns.minutes, note: spread },
      { label: columns.usable },
      { label: columns.full },
    ],
    weeks.map((week) => ({
      head: html`<b>${weekText(week, viewer)}</b>`,
      cells: [
        html`${words.number(week.due)}${small(week.booked > 0 ? load.booked(week.booked) : null)}`,
        html`${words.number(week.services.mean)}${small(rangeText(viewer, week.services))}`,
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
    [columns.part, columns.left, columns.expected, columns.cover, columns.order].map((label) => ({ label })),
    parts.map((plan) => {
      const amount = (count: number): string => amountText({ count, measure: plan.measure }, viewer);
      const weeks = plan.weeks.map((week) => words.number(week.mean)).join('\u00a0· ');
      return {
        head: html`<b>${partText(plan.part, viewer)}</b>`,
        cells: [
          html`${plan.left === null ? load.notCounted : amount(plan.left)}`,
          html`${amount(plan.total.mean)}${small(load.byWeek(weeks))}`,
          html`${amount(plan.total.p90)}`,
          plan.orderBy === null
            ? html`${plan.left === null ? '' : load.enough}`
            : html`${plan.isLate ? html`<strong>${load.late}</strong>` : words.weekday(plan.orderBy, today)}${small(load.orderCount(amount(plan.orderCount)))}${small(load.shortFrom(words.day(plan.shortOn!, today)))}`,
        ],
      };
    }),
  );
}

function countForm(viewer: Viewer, parts: readonly PartPlan[], { fields, fault }: After): Markup {
  const { load } = viewer.texts.plan;
  return html`
<details class="screen"${fault === null ? '' : html` open`}><summary><h2>${load.countTitle}</h2></summary>
<p class="lead">${load.countLead}</p>
<form method="post" action="/load/count">${formToken(viewer)}
<div class="field"><label for="part">${load.part}</label>
<input id="part" name="part" list="parts" value="${fields.part ?? ''}" autocomplete="off" required>
<datalist id="parts">${parts.map(({ part }) => html`<option value="${part}">${partText(part, viewer)}</option>`)}</datalist></div>
${field({ name: 'count', label: load.count, value: fields.count, inputmode: 'decimal', isShort: true, isRequired: true })}
${field({ name: 'deliveryDays', label: load.deliveryDays, value: fields.deliveryDays ?? '0', inputmode: 'numeric', isShort: true })}
<button>${load.save}</button></form></details>`;
}
