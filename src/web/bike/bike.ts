import type { Context } from 'hono';
import { html } from 'hono/html';
import type { UnrecordedFact } from '../../core/ledger/facts.js';
import { LARGEST_SHARE } from '../../core/ledger/unrecorded.js';
import { GROUNDS } from '../../core/tokens.js';
import { type BikePage, getBikePage } from '../../flow/due/bikePage.js';
import { addDeclared, addHours, addUnrecorded } from '../../flow/facts/enterFacts.js';
import { isBareOn } from '../../flow/fittings/unitFittings.js';
import { getBikeFact } from '../../flow/names.js';
import type { RideRow } from '../../ports/rides.js';
import { hoursOfSeconds, hoursOfThousandths } from '../../units.js';
import { declaredFields, declaredIn, declaredText } from '../cells/declaredFields.js';
import { pathOfUnit, rideLink, small } from '../cells/dueCells.js';
import { bikeSourcesMarkup } from '../cells/sourcesMarkup.js';
import { change } from '../change.js';
import type { WebDeps } from '../deps.js';
import { EntryForm, NotTaken } from '../entryForm.js';
import { fieldsOf } from '../guard.js';
import { formToken, page } from '../layout.js';
import { choice, columnsOf, field, type Markup, saidAfter, table, when } from '../markup.js';
import type { Pages } from '../routes.js';
import { type After, afterQuery, taken } from '../taken.js';
import type { Viewer, WebEnv } from '../viewer.js';
import { changeBike, changeBikeForms } from './changeBike.js';

export function bikePage(pages: Pages, deps: WebDeps): void {
  const show = (c: Context<WebEnv>, handle: string, after: After) =>
    deps.store
      .read((tx) => getBikePage(tx, handle, c.get('viewer').now))
      .then((view) => markup(c.get('viewer'), view, after));

  pages.get('/bikes/:handle', async (c) => c.html(await show(c, c.req.param('handle'), afterQuery(c))));

  changeBike(pages, deps, show);

  pages.post('/bikes/:handle/hours', async (c) => {
    const viewer = c.get('viewer');
    const handle = c.req.param('handle');
    const fields = await fieldsOf(c);
    const work = async (): Promise<string> => {
      const form = new EntryForm(fields, viewer);
      const isBare = await change(deps, c, async (tx, entry) => {
        const { entityId: bikeId } = await getBikeFact(tx, handle);
        const [on, minutes] = [form.day('on'), form.minutes('minutes')];
        await addHours(
          tx,
          { bikeId, on, minutes, ground: form.choice('ground', GROUNDS), note: form.line('note') },
          entry,
        );
        return isBareOn(tx, bikeId, on, viewer.zone);
      });
      return `${pathOf(handle)}?done=${isBare ? 'bare' : 'added'}`;
    };
    return taken(c, fields, work, (after) => show(c, handle, after));
  });

  pages.post('/bikes/:handle/unrecorded', async (c) => {
    const viewer = c.get('viewer');
    const handle = c.req.param('handle');
    const fields = await fieldsOf(c);
    const work = async (): Promise<string> => {
      const form = new EntryForm(fields, viewer);
      await change(deps, c, async (tx, entry) => {
        const { entityId: bikeId } = await getBikeFact(tx, handle);
        return addUnrecorded(tx, { bikeId, ...shareOf(form), note: null }, entry);
      });
      return `${pathOf(handle)}?done=estimated`;
    };
    return taken(c, fields, work, (after) => show(c, handle, after));
  });

  pages.post('/bikes/:handle/declared', async (c) => {
    const viewer = c.get('viewer');
    const handle = c.req.param('handle');
    const fields = await fieldsOf(c);
    const work = async (): Promise<string> => {
      const said = declaredIn(viewer, fields);
      if ('wrong' in said) throw new NotTaken(said.wrong);
      await change(deps, c, async (tx, entry) => {
        const { entityId: bikeId } = await getBikeFact(tx, handle);
        return addDeclared(tx, { bikeId, ...said }, entry);
      });
      return `${pathOf(handle)}?done=declared`;
    };
    return taken(c, fields, work, (after) => show(c, handle, after));
  });
}

function shareOf(form: EntryForm): Omit<UnrecordedFact, 'bikeId' | 'note'> {
  const percent = Number((form.fields.share ?? '').trim().replace(',', '.').replace(/ ?%$/, ''));
  if (!(percent > 0 && percent <= LARGEST_SHARE * 100)) throw new NotTaken(form.viewer.texts.bike.shareNeed);
  const to = (form.fields.to ?? '') === '' ? null : form.day('to');
  return { share: percent / 100, from: form.day('from'), to };
}

const pathOf = (handle: string): string => `/bikes/${encodeURIComponent(handle)}`;

