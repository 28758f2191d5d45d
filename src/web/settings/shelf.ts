import type { Context } from 'hono';
import { html } from 'hono/html';
import { z } from 'zod';
import { isLine } from '../../core/lines.js';
import { type Count, countParts, listShelfRows, type ShelfRow } from '../../flow/counter/shelfPage.js';
import { partText } from '../cells/planCells.js';
import { change } from '../change.js';
import type { WebDeps } from '../deps.js';
import { NotTaken } from '../entryForm.js';
import { fieldsOf } from '../guard.js';
import { formToken } from '../layout.js';
import { describedBy, field, type Markup, type Row, table, when, wrongNote } from '../markup.js';
import type { Pages } from '../routes.js';
import { datedText } from '../show.js';
import { type After, afterQuery, type Fields, taken } from '../taken.js';
import type { Viewer, WebEnv } from '../viewer.js';
import { settingFrame, wrongAt } from './frame.js';

const PATH = '/settings/shelf';
const MOST_ROWS = 500;

const numberIn = (text: string): string => text.trim().replace(',', '.');
const countSchema = z
  .string()
  .transform(numberIn)
  .pipe(z.string().regex(/^\d{1,7}(\.\d{1,2})?$/))
  .transform(Number)
  .pipe(z.number().max(1_000_000));
const daysSchema = z
  .string()
  .trim()
  .regex(/^\d{0,3}$/)
  .transform(Number)
  .pipe(z.number().max(365));
const partSchema = z.string().trim().min(1).max(200).refine(isLine);

/** What lies on the shelf and how long an order takes, part by part. */
export function shelfPage(pages: Pages, deps: WebDeps): void {
  const show = async (c: Context<WebEnv>, after: After): Promise<Markup> =>
    markup(c.get('viewer'), await deps.store.read(listShelfRows), after);
  pages.get(PATH, async (c) => c.html(await show(c, afterQuery(c))));
  pages.post(PATH, async (c) => {
    const viewer = c.get('viewer');
    const fields = await fieldsOf(c);
    const work = async (): Promise<string> => {
      const counts = countsIn(fields, viewer);
      const counted = await change(deps, c, (tx, entry) => countParts(tx, counts, viewer.today, entry));
      return `${PATH}?done=${counted === 0 ? 'unchanged' : 'saved'}`;
    };
    return taken(c, fields, work, (after) => show(c, after));
  });
}

/** A part without a count is not counted; the last line is for one that no job takes. Errors: NotTaken. */
function countsIn(fields: Fields, { texts: { settings } }: Viewer): Count[] {
  const { shelf: says } = settings;
  const counts: Count[] = [];
  const rows = [...Array.from({ length: MOST_ROWS }, (_, at) => String(at)), 'new'];
  for (const at of rows) {
    const typed = fields[`part-${at}`];
    if (typed === undefined || (at === 'new' && typed.trim() === '')) continue;
    if ((fields[`count-${at}`] ?? '').trim() === '' && at !== 'new') continue;
    const part = partSchema.safeParse(typed);
    if (!part.success) throw new NotTaken(says.needPart, `part-${at}`);
    const count = countSchema.safeParse(fields[`count-${at}`] ?? '');
    if (!count.success) throw new NotTaken(says.needCount, `count-${at}`);
    const days = daysSchema.safeParse(fields[`days-${at}`] ?? '');
    if (!days.success) throw new NotTaken(says.needDays, `days-${at}`);
    counts.push({ part: part.data, count: count.data, deliveryDays: days.data });
  }
  return counts;
}

function markup(viewer: Viewer, rows: readonly ShelfRow[], after: After): Markup {
  const { settings } = viewer.texts;
  const { shelf: says } = settings;
  const { columns } = says;
  return settingFrame(viewer, {
    ...{ title: says.title, lead: says.lead, after },
    body: html`
<form class="kept" method="post" action="${PATH}">${formToken(viewer)}
${
  rows.length === 0
    ? html`<p>${says.none} <a href="/settings/jobs">${settings.jobs.title}</a></p>`
    : table(
        [columns.part, columns.count, columns.days, columns.counted].map((label) => ({ label })),
        rows.slice(0, MOST_ROWS).map((row, at) => shelfRow(viewer, row, at, after)),
      )
}
<section class="screen"><h2>${says.another}</h2>
<div class="row">
${field({ name: 'part-new', label: columns.part, value: after.fields['part-new'], ...wrongAt(after, 'part-new') })}
${field({ name: 'count-new', label: columns.count, value: after.fields['count-new'], inputmode: 'decimal', isShort: true, ...wrongAt(after, 'count-new') })}
${field({ name: 'days-new', label: columns.days, value: after.fields['days-new'], inputmode: 'numeric', isShort: true, ...wrongAt(after, 'days-new') })}
</div></section>
<p><button class="primary">${settings.save}</button></p></form>
<p class="screen"><a href="/load">${says.toOrders}</a></p>`,
  });
}

function shelfRow(viewer: Viewer, { part, measure, shelf }: ShelfRow, at: number, after: After): Row {
  const { settings } = viewer.texts;
  const { columns } = settings.shelf;
  const name = partText(part, viewer);
  const input = (what: 'count' | 'days', label: string, value: number | undefined): Markup => {
    const of = { name: `${what}-${at}`, ...wrongAt(after, `${what}-${at}`) };
    return html`<input class="short" id="${of.name}" name="${of.name}" aria-label="${label}: ${name}" inputmode="decimal" autocomplete="off" value="${after.fields[of.name] ?? value ?? ''}"${when(of.isFocused === true, () => html` autofocus`)}${describedBy(of)}>${wrongNote(of)}`;
  };
  return {
    head: html`<b>${name}</b><input type="hidden" name="part-${at}" value="${part}">`,
    cells: [
      html`${input('count', columns.count, shelf?.left)}<small>${settings.parts.measures[measure]}</small>`,
      input('days', columns.days, shelf?.deliveryDays),
      html`${shelf === null ? settings.shelf.never : shelf.countedOn === null ? '' : datedText(shelf.countedOn, viewer)}`,
    ],
  };
}
