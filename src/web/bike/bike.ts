import type { Context } from 'hono';
import { html } from 'hono/html';
import type { Fact, UnrecordedFact } from '../../core/ledger/facts.js';
import type { Hours } from '../../core/ledger/hours.js';
import { fittingNow } from '../../core/ledger/ledger.js';
import { LARGEST_SHARE } from '../../core/ledger/unrecorded.js';
import { GROUNDS, type HourSource } from '../../core/tokens.js';
import { ServiceError } from '../../errors.js';
import { getBikeHours } from '../../flow/due/bikeHours.js';
import { addHours, addUnrecorded } from '../../flow/facts/enterFacts.js';
import { countWaitingOn } from '../../flow/rides/namedBikes.js';
import { fittingOf } from '../../flow/unitLedger.js';
import type { RideRow } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';
import { DAY_MS, hoursOfSeconds, hoursOfThousandths, instant } from '../../units.js';
import { pathOfUnit, rideLink, small } from '../cells/dueCells.js';
import { bikeSourcesMarkup } from '../cells/sourcesMarkup.js';
import { change } from '../change.js';
import type { WebDeps } from '../deps.js';
import { EntryForm, NotTaken } from '../entryForm.js';
import { fieldsOf } from '../guard.js';
import { formToken, page } from '../layout.js';
import { choice, field, type Markup, saidAfter, table, when } from '../markup.js';
import type { Pages } from '../routes.js';
import { type After, afterQuery, taken } from '../taken.js';
import type { Viewer, WebEnv } from '../viewer.js';

const RIDES_SHOWN = 15;
const LOOKED_BACK_MS = 366 * DAY_MS;

interface BikeView {
  readonly fact: Fact<'bike'>;
  readonly rider: string | null;
  readonly tags: readonly string[];
  readonly hours: Readonly<Record<HourSource, Hours>>;
  readonly shares: readonly UnrecordedFact[];
  /** Newest first. */
  readonly rides: readonly RideRow[];
  /** How many rides said to be on it wait for a person's word. */
  readonly waiting: number;
}

export function bikePage(pages: Pages, deps: WebDeps): void {
  const show = (c: Context<WebEnv>, handle: string, after: After) =>
    deps.store.read(async (tx) => markup(c.get('viewer'), await getView(tx, handle, c.get('viewer')), after));

  pages.get('/bikes/:handle', async (c) => c.html(await show(c, c.req.param('handle'), afterQuery(c))));

  pages.post('/bikes/:handle/hours', async (c) => {
    const viewer = c.get('viewer');
    const handle = c.req.param('handle');
    const fields = await fieldsOf(c);
    const work = async (): Promise<string> => {
      const form = new EntryForm(fields, viewer);
      await change(deps, viewer, async (tx, entry) => {
        const { entityId: bikeId } = await getBikeFact(tx, handle);
        const [on, minutes] = [form.day('on'), form.minutes('minutes')];
        return addHours(
          tx,
          { bikeId, on, minutes, ground: form.choice('ground', GROUNDS), note: form.line('note') },
          entry,
        );
      });
      return `${pathOf(handle)}?done=added`;
    };
    return taken(c, fields, work, (after) => show(c, handle, after));
  });

  pages.post('/bikes/:handle/unrecorded', async (c) => {
    const viewer = c.get('viewer');
    const handle = c.req.param('handle');
    const fields = await fieldsOf(c);
    const work = async (): Promise<string> => {
      const form = new EntryForm(fields, viewer);
      await change(deps, viewer, async (tx, entry) => {
        const { entityId: bikeId } = await getBikeFact(tx, handle);
        return addUnrecorded(tx, { bikeId, ...shareOf(form), note: null }, entry);
      });
      return `${pathOf(handle)}?done=estimated`;
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

async function getBikeFact(tx: Tx, handle: string): Promise<Fact<'bike'>> {
  const id = await tx.handles.find('bike', handle);
  const fact = id === undefined ? undefined : await tx.facts.current('bike', id);
  if (!fact) throw new ServiceError('not-found', 'find a bike', `There is no bike ${handle}.`);
  return fact;
}

async function getView(tx: Tx, handle: string, { now, zone }: Viewer): Promise<BikeView> {
  const fact = await getBikeFact(tx, handle);
  const { riderId } = fact.body;
  const tags = await tx.handles.all('unit');
  const fittings = (await tx.facts.list('fitting', { object: fact.entityId })).map((one) =>
    fittingOf(one, zone),
  );
  return {
    fact,
    rider: riderId === null ? null : ((await tx.contacts.find(riderId))?.name ?? null),
    tags: fittings.filter((one) => fittingNow([one], now)).map((one) => tags.get(one.unitId) ?? ''),
    hours: await getBikeHours(tx, fact.entityId),
    shares: (await tx.facts.list('unrecorded', { subject: fact.entityId })).map(({ body }) => body),
    rides: (await tx.rides.listCounted(fact.entityId, instant(now - LOOKED_BACK_MS)))
      .slice(-RIDES_SHOWN)
      .reverse(),
    waiting: (await countWaitingOn(tx, [fact.entityId])).get(fact.entityId)!,
  };
}

function markup(viewer: Viewer, view: BikeView, after: After): Markup {
  const { texts, words } = viewer;
  const { bike } = texts;
  const { name, handle, type } = view.fact.body;
  return page(viewer, {
    title: name,
    current: 'riders',
    body: html`
<h1>${name}</h1>
${saidAfter(after.fault, after.done === 'added' ? bike.added : after.done === 'estimated' ? bike.shareAdded : undefined)}
<dl class="facts">
<dt>${texts.unit.rider}</dt><dd>${view.rider ?? texts.due.noRider}</dd>
<dt>${bike.type}</dt><dd>${words.bikeType[type]}</dd>
<dt>${bike.unitsTitle}</dt><dd>${
      view.tags.length === 0
        ? bike.noUnits
        : view.tags.map((tag, i) => html`${i === 0 ? '' : ', '}<a href="${pathOfUnit(tag)}">${tag}</a>`)
    }</dd>
</dl>
<h2>${texts.sources.title}</h2>
${bikeSourcesMarkup(viewer, view.hours)}
<h2>${bike.hoursTitle}</h2>
<p class="lead">${bike.hoursLead}</p>
${hoursForm(viewer, pathOf(handle), after.fields)}
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
    [columns.day, columns.moving, columns.terrain, columns.rule].map((label) => ({ label })),
    rows.map((ride) => ({
      head: rideLink(viewer, ride),
      cells: [
        html`${words.hours(hoursOfSeconds(ride.movingS))}`,
        html`${words.hours(hoursOfThousandths(ride.terrainMs))}`,
        ride.source === 'hand'
          ? html`${texts.unit.byHand}`
          : html`${ride.bikeRule === null ? '' : words.bikeRule[ride.bikeRule]}${small(ride.damage === null ? null : texts.unit.damaged)}`,
      ],
    })),
  );
}
