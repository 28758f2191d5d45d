import { html } from 'hono/html';
import type { TrayGroup } from '../../flow/rides/trayGroups.js';
import type { TrayPage } from '../../flow/rides/trayPage.js';
import { formToken } from '../layout.js';
import { choice, field, type Markup, when } from '../markup.js';
import type { Viewer } from '../viewer.js';

/** A bike with whose it is, so that two of one name are told apart. */
export const named = ({ texts }: Viewer, view: TrayPage, bike: TrayPage['bikes'][number]) => ({
  ...bike,
  label: `${bike.name} (${bike.handle}), ${view.riders.find(({ handle }) => handle === bike.rider)?.name ?? texts.due.noRider}`,
});

/** Rides that came by one way, answered together: one tap a bike. Which of them can be told by days, or by ticks. */
export function groupMarkup(viewer: Viewer, view: TrayPage, group: TrayGroup, nth: string): Markup {
  const { texts, words, today } = viewer;
  const { tray } = texts;
  const isAny = group.rider === null && view.areAll;
  const own = view.bikes.filter(({ rider }) => isAny || (group.rider !== null && rider === group.rider));
  const rider = view.riders.find(({ handle }) => handle === group.rider)?.name ?? null;
  const bikes = own.map((bike) => named(viewer, view, bike));
  return html`<article class="entry" aria-labelledby="g-${nth}">
<h2 id="g-${nth}">${tray.groupTitle(words.counted(group.rides.length, 'ride'), rider, group.folder)}</h2>
<form method="post" action="/tray">${formToken(viewer)}
<div class="row">${field({ name: 'from', id: `from-${nth}`, label: tray.from, type: 'date' })}${field({ name: 'to', id: `to-${nth}`, label: tray.to, type: 'date' })}</div>
<details><summary>${tray.which}</summary>${group.rides.map(
    ({ id, day }) =>
      html`<label class="tick"><input type="checkbox" name="ride" value="${id}" checked>${day === null ? tray.noTime : words.weekday(day, today)}</label>`,
  )}</details>
${
  bikes.length <= FEW_BIKES
    ? html`<div class="answers">${bikes.map((bike) => html`<button name="bike" value="${bike.handle}">${tray.allOn(bike.label)}</button>`)}</div>`
    : html`${choice({
        name: 'bike',
        id: `bike-${nth}`,
        label: tray.bike,
        value: '',
        choices: [
          { value: '', label: tray.choose },
          ...bikes.map((bike) => ({ value: bike.handle, label: bike.label })),
        ],
      })}<p><button>${tray.answer}</button></p>`
}
${when(!view.areAll, () => html`<div class="row">${field({ name: 'other', id: `other-${nth}`, label: tray.byName(tray.otherBike) })}<div class="field"><button>${tray.answer}</button></div></div>`)}
</form></article>`;
}

/** So many bikes are a button each. */
const FEW_BIKES = 6;
