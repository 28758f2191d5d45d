import type { Context } from 'hono';
import { html } from 'hono/html';
import { z } from 'zod';
import { addBikeWith } from '../../flow/counter/changeThings.js';
import { addFleet, changeFleet, type FleetForm, getFleetForm } from '../../flow/counter/setFleet.js';
import { pathOfFleet } from '../cells/planCells.js';
import { change } from '../change.js';
import { bikeFaults, bikeFields, bikeShape, nameSchema, unitsIn } from '../customer/bikeFields.js';
import type { WebDeps } from '../deps.js';
import { NotTaken } from '../entryForm.js';
import { fieldsOf } from '../guard.js';
import { formToken, page } from '../layout.js';
import { field, type Markup, saidAfter } from '../markup.js';
import type { Pages } from '../routes.js';
import { wrongAt } from '../settings/frame.js';
import { partLines, partLinesIn } from '../settings/partLines.js';
import { type After, afterQuery, type Fields, taken } from '../taken.js';
import type { Viewer, WebEnv } from '../viewer.js';

/** Adds a fleet, names it, gives it bikes; and what its truck always carries. */
export function fleetFormPages(pages: Pages, deps: WebDeps): void {
  pages.get('/fleets/new', (c) => c.html(newMarkup(c.get('viewer'), afterQuery(c))));
  pages.post('/fleets/new', async (c) => {
    const viewer = c.get('viewer');
    const fields = await fieldsOf(c);
    const work = async (): Promise<string> => {
      const handle = await change(deps, c, (tx, entry) => addFleet(tx, nameIn(fields, viewer), entry));
      return `${pathOfFleet(handle)}/change`;
    };
    return taken(c, fields, work, async (after) => newMarkup(viewer, after));
  });

  const shown =
    (markup: (viewer: Viewer, form: FleetForm, after: After) => Markup) =>
    async (c: Context<WebEnv>, handle: string, after: After): Promise<Markup> =>
      markup(c.get('viewer'), await deps.store.read((tx) => getFleetForm(tx, handle)), after);
  const showChange = shown(changeMarkup);
  pages.get('/fleets/:fleet/change', async (c) =>
    c.html(await showChange(c, c.req.param('fleet'), afterQuery(c))),
  );
  pages.post('/fleets/:fleet/change', async (c) => {
    const viewer = c.get('viewer');
    const handle = c.req.param('fleet');
    const fields = await fieldsOf(c);
    const work = async (): Promise<string> => {
      const done = await change(deps, c, async (tx, entry) => {
        const { fact } = await getFleetForm(tx, handle);
        if (fields.does !== 'bike')
          return (await changeFleet(tx, fields.fact ?? fact.id, { name: nameIn(fields, viewer) }, entry))
            ? 'saved'
            : 'unchanged';
        const { bike: name, ...given } = bikeIn(fields, viewer);
        const of = { riderId: null, fleetId: fact.entityId, name, type: given.type, since: given.since };
        await addBikeWith(tx, { ...of, units: unitsIn({ bike: name, ...given }) }, entry);
        return 'bike';
      });
      return `${pathOfFleet(handle)}/change?done=${done}`;
    };
    return taken(c, fields, work, (after) => showChange(c, handle, after));
  });

  const showSpares = shown(sparesMarkup);
  pages.get('/fleets/:fleet/spares', async (c) =>
    c.html(await showSpares(c, c.req.param('fleet'), afterQuery(c))),
  );
  pages.post('/fleets/:fleet/spares', async (c) => {
    const viewer = c.get('viewer');
    const handle = c.req.param('fleet');
    const fields = await fieldsOf(c);
    const work = async (): Promise<string> => {
      const isOther = await change(deps, c, async (tx, entry) => {
        const { fact } = await getFleetForm(tx, handle);
        const spares = partLinesIn(fields, viewer).flatMap(({ use }) => (use === null ? [] : [use]));
        return changeFleet(tx, fields.fact ?? fact.id, { spares }, entry);
      });
      return `${pathOfFleet(handle)}/spares?done=${isOther ? 'saved' : 'unchanged'}`;
    };
    return taken(c, fields, work, (after) => showSpares(c, handle, after));
  });
}

