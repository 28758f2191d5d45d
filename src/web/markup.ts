import { html } from 'hono/html';

/** Markup whose every text was escaped when it was put in. */
export type Markup = ReturnType<typeof html>;

export const NOTHING: Markup = html``;

export const when = (condition: boolean, markup: () => Markup): Markup => (condition ? markup() : NOTHING);

/** Returns a line beside the matter; nothing without a text. */
export const soft = (text: string | null): Markup =>
  text === null ? NOTHING : html`<p class="soft">${text}</p>`;

export interface Column {
  readonly label: string;
  readonly note?: string;
  /** A number, which stands at the right under its like. */
  readonly isFigure?: boolean;
  /** What is pressed there, and nothing to read: it stays off paper. */
  readonly isAct?: boolean;
}

/** Returns columns by their labels, which of them hold numbers, and which what is pressed. */
export const columnsOf = (
  labels: readonly string[],
  figures: readonly string[],
  acts: readonly string[] = [],
): Column[] =>
  labels.map((label) => ({ label, isFigure: figures.includes(label), isAct: acts.includes(label) }));

/** A row of a table: what it is about, then what is said of it in the order of the columns. */
export interface Row {
  readonly head: Markup;
  readonly cells: readonly Markup[];
}

/** Rows that become cards where the screen is narrow. */
export const table = (columns: readonly Column[], rows: readonly Row[], caption = ''): Markup =>
  tableOf('cards', columns, rows, caption);

/** A long list: a table from 600 px on, two lines a row on a phone, some 30 rows a sheet of A4. */
export const dense = (columns: readonly Column[], rows: readonly Row[]): Markup =>
  tableOf('dense', columns, rows, '');

const classOf = ({ isFigure, isAct }: Pick<Column, 'isFigure' | 'isAct'>): Markup =>
  when(isFigure === true || isAct === true, () => html` class="${isFigure ? 'figure' : 'act'}"`);

/** The roles stand there because a browser forgets them where the style turns rows into cards. */
const tableOf = (
  name: 'cards' | 'dense',
  columns: readonly Column[],
  rows: readonly Row[],
  caption: string,
): Markup => html`
<table class="${name}" role="table">
${when(caption !== '', () => html`<caption>${caption}</caption>`)}
<thead role="rowgroup"><tr role="row">${columns.map(
  ({ label, note, ...of }) =>
    html`<th role="columnheader" scope="col"${classOf(of)}>${label}${when(note !== undefined, () => html`<br><small>${note}</small>`)}</th>`,
)}</tr></thead>
<tbody role="rowgroup">
${rows.map(
  ({ head, cells }) =>
    html`<tr role="row"><th role="rowheader" scope="row"${classOf(columns[0]!)}>${head}</th>${cells.map(
      (cell, i) =>
        html`<td role="cell" data-label="${columns[i + 1]!.label}"${classOf(columns[i + 1]!)}><div>${cell}</div></td>`,
    )}</tr>
`,
)}</tbody>
</table>`;

/** A labelled field; what is wrong with it stands beside it and is read out with it. */
export interface Field {
  readonly name: string;
  /** Where the name stands on the page more than once. */
  readonly id?: string;
  readonly label: string;
  readonly value?: string | undefined;
  readonly hint?: string;
  readonly wrong?: string | undefined;
  readonly type?: 'text' | 'password' | 'search' | 'date' | 'time' | 'email' | 'tel';
  readonly autocomplete?: string;
  readonly inputmode?: 'decimal' | 'numeric';
  readonly isShort?: boolean;
  readonly isRequired?: boolean;
  /** Where a person goes on typing. */
  readonly isFocused?: boolean;
  readonly examples?: Markup;
}

/** Returns examples that fill their field when they are pressed; a browser without scripts does not show them. */
export const examplesFor = (id: string, label: string, texts: readonly string[]): Markup =>
  html`<p class="hint examples" data-fill="${id}" hidden>${label} ${texts.map((text) => html`<button type="button">${text}</button> `)}</p>`;

/** Returns the browser's own time zone as an example, where it is not the one that is chosen. */
export const zoneExample = (id: string, label: string): Markup =>
  html`<p class="hint examples" data-fill="${id}" data-zone hidden>${label} <button type="button"></button></p>`;

export const field = (of: Field): Markup => html`
<div class="field">
<label for="${of.id ?? of.name}">${of.label}</label>
${when(of.hint !== undefined, () => html`<p class="hint" id="${of.name}-hint">${of.hint}</p>`)}
<input id="${of.id ?? of.name}" name="${of.name}" type="${of.type ?? 'text'}" value="${of.value ?? ''}" autocomplete="${of.autocomplete ?? 'off'}"${
  of.inputmode ? html` inputmode="${of.inputmode}"` : ''
}${of.isShort ? html` class="short"` : ''}${of.isRequired ? html` required` : ''}${of.isFocused ? html` autofocus` : ''}${describedBy(of)}>
${of.examples ?? ''}${wrongNote(of)}
</div>`;

/** Returns the attributes that tie a control to its hint and to what is wrong with it. */
export function describedBy({ name, hint, wrong }: Pick<Field, 'name' | 'hint' | 'wrong'>): Markup {
  const ids = [hint === undefined ? '' : `${name}-hint`, wrong === undefined ? '' : `${name}-wrong`];
  const by = ids.filter((id) => id !== '').join(' ');
  return html`${when(by !== '', () => html` aria-describedby="${by}"`)}${when(
    wrong !== undefined,
    () => html` aria-invalid="true"`,
  )}`;
}

export const wrongNote = ({ name, wrong }: Pick<Field, 'name' | 'wrong'>): Markup =>
  when(wrong !== undefined, () => html`<p class="wrong" id="${name}-wrong">${wrong}</p>`);

export interface Choice {
  readonly value: string;
  readonly label: string;
}

export const choice = (
  of: Pick<Field, 'name' | 'id' | 'label' | 'hint' | 'wrong' | 'examples'> & {
    readonly value: string;
    readonly choices: readonly Choice[];
  },
): Markup => html`
<div class="field">
<label for="${of.id ?? of.name}">${of.label}</label>
${when(of.hint !== undefined, () => html`<p class="hint" id="${of.name}-hint">${of.hint}</p>`)}
<select id="${of.id ?? of.name}" name="${of.name}"${describedBy(of)}>${of.choices.map(
  (one) =>
    html`<option value="${one.value}"${one.value === of.value ? html` selected` : ''}>${one.label}</option>`,
)}</select>
${of.examples ?? ''}${wrongNote(of)}
</div>`;

/** Says what was done or what was wrong, and is read out at once. */
export const said = (body: Markup | string, role: 'status' | 'alert'): Markup =>
  html`<div class="said" role="${role}"><p>${body}</p></div>`;

/** Says at the top of a page what became of the form that was sent from it. */
export const saidAfter = (fault: string | null, done: string | undefined): Markup =>
  fault !== null ? said(fault, 'alert') : done !== undefined ? said(done, 'status') : NOTHING;

export const tick = (name: string, label: string, isTicked: boolean, value = 'yes'): Markup => html`
<label class="tick"><input type="checkbox" name="${name}" value="${value}"${isTicked ? html` checked` : ''}>${label}</label>`;
