import { html } from 'hono/html';
import type { Fact } from '../../core/ledger/facts.js';
import { inspectionLooks } from '../../core/ledger/inspection.js';
import { letterhead } from '../book/book.js';
import { pathOfUnit } from '../cells/dueCells.js';
import { page } from '../layout.js';
import { lookText } from '../looks/looks.js';
import { type Markup, when } from '../markup.js';
import { datedText } from '../show.js';
import type { Viewer } from '../viewer.js';

/**
 * Returns what was looked at as a sheet to hand over: each part with what was seen, or that nobody looked at it. It
 * certifies nothing, and says what looking does not prove.
 */
export function sheetMarkup(viewer: Viewer, unit: Fact<'unit'>, { body }: Fact<'inspection'>): Markup {
  const { texts, words } = viewer;
  const { inspect, paper } = texts;
  const { tag, model, modelYear, unitKind } = unit.body;
  const title = `${inspect.sheetTitle[body.cause]}: ${tag}`;
  const year = modelYear === undefined ? null : paper.book.year(String(modelYear));
  const kind = [words.unitKind[unitKind], model, year].filter((part) => part !== null).join(', ');
  const seen = inspectionLooks(unit.body, body.cause).map(({ name }): [string, string] => {
    const value = body.findings[name];
    return [texts.looks.names[name], value === undefined ? inspect.notSeen : lookText(viewer, name, value)];
  });
  const facts: (readonly [string, string | null])[] = [
    [texts.unit.model, kind],
    [texts.unit.serial, unit.body.serial],
    [inspect.serial, body.serial ?? inspect.notSeen],
    [inspect.on, datedText(body.on, viewer)],
    [inspect.result, body.result === null ? null : inspect.results[body.result]],
    [body.cause === 'crash' ? inspect.clears : inspect.by, body.by],
    [inspect.note, body.note],
  ];
  return page(viewer, {
    title,
    current: 'units',
    paper: 'book',
    body: html`
${letterhead(viewer)}
<h1>${title}</h1>
<p class="screen"><a href="${pathOfUnit(tag)}">${paper.back(tag)}</a>. ${paper.print}</p>
${rows(facts)}
<div class="sheet"><h2>${inspect.seenTitle}</h2>
${rows(seen)}
${when(body.cause === 'history', () => html`<p>${inspect.ifOpened}</p>`)}</div>
<p><strong>${inspect[body.cause].proves}</strong></p>
<p>${paper.card.levels[0]}<br>${paper.card.levels[1]}</p>
<p class="signed"><span>${paper.printed(datedText(viewer.today, viewer), viewer.account.name)}</span>
<span class="line">${inspect.signature} <span class="fill"></span></span></p>`,
  });
}

const rows = (facts: readonly (readonly [string, string | null])[]): Markup =>
  html`<dl class="facts">${facts.map(([name, value]) =>
    when(value !== null, () => html`<dt>${name}</dt><dd>${value}</dd>`),
  )}</dl>`;
