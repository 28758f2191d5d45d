import { html } from 'hono/html';
import { partsOfLine, sheetLines } from '../../core/ledger/sheet.js';
import type { SheetAddress, SheetPage, TypedSheet } from '../../flow/counter/sheets.js';
import { pathOfUnit } from '../cells/dueCells.js';
import type { EntryForm } from '../entryForm.js';
import { formToken, page } from '../layout.js';
import { field, type Markup, saidAfter, soft, when } from '../markup.js';
import type { After, Fields } from '../taken.js';
import type { Viewer, Voice } from '../viewer.js';

/** Returns where the sheet for some units is typed. */
export function pathOfSheetPage({ unitKind, spring, scope }: SheetAddress, tag: string | null): string {
  const query = new URLSearchParams();
  if (tag !== null) query.set('unit', tag);
  else {
    query.set('kind', unitKind);
    if (spring !== undefined) query.set('spring', spring);
    query.set('model', scope.model ?? '');
    if (scope.modelYear !== null) query.set('year', String(scope.modelYear));
  }
  return `/sheets/edit?${query}`;
}

/** Returns for which units a sheet is, in words. */
export function namedSheet(
  { texts, words }: Voice,
  { unitKind, spring = 'air', scope }: SheetAddress,
  tag: string | null,
): string {
  const sprung = unitKind === 'fork' ? texts.customer.sprung[spring] : null;
  const year = scope.modelYear === null ? texts.sheets.everyYear : String(scope.modelYear);
  const parts =
    tag === null ? [scope.model, year, words.unitKind[unitKind], sprung] : [texts.sheets.only(tag)];
  return parts.filter((part) => part !== null).join(', ');
}

/** Returns what a form says of a sheet; a line left empty says nothing. Errors: NotTaken. */
export function readSheet(form: EntryForm, address: SheetAddress): TypedSheet {
  const values: Record<string, string> = {};
  for (const name of sheetLines(address)) {
    const value = form.line(name);
    if (value !== null) values[name] = value;
  }
  return { edition: form.line('edition'), values };
}

/** The form on which somebody types what the manual says; nothing is filled in beforehand. */
export function sheetMarkup(viewer: Viewer, view: SheetPage, { fault, fields, done }: After): Markup {
  const { sheets: says, paper } = viewer.texts;
  const { address, tag, fact, inherited } = view;
  const name = namedSheet(viewer, address, tag);
  return page(viewer, {
    title: says.of(name),
    current: 'intervals',
    body: html`
<h1>${says.of(name)}</h1>
${saidAfter(fault, says.done[done ?? ''])}
<p class="lead">${tag === null ? says.typeLead : says.unitLead}</p>
${soft(whoText(viewer, fact?.body ?? null))}
${when(inherited !== null, () => html`<p>${says.inherits(namedSheet(viewer, inherited!, null))}</p>`)}
<form method="post" action="${pathOfSheetPage(address, tag)}">${formToken(viewer)}<input type="hidden" name="fact" value="${fields.fact ?? fact?.id ?? ''}">
${field({ name: 'edition', label: says.edition, hint: says.editionHint, value: fields.edition ?? fact?.body.edition ?? '' })}
<div class="pair">${lineFields(viewer, view, fields)}</div>
<p><button class="primary">${says.save}</button></p></form>
<p>${tag === null ? html`<a href="/sheets">${says.back}</a>` : html`<a href="${pathOfUnit(tag)}">${paper.back(tag)}</a>`}</p>`,
  });
}

const lineFields = ({ texts: { sheets: says } }: Viewer, view: SheetPage, fields: Fields): Markup =>
  html`${sheetLines(view.address).map((name) => {
    const from = view.inherited?.values[name];
    return field({
      name,
      label: `${says.sides[partsOfLine(name).side]}: ${says.whats[partsOfLine(name).what]}`,
      value: fields[name] ?? view.fact?.body.values[name] ?? '',
      ...(from === undefined ? {} : { hint: says.ofModel(from) }),
    });
  })}`;

/** Returns who typed a sheet and who checked it; null where nobody typed one. */
export const whoText = (
  { texts: { sheets: says } }: Voice,
  sheet: { readonly typedBy: string; readonly checkedBy: string | null } | null,
): string | null =>
  sheet === null
    ? null
    : sheet.checkedBy === null
      ? says.typedOnly(sheet.typedBy)
      : says.typedAndChecked(sheet.typedBy, sheet.checkedBy);