/** Errors: NotTaken. */
function nameIn(fields: Fields, { texts: { racing } }: Viewer): string {
  const name = nameSchema.safeParse(fields.name ?? '');
  if (!name.success) throw new NotTaken(racing.fleet.needName, 'name');
  return name.data;
}

/** Errors: NotTaken, naming the field. */
function bikeIn(fields: Fields, viewer: Viewer) {
  const given = z.object(bikeShape(viewer.today)).safeParse(fields);
  if (given.success) return given.data;
  const [name, fault] = Object.entries(bikeFaults(viewer, given.error.issues))[0]!;
  throw new NotTaken(fault!, name);
}

function frame(
  viewer: Viewer,
  of: { readonly title: string; readonly lead: string; readonly after: After; readonly body: Markup },
): Markup {
  const { racing } = viewer.texts;
  const said: Readonly<Record<string, string>> = racing.fleet.said;
  return page(viewer, {
    title: of.title,
    current: viewer.fleet === null ? 'fleets' : 'fleet',
    body: html`
<h1>${of.title}</h1>
<p class="lead">${of.lead}</p>
${saidAfter(of.after.fault, said[of.after.done ?? ''])}
${of.body}`,
  });
}

function newMarkup(viewer: Viewer, after: After): Markup {
  const { fleet: says } = viewer.texts.racing;
  return frame(viewer, {
    ...{ title: says.newTitle, lead: says.newLead, after },
    body: html`<form method="post" action="/fleets/new">${formToken(viewer)}
${field({ name: 'name', label: says.name, value: after.fields.name, isRequired: true, ...wrongAt(after, 'name') })}
<p><button class="primary">${says.add}</button></p></form>`,
  });
}

function changeMarkup(viewer: Viewer, { fact }: FleetForm, after: After): Markup {
  const { texts } = viewer;
  const { fleet: says } = texts.racing;
  const { handle, name } = fact.body;
  const path = `${pathOfFleet(handle)}/change`;
  const isBike = after.fields.does === 'bike';
  const wrong = isBike && after.at ? { [after.at]: after.fault ?? '' } : {};
  const named = isBike ? { ...after, fields: {}, at: null } : after;
  return frame(viewer, {
    ...{ title: says.title(name), lead: says.lead, after },
    body: html`
<h2>${says.addBike}</h2>
<form method="post" action="${path}" class="wide">${formToken(viewer)}<input type="hidden" name="does" value="bike">
${bikeFields(viewer, { fields: isBike ? after.fields : {}, wrong })}
<p><button>${says.saveBike}</button></p></form>
<h2>${says.rename}</h2>
<form method="post" action="${path}">${formToken(viewer)}<input type="hidden" name="fact" value="${named.fields.fact ?? fact.id}">
${field({ name: 'name', label: says.name, value: named.fields.name ?? name, isRequired: true, ...wrongAt(named, 'name') })}
<p><button>${texts.settings.save}</button></p></form>
<p class="screen"><a href="${pathOfFleet(handle)}">${says.toFleet}</a> · <a href="${pathOfFleet(handle)}/spares">${says.sparesLink}</a></p>`,
  });
}

function sparesMarkup(viewer: Viewer, { fact, known }: FleetForm, after: After): Markup {
  const { texts } = viewer;
  const { fleet: says } = texts.racing;
  const { handle, name, spares = [] } = fact.body;
  return frame(viewer, {
    ...{ title: says.sparesTitle(name), lead: says.sparesLead, after },
    body: html`<form class="kept" method="post" action="${pathOfFleet(handle)}/spares">${formToken(viewer)}
<input type="hidden" name="fact" value="${after.fields.fact ?? fact.id}">
${partLines(viewer, { rows: spares.map((use) => ({ ...use, factId: null })), known, after })}
<p><button class="primary">${texts.settings.save}</button></p></form>
<p class="screen"><a href="${pathOfFleet(handle)}">${says.toFleet}</a> · <a href="/races">${texts.plan.races.back}</a></p>`,
  });
}
