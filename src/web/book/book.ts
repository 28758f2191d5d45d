import { html } from 'hono/html';
import type { PeriodHours } from '../../flow/due/periodHours.js';
import { type BookPage, getBookPage } from '../../flow/facts/bookPage.js';
import { hoursOfSeconds, hoursOfThousandths } from '../../units.js';
import { pathOfUnit } from '../cells/dueCells.js';
import { pathOfPhoto, photoStrip } from '../cells/photoCells.js';
import type { WebDeps } from '../deps.js';
import { page } from '../layout.js';
import { columnsOf, type Markup, type Row, table, when } from '../markup.js';
import type { Pages } from '../routes.js';
import { datedText, limitsText } from '../show.js';
import type { Viewer } from '../viewer.js';
import { storyRows } from './storyMarkup.js';

/** A unit's whole history on sheets of A4, such as a claim under warranty asks for. */
export function bookPage(pages: Pages, { store }: WebDeps): void {
  pages.get('/units/:tag/book', async (c) => {
    const viewer = c.get('viewer');
    const view = await store.read((tx) => getBookPage(tx, c.req.param('tag'), viewer.now));
    return c.html(markup(viewer, view));
  });
}

function markup(viewer: Viewer, view: BookPage): Markup {
  const { texts, account, today } = viewer;
  const { book, back, print, printed } = texts.paper;
  const { tag } = view.fact.body;
  const { columns, periodColumns } = book;
  return page(viewer, {
    title: book.title(tag),
    current: 'units',
    paper: 'book',
    body: html`
${letterhead(viewer)}
<h1>${book.title(tag)}</h1>
<p class="lead">${book.lead}</p>
<p class="screen"><a href="${pathOfUnit(tag)}">${back(tag)}</a>. ${print}</p>
${unitFacts(viewer, view)}
<div class="sheet">
<h2>${book.history}</h2>
${table(
  [columns.day, columns.what, columns.by].map((label) => ({ label })),
  storyRows(viewer, view.story, view.bikes),
)}
${photosMarkup(viewer, view)}
<h2>${book.periods}</h2>
<p>${book.hoursAre} ${texts.severityNote}</p>
${table(
  columnsOf(
    [
      periodColumns.service,
      periodColumns.from,
      periodColumns.to,
      periodColumns.moving,
      periodColumns.terrain,
      periodColumns.notes,
    ],
    [periodColumns.moving, periodColumns.terrain],
  ),
  view.periods.map((one) => periodRow(viewer, one)),
)}
</div>
<p>${texts.foot}</p>
<p class="signed"><span>${printed(datedText(today, viewer), account.name)}</span>
<span class="line">${book.forWorkshop} <span class="fill"></span></span></p>`,
  });
}

/** What was photographed at services that stand. */
function photosMarkup(viewer: Viewer, { photos, fact }: BookPage): Markup {
  const taken = photos.filter(({ serviceId }) => serviceId !== null);
  const strip = photoStrip(viewer, taken, ({ id }) => pathOfPhoto(fact.body.tag, id));
  return when(taken.length > 0, () => html`<h2>${viewer.texts.photos.title}</h2>${strip}`);
}

/** On paper the sheet says by itself whose it is. */
export function letterhead({ workshop }: Viewer): Markup {
  if (workshop === null) return html``;
  const lines = [workshop.name, ...(workshop.address ?? '').split('\n'), workshop.phone, workshop.email];
  return html`<p class="letterhead">${lines
    .filter((line) => line)
    .map((line, i) => html`${i === 0 ? '' : html`<br>`}${line}`)}</p>`;
}

function unitFacts(viewer: Viewer, { fact, bike, rider, standings }: BookPage): Markup {
  const { texts, words } = viewer;
  const { body } = fact;
  const kind = words.unitKind[body.unitKind];
  const intervals = standings.map(
    ({ serviceKind, interval }) => `${words.serviceKind(serviceKind)}: ${limitsText(interval, viewer)}`,
  );
  const facts: (readonly [string, string | null])[] = [
    [texts.unit.model, body.model === null ? kind : `${kind}, ${body.model}`],
    [texts.unit.serial, body.serial],
    [texts.unit.warranty, body.warrantyEnd === null ? null : datedText(body.warrantyEnd, viewer)],
    [texts.unit.bike, bike ?? texts.due.noBike],
    [texts.unit.rider, rider],
    [texts.paper.book.intervalsNow, intervals.join('; ')],
  ];
  return html`<dl class="facts">${facts.map(([name, value]) =>
    when(value !== null && value !== '', () => html`<dt>${name}</dt><dd>${value}</dd>`),
  )}</dl>`;
}

function periodRow(viewer: Viewer, one: PeriodHours): Row {
  const { words, texts } = viewer;
  const { book } = texts.paper;
  const { period, to } = one;
  const { 'by-hand': byHand, unrecorded, declared } = one.sources;
  const from =
    period.start !== null ? datedText(period.start, viewer) : period.isKnown ? book.notFitted : book.before;
  const notes = [
    period.isKnown ? null : book.sinceItCame,
    period.baseMovingS > 0 || period.baseTerrainMs > 0
      ? book.cameWith(
          words.measured(hoursOfSeconds(period.baseMovingS)),
          words.measured(hoursOfThousandths(period.baseTerrainMs)),
        )
      : null,
    byHand.movingS > 0 ? book.byHand(words.measured(hoursOfSeconds(byHand.movingS))) : null,
    declared.movingS > 0 ? book.declared(words.measured(hoursOfSeconds(declared.movingS))) : null,
    unrecorded.movingS > 0 ? book.unrecorded(words.measured(hoursOfSeconds(unrecorded.movingS))) : null,
  ];
  return {
    head: html`<b>${words.serviceKind(one.serviceKind)}</b>`,
    cells: [
      html`${from}`,
      html`${to === null ? book.running : datedText(to, viewer)}`,
      html`${words.measured(hoursOfSeconds(one.movingS))}`,
      html`${words.measured(hoursOfThousandths(one.terrainMs))}`,
      html`${notes.filter((note) => note !== null).map((note) => html`<div>${note}</div>`)}`,
    ],
  };
}
