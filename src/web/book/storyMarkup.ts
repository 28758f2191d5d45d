import { html } from 'hono/html';
import { parseDay } from '../../core/days/dayNumber.js';
import { eveningOf, momentOf } from '../../core/ledger/moment.js';
import type { BikeNames } from '../../flow/facts/bookPage.js';
import type { Rows } from '../../flow/facts/ledgerDocument.js';
import type { StoryLine } from '../../flow/facts/unitStory.js';
import { day } from '../../units.js';
import { useText } from '../cells/planCells.js';
import { comebackText } from '../comebacks/comebackMarkup.js';
import { type Markup, type Row, when } from '../markup.js';
import { byText, datedText, limitsText, timeText } from '../show.js';
import { claimText } from '../unit/claimForm.js';
import type { Viewer } from '../viewer.js';
import { foundText, inspectionText } from './bookMarkup.js';

/**
 * Returns the unit's book as rows, the oldest first: each line with what it replaced under it, and who did that, when and
 * why.
 */
export function storyRows(viewer: Viewer, story: readonly StoryLine[], bikes: BikeNames): Row[] {
  const byFact = new Map(story.map((line) => [line.fact, line]));
  const last = story.filter((line) => line.replacedBy === null);
  return last.map((line) => {
    const before: StoryLine[] = [];
    // The steps of a job are no corrections.
    for (let one = byFact.get(line.replaces ?? ''); one; one = byFact.get(one.replaces ?? ''))
      if (line.kind !== 'job') before.push(one);
    return {
      head: html`<span class="nobr">${datedText(line.on, viewer)}</span>`,
      cells: [
        html`${line.isVoid ? html`<s>${told(viewer, line, bikes)}</s>${changeNote(viewer, line)}` : told(viewer, line, bikes)}
${before.map((old) => correction(viewer, old, byFact.get(old.replacedBy ?? '')!, bikes))}`,
        enteredCell(viewer, before.at(-1) ?? line),
      ],
    };
  });
}

/** What stood there, and the change that put something else in its place; a void repeats what it takes back. */
const correction = (viewer: Viewer, old: StoryLine, change: StoryLine, bikes: BikeNames): Markup =>
  change.isVoid
    ? html``
    : html`<div class="was">${viewer.texts.paper.book.was}: <s>${datedText(old.on, viewer)}, ${told(viewer, old, bikes)}</s>${changeNote(viewer, change)}</div>`;

function changeNote(viewer: Viewer, { at, why, isVoid, ...line }: StoryLine): Markup {
  const { book } = viewer.texts.paper;
  const by = byText(viewer, line.by);
  const time = paperTime(viewer, at);
  if (isVoid) return html`<small>${book.takenBack(by, time, why ?? '')}</small>`;
  return html`<small>${why === null ? book.correctedOnly(by, time) : book.corrected(by, time, why)}</small>`;
}

const enteredCell = (viewer: Viewer, { by, at }: StoryLine): Markup =>
  html`${viewer.texts.paper.book.entered(byText(viewer, by), paperTime(viewer, at))}`;

/** With its year, which a page on a screen leaves out. */
const paperTime = (viewer: Viewer, at: StoryLine['at']): string =>
  timeText(at, { ...viewer, today: day('2000-01-01') });

const joined = (parts: readonly (string | null | undefined | false)[]): string =>
  parts.filter((part) => part).join('; ');

