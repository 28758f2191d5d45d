import type { Context } from 'hono';
import { html } from 'hono/html';
import { HTTPException } from 'hono/http-exception';
import { z } from 'zod';
import { parseDay } from '../../core/days/dayNumber.js';
import {
  addRace,
  changeRace,
  getRaceForm,
  type RaceForm,
  type RaceWords,
  removeRace,
} from '../../flow/counter/setRace.js';
import { actButton } from '../cells/actButton.js';
import { change } from '../change.js';
import { nameSchema } from '../customer/bikeFields.js';
import type { WebDeps } from '../deps.js';
import { NotTaken } from '../entryForm.js';
import { fieldsOf, valuesOf } from '../guard.js';
import { formToken, page } from '../layout.js';
import { field, type Markup, saidAfter, tick, when } from '../markup.js';
import type { Pages } from '../routes.js';
import { wrongAt } from '../settings/frame.js';
import { type After, afterQuery, type Fields, taken } from '../taken.js';
import type { Viewer, WebEnv } from '../viewer.js';

const hoursSchema = z
  .string()
  .transform((text) => text.trim().replace(',', '.') || '0')
  .pipe(
    z
      .string()
      .regex(/^\d{1,4}(\.\d{1,2})?$/)
      .transform(Number),
  )
  .pipe(z.number().max(1000));

const pathOfRace = (handle: string): string => `/races/${encodeURIComponent(handle)}`;

/** Enters a race, changes it, or takes it back; a mechanic with the own fleet's bikes alone. */
export function raceFormPages(pages: Pages, deps: WebDeps): void {
  const show = async (c: Context<WebEnv>, handle: string | null, after: After): Promise<Markup> => {
    const viewer = c.get('viewer');
    const form = await deps.store.read((tx) => getRaceForm(tx, handle, viewer.fleet?.id ?? null));
    const ticked = c.req.method === 'POST' ? await valuesOf(c, 'bikes') : (form.fact?.body.bikeIds ?? []);
    return markup(viewer, form, ticked, after);
  };

  pages.get('/races/new', async (c) => c.html(await show(c, null, afterQuery(c))));
  pages.post('/races/new', async (c) => {
    const viewer = c.get('viewer');
    const fields = await fieldsOf(c);
    const bikes = await valuesOf(c, 'bikes');
    const work = async (): Promise<string> => {
      const handle = await change(deps, c, async (tx, entry) => {
        const form = await getRaceForm(tx, null, viewer.fleet?.id ?? null);
        return addRace(tx, raceIn(fields, bikes, form, viewer), entry);
      });
      return pathOfRace(handle);
    };
    return taken(c, fields, work, (after) => show(c, null, after));
  });

  pages.get('/races/:race/change', async (c) => c.html(await show(c, c.req.param('race'), afterQuery(c))));
  pages.post('/races/:race/change', async (c) => {
    const viewer = c.get('viewer');
    const handle = c.req.param('race');
    const fields = await fieldsOf(c);
    const bikes = await valuesOf(c, 'bikes');
    const work = async (): Promise<string> => {
      const isGone = fields.does === 'remove';
      await change(deps, c, async (tx, entry) => {
        const form = await getRaceForm(tx, handle, viewer.fleet?.id ?? null);
        if (form.fact === undefined) throw new HTTPException(404);
        const seen = fields.fact ?? form.fact.id;
        if (isGone) return removeRace(tx, seen, viewer.texts.racing.race.why, entry);
        return changeRace(tx, seen, raceIn(fields, bikes, form, viewer), entry);
      });
      return isGone ? '/races' : pathOfRace(handle);
    };
    return taken(c, fields, work, (after) => show(c, handle, after));
  });
}

/** Bikes that the person cannot see stay entered. Errors: NotTaken, naming the field. */
function raceIn(
  fields: Fields,
  ticked: readonly string[],
  { fact, bikes }: RaceForm,
  viewer: Viewer,
): RaceWords {
  const { race: says } = viewer.texts.racing;
  const name = nameSchema.safeParse(fields.name ?? '');
  if (!name.success) throw new NotTaken(says.needName, 'name');
  const on = parseDay(fields.on ?? '');
  const isPast = on !== null && on < viewer.today && on !== fact?.body.on;
  if (on === null || isPast) throw new NotTaken(says.needDay, 'on');
  const hours = (field: 'practiceHours' | 'raceHours'): number => {
    const given = hoursSchema.safeParse(fields[field] ?? '');
    if (!given.success) throw new NotTaken(says.needHours, field);
    return given.data;
  };
  const shown = new Set(bikes.map(({ id }) => id));
  const kept = (fact?.body.bikeIds ?? []).filter((id) => !shown.has(id));
  const bikeIds = [...kept, ...bikes.filter(({ id }) => ticked.includes(id)).map(({ id }) => id)];
  const [practiceHours, raceHours] = [hours('practiceHours'), hours('raceHours')];
  if (bikeIds.length === 0) throw new NotTaken(says.needBikes, 'bikes');
  return { name: name.data, on, practiceHours, raceHours, bikeIds };
}

function markup(viewer: Viewer, { fact, bikes }: RaceForm, ticked: readonly string[], after: After): Markup {
  const { racing } = viewer.texts;
  const { race: says } = racing;
  const { fields } = after;
  const title = fact === undefined ? says.newTitle : says.title(fact.body.name);
  const hours = (name: 'practiceHours' | 'raceHours', label: string, hint: string): Markup =>
    field({
      ...{ name, label, hint, inputmode: 'decimal', isShort: true, ...wrongAt(after, name) },
      value: fields[name] ?? (fact === undefined ? '' : String(fact.body[name])),
    });
  const path = fact === undefined ? '/races/new' : `${pathOfRace(fact.body.handle)}/change`;
  const wrong = wrongAt(after, 'bikes').wrong;
  const fleets = [...new Set(bikes.map((bike) => bike.fleet))];
  return page(viewer, {
    title,
    current: 'races',
    body: html`
<h1>${title}</h1>
<p class="lead">${says.lead}</p>
${saidAfter(after.fault, undefined)}
<form method="post" action="${path}">${formToken(viewer)}${when(fact !== undefined, () => html`<input type="hidden" name="fact" value="${fields.fact ?? fact!.id}">`)}
${field({ name: 'name', label: says.name, value: fields.name ?? fact?.body.name, isRequired: true, ...wrongAt(after, 'name') })}
${field({ name: 'on', label: says.on, type: 'date', value: fields.on ?? fact?.body.on, isShort: true, isRequired: true, ...wrongAt(after, 'on') })}
${hours('practiceHours', says.practice, says.practiceHint)}
${hours('raceHours', says.racing, says.racingHint)}
${bikes.length === 0 ? html`<p>${says.noBikes} <a href="/fleets">${viewer.texts.nav.fleets}</a></p>` : ''}
${fleets.map(
  (fleet) => html`<fieldset class="field"><legend>${fleet ?? says.otherBikes}</legend>
${bikes.filter((bike) => bike.fleet === fleet).map(({ id, name }) => tick('bikes', name, ticked.includes(id), id))}</fieldset>`,
)}
${when(wrong !== undefined, () => html`<p class="wrong" id="bikes-wrong">${wrong}</p>`)}
<p><button class="primary">${fact === undefined ? says.add : says.save}</button></p></form>
${when(
  fact !== undefined,
  () => html`<form method="post" action="${path}">${formToken(viewer)}<input type="hidden" name="fact" value="${fact!.id}"><input type="hidden" name="does" value="remove">
${actButton({ id: 'remove', label: says.remove, tells: says.removeHint, look: 'grave' })}</form>`,
)}`,
  });
}
