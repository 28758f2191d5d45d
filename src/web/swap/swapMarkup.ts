import { html } from 'hono/html';
import { placeOf } from '../../flow/fittings/checkFitting.js';
import type { Fleet, FleetUnit } from '../../flow/fittings/fleet.js';
import type { BarePlace, LastSwap, SwapPage } from '../../flow/fittings/lastSwap.js';
import { small } from '../cells/dueCells.js';
import { nearestText } from '../cells/fleetCells.js';
import { pathOfFleet } from '../cells/planCells.js';
import { formToken, page } from '../layout.js';
import { choice, field, type Markup, saidAfter, tick, when } from '../markup.js';
import { byText, timeText } from '../show.js';
import type { After, Fields } from '../taken.js';
import { movedTick } from '../unit/movedRides.js';
import type { Viewer } from '../viewer.js';

export const WHENS = ['now', 'at', 'before', 'after'] as const;

interface SwapView extends SwapPage {
  /** Which two were swapped, or swapped back, as the address says. */
  readonly said: Fields;
}

/** First the units on bikes; of the one that is chosen, what may take its place. */
export function swapMarkup(viewer: Viewer, { fleet, last, bare, said }: SwapView, after: After): Markup {
  const { swap } = viewer.texts.team;
  const path = pathOfFleet(fleet.handle);
  const on = fleet.units.filter(({ bike }) => bike !== null);
  const off = on.find(({ unit }) => unit.tag === after.fields.off);
  const tags = fleet.units.map(({ unit }) => unit.tag);
  const to = bare.find(
    ({ bike, place }) => bike.handle === after.fields.bike && place === after.fields.place,
  );
  const { one, other, back } = said;
  // The address may say anything; only this fleet's own tags are told.
  const isSwapped = one !== undefined && other !== undefined && tags.includes(one) && tags.includes(other);
  const put = fleet.bikes.find(({ handle }) => handle === said.bike);
  const isPut = put !== undefined && said.on !== undefined && tags.includes(said.on);
  const done = isSwapped
    ? (back === undefined ? swap.done : swap.doneBack)(one, other)
    : isPut
      ? (back === undefined ? swap.donePut : swap.donePutBack)(said.on, put.name)
      : undefined;
  return page(viewer, {
    title: swap.title,
    current: viewer.fleet === null ? 'fleets' : 'swap',
    body: html`
<h1>${off !== undefined ? swap.titleOf(off.unit.tag, off.bike!.name) : to !== undefined ? swap.titleOn(to.bike.name, swap.places[to.place]) : swap.title}</h1>
${saidAfter(after.fault, done)}
${when(off === undefined && to === undefined && last !== null, () => lastSwap(viewer, path, last!))}
${
  off !== undefined || to !== undefined
    ? onForm(viewer, fleet, off === undefined ? { to: to! } : { off }, after)
    : on.length + bare.length === 0 || fleet.units.length < 2 - Math.min(1, bare.length)
      ? html`<p>${swap.none}</p>`
      : html`<p class="lead">${swap.lead}</p><ul class="pick">${bare.map(
          ({ bike, place }) =>
            html`<li><a class="button" href="${path}/swap?${new URLSearchParams({ bike: bike.handle, place })}"><b>${bike.name}</b>: ${swap.bare[place]}</a></li>`,
        )}${on.map(
          (unit) =>
            html`<li><a class="button" href="${path}/swap?${new URLSearchParams({ off: unit.unit.tag })}"><b>${unit.bike!.name}</b>: ${unitLine(viewer, unit)}</a></li>`,
        )}</ul>`
}
<p>${when(off !== undefined || to !== undefined, () => html`<a href="${path}/swap">${swap.otherUnit}</a> · `)}<a href="${path}">${swap.back}</a></p>`,
  });
}

