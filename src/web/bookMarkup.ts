import { html } from 'hono/html';
import type { Fact } from '../core/facts.js';
import { WIPERS_ONLY } from '../core/serviceKinds.js';
import { small } from './dueCells.js';
import { type Markup, when } from './markup.js';
import type { BookLine } from './unitView.js';
import type { Viewer, Voice } from './viewer.js';

/** The unit's service book, newest first. */
export const bookMarkup = (viewer: Viewer, book: readonly BookLine[]): Markup =>
  book.length === 0
    ? html`<p>${viewer.texts.unit.bookEmpty}</p>`
    : html`<dl class="facts book">${book.map(
        (line) =>
          html`<dt>${viewer.words.day(line.day, viewer.today)}</dt><dd>${said(viewer, line)}${small(viewer.texts.unit.bookBy(line.by))}</dd>`,
      )}</dl>`;

function said(voice: Voice, line: BookLine): Markup {
  const { unit } = voice.texts;
  switch (line.kind) {
    case 'service':
      return service(voice, line.fact);
    case 'on':
      return html`${unit.bookOn(line.bike)}`;
    case 'off':
      return html`${unit.bookOff(line.bike)}`;
    case 'mark':
      return html`<strong>${unit.bookMark(line.why)}</strong>`;
    case 'clear':
      return html`${unit.bookClear(line.why)}`;
    case 'in':
      return html`${unit.bookIn}`;
    case 'out':
      return html`${unit.bookOut}`;
  }
}

export const jobText = ({ words, texts }: Voice, kind: string): string =>
  kind === WIPERS_ONLY ? texts.unit.wipersOnly : words.serviceKind(kind);

function service(voice: Voice, { body }: Fact<'service'>): Markup {
  const { words, texts } = voice;
  const { unit } = texts;
  const found = Object.entries(body.findings ?? {}).map(([name, value]) => {
    const shown = name === 'foamRings' ? (unit.rings[value] ?? value) : value;
    return `${unit.finding[name] ?? name}: ${shown}`;
  });
  const restarts = body.restarts.map((kind) => words.serviceKind(kind));
  return html`<b>${jobText(voice, body.serviceKind)}</b>${when(body.elsewhere, () => html`, ${unit.bookElsewhere}`)}
${small(restarts.length === 0 ? unit.bookRestartsNone : unit.bookRestarts(words.list(restarts)))}
${small(found.join('; '))}${small(body.note)}`;
}
