import { html } from 'hono/html';
import type { Matters } from '../../../core/notices/matters.js';
import { listRiderBikes } from '../../../flow/due/riderUnits.js';
import { findWhatFound, type WhatFound } from '../../../flow/found/whatFound.js';
import { findAskedService } from '../../../flow/own/afterService.js';
import { mailTextsFor } from '../../../languages/index.js';
import { seenText } from '../../../languages/seenText.js';
import { pathOfPhotoBelow, photoStrip } from '../../cells/photoCells.js';
import { useText } from '../../cells/planCells.js';
import { setUpsBeside } from '../../cells/setUpCells.js';
import { cautions } from '../../layout.js';
import { type Markup, when } from '../../markup.js';
import { fault, notYours, type RiderPage, type RiderView } from '../riderPage.js';
import { afterServiceForm, takeAfterService } from './afterService.js';
import { likelyOf, pathToUnit, unitName } from './cells.js';

/** What was found and done at one service, for its rider to keep. */
export const foundPage: RiderPage = {
  title: ({ own }) => own.found,
  show: async (tx, view) => {
    const { opened, now, thing } = view;
    const { unitId } = opened.link;
    const bikes = await listRiderBikes(tx, opened.contact.riderId, now);
    const own = bikes
      .flatMap(({ bike, units }) => units.map((of) => ({ bike, of })))
      .find(({ of }) => of.unitId === unitId);
    const told =
      own && thing !== null
        ? await findWhatFound(
            tx,
            { riderId: opened.contact.riderId, unitId: own.of.unitId, serviceId: thing },
            now,
          )
        : null;
    if (!own || told === null) return notYours(view);
    const asked = await findAskedService(tx, own.of.unitId, now);
    return html`
<p class="lead">${view.texts.about(own.bike.name, unitName(view, own.of.unit))}</p>
${markup(view, own.of.unit.tag, told, afterServiceForm(view, asked?.on === told.on ? asked : null))}`;
  },
  take: async (tx, view, fields) => {
    const { opened, now } = view;
    const bikes = await listRiderBikes(tx, opened.contact.riderId, now);
    const own = bikes.flatMap(({ units }) => units).find(({ unitId }) => unitId === opened.link.unitId);
    return own ? takeAfterService(tx, view, own.unitId, fields) : fault(view.texts.notYours.says);
  },
};

/** What matters stands first, and the question whether all is well after it. */
function markup(view: RiderView, tag: string, told: WhatFound, question: Markup): Markup {
  const { words, texts } = view.voice;
  const { language } = view.opened.contact;
  const { found } = mailTextsFor(language);
  const { matters, hours, next } = told;
  const list = (seen: Matters['stop']): Markup =>
    html`<ul>${seen.map((one) => html`<li>${seenText(language, one)}</li>`)}</ul>`;
  const call = view.texts.reach(view.workshop.phone, view.workshop.email);
  const path = pathToUnit(view.home ?? '', tag);
  return html`
${when(matters.stop.length > 0, () => html`<div class="caution"><p><strong>${found.stop}</strong></p>${list(matters.stop)}<p>${found.stopHow(call)}</p></div>`)}
${when(matters.soon.length > 0, () => html`<div class="caution"><p><strong>${found.soon}</strong></p>${list(matters.soon)}<p>${found.soonHow(call)}</p></div>`)}
<div class="screen">${question}</div>
<p>${found.done(words.list(told.did.map((kind) => words.serviceKind(kind))), words.day(told.on, view.today))}</p>
${when(hours !== null, () => html`<p>${found.hours(words.measured(hours!.terrainHours), words.measured(hours!.movingHours))}</p>`)}
${when(told.price !== null, () => html`<p>${found.price(told.price!)}</p>`)}
${next === null ? html`<p>${found.later}</p>` : html`<p>${found.next(words.serviceKind(next.serviceKind), likelyOf(view, next))}</p>`}
${when(told.found.length > 0, () => html`<h2>${found.seen}</h2>${list(told.found)}`)}
${when(matters.stop.length + matters.soon.length === 0, () => html`<p>${found.sound}</p>`)}
${when(told.photos.length > 0, () => html`<h2>${texts.photos.title}</h2>`)}
${photoStrip({ ...view.voice, today: view.today }, told.photos, ({ id }) => pathOfPhotoBelow(path, id))}
${when(told.parts.length > 0, () => html`<h2>${found.parts}</h2><ul>${told.parts.map((use) => html`<li>${useText(use, view.voice)}</li>`)}</ul>`)}
${when(told.came !== null || told.left !== null, () => html`<h2>${told.left === null ? found.setUp : found.left}</h2>${setUpsBeside(view.voice, told.came, told.left)}`)}
${when(told.setUp.length > 0, () => html`<h2>${found.setUp}</h2>${list(told.setUp)}`)}
<p class="soft screen">${found.corrected} ${found.print}</p>
<p class="soft">${texts.severityNote}</p>
${cautions(view.voice)}`;
}