const lastSwap = (
  viewer: Viewer,
  path: string,
  { off, on, bike, bikeHandle, at, by, enteredAt }: LastSwap,
): Markup => html`
<form method="post" action="${path}/swap/back" class="last">${formToken(viewer)}
${off === null ? html`<input type="hidden" name="bike" value="${bikeHandle}">` : html`<input type="hidden" name="off" value="${off}">`}<input type="hidden" name="on" value="${on}"><input type="hidden" name="at" value="${at}">
<p>${off === null ? viewer.texts.team.swap.lastPut(on, bike, byText(viewer, by), timeText(enteredAt, viewer)) : viewer.texts.team.swap.last(off, on, bike, byText(viewer, by), timeText(enteredAt, viewer))}</p>
<p><button>${viewer.texts.team.swap.undo}</button></p></form>`;

/** Its tag, what is left until the next service, and the mark above all. */
function unitLine(viewer: Viewer, one: FleetUnit): Markup {
  const { words, texts } = viewer;
  const mark =
    one.stopped === null ? html`` : html` <strong>${texts.team.fleet.stopped(one.stopped)}</strong>`;
  return html`${one.unit.tag} (${words.unitKind[one.unit.unitKind]})${mark}${small(nearestText(viewer, one))}${small(lastText(viewer, one))}`;
}

const lastText = ({ words, texts, today }: Viewer, { lastService }: FleetUnit): string =>
  lastService === null
    ? texts.team.swap.neverServiced
    : texts.team.swap.lastService(
        words.serviceKind(lastService.serviceKind),
        words.day(lastService.on, today),
      );

/** Enter in a field presses a form's first button, which must not be the first unit of a list. */
const NO_BUTTON = html`<button hidden tabindex="-1" name="on" value=""></button>`;

/** What comes off, or the place with nothing in it. */
type TakesPlace = { readonly off: FleetUnit } | { readonly to: BarePlace };

function onForm(viewer: Viewer, fleet: Fleet, taken: TakesPlace, after: After): Markup {
  const { texts, today } = viewer;
  const { swap } = texts.team;
  const { fields } = after;
  const place = 'off' in taken ? placeOf(taken.off.unit.unitKind) : taken.to.place;
  const candidates = fleet.units
    .filter(({ unit }) => !('off' in taken && unit.id === taken.off.unit.id))
    .filter(({ unit, elsewhere }) => placeOf(unit.unitKind) === place && elsewhere === null)
    .sort((a, b) => Number(a.bike !== null) - Number(b.bike !== null));
  if (candidates.length === 0) return html`<p>${swap.none}</p>`;
  const isSent = fields.when !== undefined;
  return html`
<form method="post" action="${pathOfFleet(fleet.handle)}/swap">${NO_BUTTON}${formToken(viewer)}
${'off' in taken ? html`<input type="hidden" name="off" value="${taken.off.unit.tag}">` : html`<input type="hidden" name="bike" value="${taken.to.bike.handle}"><input type="hidden" name="place" value="${place}">`}
${choice({ name: 'when', label: swap.when, value: fields.when ?? 'now', choices: WHENS.map((value) => ({ value, label: swap.whens[value] })) })}
<details${isSent && fields.when !== 'now' ? html` open` : ''}><summary>${swap.dayTitle}</summary>
<div class="pair">${field({ name: 'day', label: swap.on, type: 'date', value: fields.day ?? today, isShort: true })}
${field({ name: 'time', label: swap.time, type: 'time', value: fields.time ?? '', isShort: true })}</div></details>
${movedTick(viewer, after)}
${when(isSent || candidates.every(({ stopped }) => stopped !== null), () => tick('althoughMarked', texts.unit.althoughMarked, false))}
<ul class="pick">${candidates.map(
    (one) =>
      html`<li><button name="on" value="${one.unit.tag}"><b>${one.bike === null ? swap.spare : one.bike.name}</b>: ${unitLine(viewer, one)}</button></li>`,
  )}</ul>
<p class="soft">${'off' in taken ? swap.onHint(taken.off.unit.tag) : swap.putHint}</p>
</form>`;
}