function markup(viewer: Viewer, view: BikePage, after: After): Markup {
  const { texts, words } = viewer;
  const { bike } = texts;
  const { name, handle, type } = view.fact.body;
  return page(viewer, {
    title: name,
    current: 'riders',
    body: html`
<h1>${name}</h1>
${saidAfter(after.fault, doneText(viewer, after))}
<dl class="facts">
<dt>${texts.unit.rider}</dt><dd>${view.rider === null ? texts.due.noRider : viewer.fleet !== null || view.riderHandle === null ? view.rider : html`<a href="/riders/${encodeURIComponent(view.riderHandle)}">${view.rider}</a>`}</dd>
<dt>${bike.type}</dt><dd>${words.bikeType[type]}</dd>
<dt>${bike.unitsTitle}</dt><dd>${
      view.tags.length === 0
        ? bike.noUnits
        : view.tags.map((tag, i) => html`${i === 0 ? '' : ', '}<a href="${pathOfUnit(tag)}">${tag}</a>`)
    }</dd>
</dl>
${when(viewer.fleet === null, () => changeBikeForms(viewer, view, after))}
<h2>${texts.sources.title}</h2>
${bikeSourcesMarkup(viewer, view.hours)}
<h2>${bike.hoursTitle}</h2>
<p class="lead">${bike.hoursLead}</p>
${hoursForm(viewer, pathOf(handle), after.fields)}
<h2>${texts.declared.title}</h2>
<p class="lead">${texts.declared.lead}</p>
${declaredList(viewer, view.declared)}
<form method="post" action="${pathOf(handle)}/declared">${formToken(viewer)}
${declaredFields(viewer, after.fields)}
<p><button>${texts.declared.save}</button></p>
</form>
<h2>${bike.shareTitle}</h2>
<p class="lead">${bike.shareLead}</p>
${shareList(viewer, view.shares)}
${shareForm(viewer, pathOf(handle), after.fields)}
<h2>${bike.ridesTitle}</h2>
${when(view.waiting > 0, () => waitingNote(viewer, view.waiting))}
${rides(viewer, view.rides)}
<p class="soft">${texts.severityNote}</p>`,
  });
}

function doneText({ texts: { bike, customer, declared } }: Viewer, { done }: After): string | undefined {
  const says: Readonly<Record<string, string>> = {
    ...{ added: bike.added, bare: bike.addedToNone, estimated: bike.shareAdded, declared: declared.saved },
    ...{ saved: customer.things.saved, unchanged: customer.things.unchanged },
  };
  return says[done ?? ''];
}

/** Only who sees the tray is led to it. */
const waitingNote = (viewer: Viewer, count: number): Markup => {
  const { bike } = viewer.texts;
  const rides = viewer.words.counted(count, 'ride');
  return viewer.fleet === null
    ? html`<p><a href="/tray">${bike.waiting(rides)}</a></p>`
    : html`<p>${bike.waitingForOwner(rides)}</p>`;
};

const hoursForm = (viewer: Viewer, path: string, fields: After['fields']): Markup => {
  const { bike } = viewer.texts;
  return html`
<form method="post" action="${path}/hours">${formToken(viewer)}
${field({ name: 'on', label: bike.on, type: 'date', value: fields.on ?? viewer.today, isShort: true, isRequired: true })}
${field({ name: 'minutes', label: bike.minutes, value: fields.minutes, inputmode: 'numeric', isShort: true, isRequired: true })}
${choice({
  name: 'ground',
  label: bike.ground,
  value: fields.ground ?? 'typical',
  choices: GROUNDS.map((ground) => ({ value: ground, label: viewer.words.ground[ground] })),
})}
${field({ name: 'note', label: bike.note, value: fields.note })}
<p><button>${bike.add}</button></p>
</form>`;
};

const shareList = (viewer: Viewer, shares: readonly UnrecordedFact[]): Markup => {
  const { words, texts, today } = viewer;
  return when(
    shares.length > 0,
    () =>
      html`<ul>${shares.map(({ share, from, to }) => {
        const percent = words.number(share * 100);
        const since = words.day(from, today);
        return html`<li>${to === null ? texts.bike.shareSince(percent, since) : texts.bike.shareSaid(percent, since, words.day(to, today))}</li>`;
      })}</ul>`,
  );
};

/** What was declared, and that files tell now where they do. */
const declaredList = (viewer: Viewer, { said, now }: BikePage['declared']): Markup => {
  const { words, texts, today } = viewer;
  const { declared: says } = texts;
  return html`${when(
    said.length > 0,
    () =>
      html`<ul>${said.map((one) => {
        const [text, from] = [declaredText(viewer, one), words.day(one.from, today)];
        return html`<li>${one.to === null ? says.since(text, from) : says.sinceTo(text, from, words.day(one.to, today))}</li>`;
      })}</ul>`,
  )}${when(said.length > 0 && now === null, () => html`<p>${says.filesTell}</p>`)}`;
};

const shareForm = (viewer: Viewer, path: string, fields: After['fields']): Markup => {
  const { bike } = viewer.texts;
  return html`
<form method="post" action="${path}/unrecorded">${formToken(viewer)}
${field({ name: 'share', label: bike.share, value: fields.share, inputmode: 'decimal', isShort: true, isRequired: true })}
${field({ name: 'from', label: bike.shareFrom, type: 'date', value: fields.from, isShort: true, isRequired: true })}
${field({ name: 'to', label: bike.shareTo, type: 'date', value: fields.to, hint: bike.shareToHint, isShort: true })}
<p><button>${bike.shareAdd}</button></p>
</form>`;
};

function rides(viewer: Viewer, rows: readonly RideRow[]): Markup {
  const { texts, words } = viewer;
  const { columns, noRides } = texts.bike;
  if (rows.length === 0) return html`<p>${noRides}</p>`;
  return table(
    columnsOf(
      [columns.day, columns.moving, columns.terrain, columns.rule],
      [columns.moving, columns.terrain],
    ),
    rows.map((ride) => ({
      head: rideLink(viewer, ride),
      cells: [
        html`${words.measured(hoursOfSeconds(ride.movingS))}`,
        html`${words.measured(hoursOfThousandths(ride.terrainMs))}`,
        ride.source === 'hand'
          ? html`${texts.unit.byHand}`
          : html`${ride.bikeRule === null ? '' : words.bikeRule[ride.bikeRule]}${small(ride.damage === null ? null : texts.unit.damaged)}${small(ride.formerReader ? texts.ride.formerReader : null)}`,
      ],
    })),
  );
}
