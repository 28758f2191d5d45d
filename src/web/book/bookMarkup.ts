import { html } from 'hono/html';
import type { Fact, InspectionFact, JobFact, ServiceFact } from '../../core/ledger/facts.js';
import { FINDING_NAMES } from '../../core/ledger/findings.js';
import type { BookLine, UnitPage } from '../../flow/due/unitPage.js';
import type { ShownPhoto } from '../../flow/photos/photos.js';
import { pathOfUnit, small } from '../cells/dueCells.js';
import { pathOfPhoto, photoStrip } from '../cells/photoCells.js';
import { useText } from '../cells/planCells.js';
import { lookText } from '../looks/looks.js';
import { type Markup, when } from '../markup.js';
import { byText } from '../show.js';
import { claimText } from '../unit/claimForm.js';
import type { Viewer, Voice } from '../viewer.js';

/** Where a line of a unit's book is put right. */
export const pathOfLine = (tag: string, factId: string): string =>
  `${pathOfUnit(tag)}/lines/${encodeURIComponent(factId)}`;

/** Where what was looked at stands on a sheet of its own. */
export const pathOfSheet = (tag: string, factId: string): string =>
  `${pathOfUnit(tag)}/looked/${encodeURIComponent(factId)}`;

/** The unit's service book, newest first. */
export const bookMarkup = (
  viewer: Viewer,
  tag: string,
  { book, photos }: Pick<UnitPage, 'book' | 'photos'>,
  canCorrect: boolean,
): Markup =>
  book.length === 0
    ? html`<p>${viewer.texts.unit.bookEmpty}</p>`
    : html`<dl class="facts book">${book.map(
        (line) =>
          html`<dt>${viewer.words.day(line.day, viewer.today)}</dt><dd>${said(viewer, line)}${when(line.kind === 'service', () => photosOf(viewer, tag, photos, line))}${small(viewer.texts.unit.bookBy(byText(viewer, line.by)))}${when(canCorrect, () => correctLink(viewer, tag, line))}</dd>`,
      )}</dl>`;

const photosOf = (viewer: Viewer, tag: string, photos: readonly ShownPhoto[], line: BookLine): Markup =>
  photoStrip(
    viewer,
    photos.filter(({ serviceId }) => line.kind === 'service' && serviceId === line.fact.entityId),
    ({ id }) => pathOfPhoto(tag, id),
  );

const correctLink = (viewer: Viewer, tag: string, line: BookLine): Markup => {
  const { correct } = viewer.texts.paper;
  const what =
    line.kind === 'service' ? viewer.words.serviceKind(line.fact.body.serviceKind) : plainWord(viewer, line);
  const label = correct.linkTo(what, viewer.words.day(line.day, viewer.today));
  return html`${when(line.kind === 'inspection', () => html`<small class="screen"><a href="${pathOfSheet(tag, line.factId)}">${viewer.texts.inspect.sheet}</a></small>`)}<small class="screen"><a href="${pathOfLine(tag, line.factId)}" aria-label="${label}">${correct.link}</a></small>`;
};

const jobWord = ({ texts: { bench }, words }: Voice, { step, wish }: JobFact): string =>
  [`${bench.job.atWorkshop}: ${words.jobStep[step]}`, wish].filter((text) => text !== null).join('; ');

function plainWord(voice: Voice, line: Exclude<BookLine, { kind: 'service' }>): string {
  const { unit, team } = voice.texts;
  switch (line.kind) {
    case 'on':
    case 'off': {
      const bike = line.bike ?? team.fleet.otherBike;
      const word = line.kind === 'on' ? unit.bookOn(bike) : unit.bookOff(bike);
      const other =
        line.other === null ? [] : [(line.kind === 'on' ? unit.bookFor : unit.bookTo)(line.other)];
      return [word, ...(line.isEvening ? [unit.bookEvening] : []), ...other].join(', ');
    }
    case 'inspection':
      return inspectionText(voice, line.inspection);
    case 'gone':
      return line.how === 'back' ? unit.bookBack : unit.bookGone(voice.words.gone[line.how]);
    case 'fleet':
      return line.fleet === null ? unit.bookNoFleet : unit.bookFleet(line.fleet);
    case 'mark':
      return unit.bookMark(line.why);
    case 'clear':
      return unit.bookClear(line.why);
    case 'job':
      return jobWord(voice, line.job);
    case 'claim':
      return claimText(voice, line.claim);
    case 'in':
      return unit.bookIn;
    case 'out':
      return unit.bookOut;
  }
}

function said(voice: Voice, line: BookLine): Markup {
  if (line.kind === 'service') return service(voice, line.fact);
  const word = plainWord(voice, line);
  return line.kind === 'mark' ? html`<strong>${word}</strong>` : html`${word}`;
}

/** What was looked at, what comes of it, and who says so. */
export function inspectionText(voice: Voice, inspection: Omit<InspectionFact, 'unitId'>): string {
  const { inspect } = voice.texts;
  const { cause, result, by, findings, note } = inspection;
  const head = [inspect[cause].book, result === null ? null : inspect.results[result], by];
  return [head.filter((part) => part !== null).join(', '), foundText(voice, { findings }), note]
    .filter((part) => part)
    .join('; ');
}

/** Returns what was found inside, in the page's words. */
export function foundText(voice: Voice, { findings }: Pick<ServiceFact, 'findings'>): string {
  return FINDING_NAMES.filter((name) => findings?.[name] !== undefined)
    .map((name) => `${voice.texts.looks.names[name]}: ${lookText(voice, name, findings![name]!)}`)
    .join('; ');
}

/** What went into it and who did it, as it was kept. */
function usedText(voice: Voice, { parts = [], technician }: ServiceFact): string {
  const used = parts.map((use) => useText(use, voice));
  const by = technician === undefined ? [] : [voice.texts.paper.book.technician(technician)];
  return [...used, ...by].join('; ');
}

function service(voice: Voice, { body }: Fact<'service'>): Markup {
  const { words, texts } = voice;
  const { unit } = texts;
  const restarts = body.restarts.map((kind) => words.serviceKind(kind));
  return html`<b>${voice.words.serviceKind(body.serviceKind)}</b>${when(body.by !== 'here', () => html`, ${unit.bookDone(voice.words.doneBy[body.by])}`)}
${small(body.isClaim ? unit.bookClaim : restarts.length === 0 ? unit.bookRestartsNone : unit.bookRestarts(words.list(restarts)))}
${small(foundText(voice, body))}${small(usedText(voice, body))}${small(body.note)}`;
}
