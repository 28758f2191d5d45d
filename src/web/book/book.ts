import { html } from 'hono/html';
import type { Fact } from '../../core/ledger/facts.js';
import { fittingNow } from '../../core/ledger/ledger.js';
import { listPeriodHours, type PeriodHours } from '../../flow/due/periodHours.js';
import { listUnitStory, type StoryLine } from '../../flow/facts/unitStory.js';
import { getUnitLedger } from '../../flow/unitLedger.js';
import type { StandingRow } from '../../ports/standings.js';
import type { Tx } from '../../ports/store.js';
import { hoursOfSeconds, hoursOfThousandths } from '../../units.js';
import { pathOfUnit } from '../cells/dueCells.js';
import type { WebDeps } from '../deps.js';
import { page } from '../layout.js';
import { type Markup, type Row, table, when } from '../markup.js';
import type { Pages } from '../routes.js';
import { datedText, limitsText } from '../show.js';
import { getUnitId } from '../unit/unitView.js';
import type { Viewer } from '../viewer.js';
import { type BikeNames, storyRows } from './storyMarkup.js';

interface BookView {
  readonly fact: Fact<'unit'>;
  readonly bike: string | null;
  readonly rider: string | null;
  readonly story: readonly StoryLine[];
  readonly bikes: BikeNames;
  readonly periods: readonly PeriodHours[];
  readonly standings: readonly StandingRow[];
}

/** A unit's whole history on sheets of A4, such as a claim under warranty asks for. */
export function bookPage(pages: Pages, { store }: WebDeps): void {
  pages.get('/units/:tag/book', async (c) => {
    const viewer = c.get('viewer');
    const view = await store.read((tx) => getBookView(tx, c.req.param('tag'), viewer));
    return c.html(markup(viewer, view));
  });
}

async function getBookView(tx: Tx, tag: string, { now, zone }: Viewer): Promise<BookView> {
  const unitId = await getUnitId(tx, tag);
  const ledger = await getUnitLedger(tx, unitId, zone);
  const { fittings, bikes } = ledger;
  const bike = bikes.get(fittingNow(fittings, now)?.bikeId ?? '') ?? null;
  const riderId = bike?.riderId ?? null;
  return {
    fact: (await tx.facts.current('unit', unitId))!,
    bike: bike?.name ?? null,
    rider: riderId === null ? null : ((await tx.contacts.find(riderId))?.name ?? null),
    story: await listUnitStory(tx, unitId),
    bikes: new Map((await tx.facts.list('bike')).map(({ body }) => [body.handle, body.name])),
    periods: await listPeriodHours(tx, ledger, now),
    standings: await tx.standings.listOf(unitId),
  };
}

function markup(viewer: Viewer, view: BookView): Markup {
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
<h2>${book.periods}</h2>
<p>${book.hoursAre} ${texts.severityNote}</p>
${table(
  [
    periodColumns.service,
    periodColumns.from,
    periodColumns.to,
    periodColumns.moving,
    periodColumns.terrain,
    periodColumns.notes,
  ].map((label) => ({ label })),
  view.periods.map((one) => periodRow(viewer, one)),
)}
</div>
<p>${texts.foot}</p>
<p class="signed"><span>${printed(datedText(today, viewer), account.name)}</span>
<span class="line">${book.forWorkshop} <span class="fill"></span></span></p>`,
  });
}

/** On paper the sheet says by itself whose it is. */
function letterhead({ workshop }: Viewer): Markup {
  if (workshop === null) return html``;
  const lines = [workshop.name, ...(workshop.address ?? '').split('\n'), workshop.phone, workshop.email];
  return html`<p class="letterhead">${lines
    .filter((line) => line)
    .map((line, i) => html`${i === 0 ? '' : html`<br>`}${line}`)}</p>`;
}

function unitFacts(viewer: Viewer, { fact, bike, rider, standings }: BookView): Markup {
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
  const { 'by-hand': byHand, unrecorded } = one.sources;
  const from =
    period.start !== null ? datedText(period.start, viewer) : period.isKnown ? book.notFitted : book.before;
  const notes = [
    period.isKnown ? null : book.sinceItCame,
    period.baseMovingS > 0 || period.baseTerrainMs > 0
      ? book.cameWith(
          words.hours(hoursOfSeconds(period.baseMovingS)),
          words.hours(hoursOfThousandths(period.baseTerrainMs)),
        )
      : null,
    byHand.movingS > 0 ? book.byHand(words.hours(hoursOfSeconds(byHand.movingS))) : null,
    unrecorded.movingS > 0 ? book.unrecorded(words.hours(hoursOfSeconds(unrecorded.movingS))) : null,
  ];
  return {
    head: html`<b>${words.serviceKind(one.serviceKind)}</b>`,
    cells: [
      html`${from}`,
      html`${to === null ? book.running : datedText(to, viewer)}`,
      html`${words.hours(hoursOfSeconds(one.movingS))}`,
      html`${words.hours(hoursOfThousandths(one.terrainMs))}`,
      html`${notes.filter((note) => note !== null).map((note) => html`<div>${note}</div>`)}`,
    ],
  };
}
