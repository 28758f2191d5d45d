import { html } from 'hono/html';
import { z } from 'zod';
import { MEASURES, type UsedPart } from '../../core/ledger/facts.js';
import { isLine } from '../../core/lines.js';
import { NotTaken } from '../entryForm.js';
import { describedBy, type Markup, when, wrongNote } from '../markup.js';
import type { After, Fields } from '../taken.js';
import type { Viewer } from '../viewer.js';
import { wrongAt } from './frame.js';

/** So many empty lines stand below those that are filled. */
const EMPTY_LINES = 3;
const MOST_LINES = 60;

const nameSchema = z.string().trim().max(200).refine(isLine);
const countSchema = z
  .string()
  .transform((text) => text.trim().replace(',', '.') || '1')
  .pipe(
    z
      .string()
      .regex(/^\d{1,6}(\.\d{1,2})?$/)
      .transform(Number),
  )
  .pipe(z.number().positive().max(100_000));
const measureSchema = z.enum(MEASURES);

/** A line with the fact that stood there; `use` null where its name was taken away. */
export interface TypedLine {
  readonly factId: string | null;
  readonly use: UsedPart | null;
}

/** Returns the lines of a list of parts as a form has them. Errors: NotTaken, naming the field. */
export function partLinesIn(fields: Fields, { texts: { settings } }: Pick<Viewer, 'texts'>): TypedLine[] {
  const { parts: says } = settings;
  const lines: TypedLine[] = [];
  for (let at = 0; at < MOST_LINES && fields[`part-${at}`] !== undefined; at++) {
    const factId = fields[`id-${at}`] || null;
    const part = nameSchema.safeParse(fields[`part-${at}`]);
    if (!part.success) throw new NotTaken(says.needPart, `part-${at}`);
    if (part.data === '') {
      lines.push({ factId, use: null });
      continue;
    }
    const count = countSchema.safeParse(fields[`count-${at}`] ?? '');
    if (!count.success) throw new NotTaken(says.needCount, `count-${at}`);
    const measure = measureSchema.safeParse(fields[`measure-${at}`]);
    if (lines.some(({ use }) => use?.part === part.data)) throw new NotTaken(says.twice, `part-${at}`);
    lines.push({ factId, use: { part: part.data, count: count.data, measure: measure.data ?? 'pieces' } });
  }
  return lines;
}

export interface StandingLine extends UsedPart {
  readonly factId: string | null;
}

/** Part, amount and measure, line by line, with a few empty ones; what was typed stays where it was not taken. */
export function partLines(
  viewer: Viewer,
  {
    rows,
    known,
    after,
  }: { readonly rows: readonly StandingLine[]; readonly known: readonly string[]; readonly after: After },
): Markup {
  const { parts: says } = viewer.texts.settings;
  const { fields } = after;
  const sent = Object.keys(fields).filter((name) => name.startsWith('part-')).length;
  const count = sent > 0 ? Math.min(sent, MOST_LINES) : Math.min(rows.length + EMPTY_LINES, MOST_LINES);
  return html`
<datalist id="known-parts">${known.map((name) => html`<option value="${name}"></option>`)}</datalist>
<div class="part-line heads" aria-hidden="true"><b>${says.heads.part}</b><b>${says.heads.count}</b></div>
<div class="part-lines">${Array.from({ length: count }, (_, at) => {
    const row = rows[at];
    const typed = (name: string): string | undefined => fields[`${name}-${at}`];
    const input = (name: 'part' | 'count', value: string, label: string): Markup => {
      const of = { name: `${name}-${at}`, ...wrongAt(after, `${name}-${at}`) };
      return html`<div><input id="${of.name}" name="${of.name}" value="${typed(name) ?? value}" aria-label="${label}" autocomplete="off"${
        name === 'part' ? html` list="known-parts"` : html` class="short" inputmode="decimal"`
      }${when(of.isFocused === true, () => html` autofocus`)}${describedBy(of)}>${wrongNote(of)}</div>`;
    };
    const measure = typed('measure') ?? row?.measure ?? 'pieces';
    return html`<div class="part-line"><input type="hidden" name="id-${at}" value="${typed('id') ?? row?.factId ?? ''}">
${input('part', row?.part ?? '', says.part(at + 1))}
${input('count', row === undefined ? '' : String(row.count), says.count(at + 1))}
<select name="measure-${at}" aria-label="${says.measure(at + 1)}">${MEASURES.map(
      (one) =>
        html`<option value="${one}"${one === measure ? html` selected` : ''}>${says.measures[one]}</option>`,
    )}</select></div>`;
  })}</div>
<p class="hint">${says.removeHint}</p>`;
}
