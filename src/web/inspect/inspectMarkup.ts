import { html } from 'hono/html';
import { inspectionLooks } from '../../core/ledger/inspection.js';
import { INSPECTION_RESULTS, type InspectionCause } from '../../core/tokens.js';
import type { InspectPage } from '../../flow/facts/inspections.js';
import { inspectionText, pathOfSheet } from '../book/bookMarkup.js';
import { pathOfUnit } from '../cells/dueCells.js';
import { besideCautions, formToken, page } from '../layout.js';
import { looksFields } from '../looks/looks.js';
import { field, type Markup, saidAfter, when } from '../markup.js';
import type { After, Fields } from '../taken.js';
import type { Viewer } from '../viewer.js';

/** The form on which somebody says what was looked at, for either cause. */
export function inspectMarkup(
  viewer: Viewer,
  view: InspectPage,
  cause: InspectionCause,
  after: After,
): Markup {
  const { texts, today, account } = viewer;
  const { inspect } = texts;
  const { fields } = after;
  const { body } = view.unit;
  const path = pathOfUnit(body.tag);
  const isCrash = cause === 'crash';
  const says = inspect[cause];
  return page(viewer, {
    title: says.title(body.tag),
    current: 'units',
    body: html`
<h1>${says.title(body.tag)}</h1>
${saidAfter(after.fault, undefined)}
${when(isCrash && view.mark !== null, () => html`<p class="stop"><strong>${texts.paper.card.stop(view.mark!.body.why)}</strong></p>`)}
<p class="lead">${says.lead}</p>
<p><strong>${says.proves}</strong></p>
${besideCautions(
  viewer,
  html`<form class="by-hand" method="post" action="${path}/${isCrash ? 'crash' : 'inspect'}">${formToken(viewer)}
<fieldset class="step"><legend>${inspect.seenTitle}</legend>
${looksFields(viewer, inspectionLooks(body, cause), fields)}
${when(!isCrash, () => html`<p class="hint">${inspect.ifOpened}</p>`)}</fieldset>
${field({ name: 'serial', label: inspect.serial, value: fields.serial, isShort: true })}
${field({ name: 'note', label: inspect.note, value: fields.note })}
${isCrash ? resultTaps(viewer, fields) : when(body.history === 'unknown', () => endings(viewer, view, fields))}
${field({ name: 'on', label: inspect.on, type: 'date', value: fields.on ?? today, isShort: true, isRequired: true })}
${field({ name: 'by', label: isCrash ? inspect.clears : inspect.by, value: fields.by ?? account.name, isRequired: true })}
<p><button class="primary">${says.save}</button></p></form>`,
)}
${when(view.earlier.length > 0, () => earlier(viewer, view))}
<p class="screen"><a href="${path}">${texts.paper.back(body.tag)}</a></p>`,
  });
}

const tap = (name: string, value: string, label: string, isChosen: boolean): Markup =>
  html`<label class="tap"><input type="radio" name="${name}" value="${value}"${isChosen ? html` checked` : ''}>${label}</label>`;

/** Nothing is chosen beforehand: what comes of it is for whoever looked. */
const resultTaps = ({ texts: { inspect } }: Viewer, fields: Fields): Markup =>
  html`<fieldset class="taps"><legend>${inspect.result}</legend>${INSPECTION_RESULTS.map((one) =>
    tap('result', one, inspect.results[one], fields.result === one),
  )}</fieldset>`;

/** What ends *inspect*: a service, or hours from which the history counts on. */
function endings({ texts: { inspect } }: Viewer, { unit }: InspectPage, fields: Fields): Markup {
  const chosen = fields.from ?? 'nothing';
  const figure = (name: 'terrain' | 'moving'): Markup =>
    field({ name, label: inspect[name], value: fields[name], inputmode: 'decimal', isShort: true });
  return html`<input type="hidden" name="known" value="${fields.known ?? unit.id}">
<p>${inspect.unknown}</p>
<fieldset class="taps"><legend>${inspect.from}</legend>${(['nothing', 'service', 'hours'] as const).map(
    (one) => tap('from', one, inspect.ends[one], chosen === one),
  )}</fieldset>
<div class="row">${figure('terrain')}${figure('moving')}</div>`;
}

const earlier = (viewer: Viewer, { unit, earlier: all }: InspectPage): Markup =>
  html`<h2>${viewer.texts.inspect.earlier}</h2><dl class="facts book">${all.map(
    ({ id, body }) =>
      html`<dt>${viewer.words.day(body.on, viewer.today)}</dt><dd>${inspectionText(viewer, body)}${when(viewer.fleet === null, () => html`<small><a href="${pathOfSheet(unit.body.tag, id)}">${viewer.texts.inspect.sheet}</a></small>`)}</dd>`,
  )}</dl>`;