function told(viewer: Viewer, line: StoryLine, bikes: BikeNames): Markup {
  const { texts, words } = viewer;
  const { book } = texts.paper;
  switch (line.kind) {
    case 'service':
      return serviceText(viewer, line.row);
    case 'fitting': {
      const bike = bikes.get(line.row.bike) ?? line.row.bike;
      const [from, to] = [momentText(viewer, line.row.from), line.row.to];
      const { loanUntil } = line.row;
      const on = to === null ? book.onBike(bike, from) : book.onBikeTo(bike, from, momentText(viewer, to));
      return html`${joined([on, loanUntil && texts.hire.loanBook(datedText(loanUntil, viewer))])}`;
    }
    case 'mark':
      return html`<strong>${line.row.stop ? texts.unit.bookMark(line.row.why) : texts.unit.bookClear(line.row.why)}</strong>`;
    case 'inspection':
      return html`${inspectionText(viewer, line.row)}`;
    case 'gone':
      return html`${line.row.how === 'back' ? texts.unit.bookBack : texts.unit.bookGone(words.gone[line.row.how])}`;
    case 'membership':
      return html`${line.row.fleet === null ? texts.unit.bookNoFleet : texts.unit.bookFleet(line.row.fleet)}`;
    case 'bench':
      return html`${line.row.in ? texts.unit.bookIn : texts.unit.bookOut}`;
    case 'job':
      return html`${jobText(viewer, line.row)}`;
    case 'claim':
      return html`${claimText(viewer, line.row)}`;
    case 'unit':
      return html`${unitText(viewer, line.row)}`;
    case 'interval':
      return html`${book.interval(words.serviceKind(line.row.serviceKind), limitsText(line.row, viewer))}`;
    default:
      return html`${line.kind}`;
  }
}

/** A day, a day's evening, or a day with its time in the workshop's zone. */
function momentText(viewer: Viewer, moment: string): string {
  const day = parseDay(moment);
  if (day !== null) return datedText(day, viewer);
  const at = momentOf(moment, viewer.zone)!;
  const evening = eveningOf(at, viewer.zone);
  return evening === null
    ? paperTime(viewer, at)
    : viewer.texts.paper.book.afterLast(datedText(evening, viewer));
}

function serviceText(viewer: Viewer, row: Rows['service']): Markup {
  const { texts, words } = viewer;
  const { book } = texts.paper;
  const restarts = (row.restarts ?? []).map((kind) => words.serviceKind(kind));
  const rest = joined([
    restarts.length === 0 ? texts.unit.bookRestartsNone : texts.unit.bookRestarts(words.list(restarts)),
    foundText(viewer, row),
    ...(row.parts ?? []).map((use) => useText(use, viewer)),
    row.technician && book.technician(row.technician),
    row.price && book.price(row.price),
    row.note,
  ]);
  return html`<b>${viewer.words.serviceKind(row.serviceKind)}</b>${when(row.by !== 'here', () => html`, ${texts.unit.bookDone(viewer.words.doneBy[row.by])}`)}<br>${rest}`;
}

function jobText(viewer: Viewer, row: Rows['job']): string {
  const { job } = viewer.texts.bench;
  return joined([
    job.since(datedText(row.arrivedOn, viewer), viewer.words.jobStep[row.step]),
    row.wish,
    row.promisedFor && job.promised(datedText(row.promisedFor, viewer)),
    row.price,
    row.missing && job.waitsFor(row.missing),
    comebackText(viewer, (on) => datedText(on, viewer), row),
  ]);
}

function unitText(viewer: Viewer, row: Rows['unit']): string {
  const { texts, words } = viewer;
  const { book } = texts.paper;
  const { history } = row;
  return joined([
    [book.unit(row.tag), words.unitKind[row.unitKind], row.model].filter((part) => part).join(', '),
    row.serial && `${texts.unit.serial} ${row.serial}`,
    row.modelYear !== undefined && book.year(String(row.modelYear)),
    row.travelMm !== undefined && book.travel(words.number(row.travelMm)),
    history === 'new'
      ? texts.unit.wasNew
      : history === 'unknown'
        ? texts.unit.wasUnknown
        : texts.unit.hadRun(
            words.hours(history.terrainHours),
            words.hours(history.movingHours),
            datedText(history.asOf, viewer),
          ),
    row.factor !== 1 && `${texts.unit.factor}: ${words.number(row.factor)}`,
    row.warrantyEnd && `${texts.unit.warranty} ${datedText(row.warrantyEnd, viewer)}`,
    ...Object.entries(row.spec ?? {}).map(([name, value]) => `${name}: ${value}`),
  ]);
}
