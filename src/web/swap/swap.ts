import type { Context } from 'hono';
import { html } from 'hono/html';
import { afterLastRideOf } from '../../core/ledger/moment.js';
import { swapUnits } from '../../flow/fittings/fittings.js';
import { type Fleet, type FleetUnit, getFleetByName } from '../../flow/fittings/fleet.js';
import { pathOfFleet } from '../cells/planCells.js';
import { change } from '../change.js';
import type { WebDeps } from '../deps.js';
import { EntryForm, NotTaken } from '../entryForm.js';
import { fieldsOf } from '../guard.js';
import { formToken, page } from '../layout.js';
import { type Choice, choice, type Markup, saidAfter, tick, when } from '../markup.js';
import type { Pages } from '../routes.js';
import { type After, afterQuery, taken } from '../taken.js';
import type { Viewer, WebEnv } from '../viewer.js';

/** Two units of a fleet in one action: both move, or neither. */
export function swapPage(pages: Pages, deps: WebDeps): void {
  const show = async (c: Context<WebEnv>, handle: string, after: After): Promise<Markup> => {
    const viewer = c.get('viewer');
    const fleet = await deps.store.read((tx) => getFleetByName(tx, handle, viewer.now));
    return markup(viewer, fleet, after);
  };
  pages.get('/fleets/:fleet/swap', async (c) => c.html(await show(c, c.req.param('fleet'), afterQuery(c))));

  pages.post('/fleets/:fleet/swap', async (c) => {
    const viewer = c.get('viewer');
    const handle = c.req.param('fleet');
    const fields = await fieldsOf(c);
    const work = async (): Promise<string> => {
      const form = new EntryForm(fields, viewer);
      const tags = await change(deps, c, async (tx, entry) => {
        const fleet = await getFleetByName(tx, handle, viewer.now);
        const [one, other] = [unitOf(fleet, form, 'one'), unitOf(fleet, form, 'other')];
        const day = form.day('on');
        const at =
          form.choice('when', ['before', 'after']) === 'after' ? afterLastRideOf(day, viewer.zone) : day;
        const backWhy = viewer.texts.team.swap.backWhy;
        const { isBack } = await swapUnits(tx, [one.id, other.id], at, entry, {
          backWhy,
          isSure: fields.althoughMarked === 'yes',
        });
        return { one: one.tag, other: other.tag, ...(isBack ? { back: 'yes' } : {}) };
      });
      return `${pathOfFleet(handle)}?${new URLSearchParams(tags)}`;
    };
    return taken(c, fields, work, (after) => show(c, handle, after));
  });
}

function unitOf({ units }: Fleet, { fields, viewer }: EntryForm, name: string): FleetUnit['unit'] {
  const found = units.find(({ unit }) => unit.tag === fields[name]);
  if (!found) throw new NotTaken(viewer.texts.team.swap.needOne);
  return found.unit;
}

function markup(viewer: Viewer, fleet: Fleet, { fault, fields }: After): Markup {
  const { swap } = viewer.texts.team;
  const path = pathOfFleet(fleet.handle);
  const on = fleet.units.filter(({ bike }) => bike !== null);
  return page(viewer, {
    title: swap.title,
    current: viewer.fleet === null ? 'plan' : 'swap',
    body: html`
<h1>${swap.title}</h1>
<p class="lead">${swap.lead}</p>
${saidAfter(fault, undefined)}
${on.length === 0 || fleet.units.length < 2 ? html`<p>${swap.none}</p>` : form(viewer, `${path}/swap`, on, fleet.units, fields)}
<p><a href="${path}">${swap.back}</a></p>`,
  });
}

function form(
  viewer: Viewer,
  path: string,
  on: readonly FleetUnit[],
  all: readonly FleetUnit[],
  fields: After['fields'],
): Markup {
  const { texts, today } = viewer;
  const { swap } = texts.team;
  const choicesOf = (units: readonly FleetUnit[]): Choice[] => [
    { value: '', label: texts.tray.choose },
    ...units.map(({ unit, bike, stopped }) => {
      const where = bike?.name ?? swap.spare;
      const { unitKind, state } = viewer.words;
      const mark = stopped === null ? '' : `, ${state['stop-riding']}`;
      return { value: unit.tag, label: `${unit.tag}, ${unitKind[unit.unitKind]} (${where}${mark})` };
    }),
  ];
  const select = (name: 'one' | 'other', units: readonly FleetUnit[]): Markup =>
    choice({ name, label: swap[name], value: fields[name] ?? '', choices: choicesOf(units) });
  const radio = (value: 'before' | 'after'): Markup =>
    html`<label class="tick"><input type="radio" name="when" value="${value}"${(fields.when ?? 'before') === value ? html` checked` : ''}>${swap[value]}</label>`;
  return html`
<form method="post" action="${path}">${formToken(viewer)}
${select('one', on)}
${select('other', all)}
<fieldset class="field"><legend>${swap.on}</legend>
<input id="on" name="on" type="date" class="short" aria-label="${swap.on}" value="${fields.on ?? today}" required>
${radio('before')}${radio('after')}</fieldset>
${when(fields.one !== undefined, () => tick('althoughMarked', texts.unit.althoughMarked, false))}
<p><button>${swap.submit}</button></p>
<p class="soft">${swap.backHint}</p>
</form>`;
}
