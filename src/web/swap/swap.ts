import type { Context } from 'hono';
import type { Bike } from '../../core/ledger/ledger.js';
import { afterLastRideOf } from '../../core/ledger/moment.js';
import { type Entry, swapBack, swapUnits } from '../../flow/fittings/fittings.js';
import { type FleetUnit, getFleetByName } from '../../flow/fittings/fleet.js';
import { getSwapPage } from '../../flow/fittings/lastSwap.js';
import { putOn, takeOffAgain } from '../../flow/fittings/putOn.js';
import type { Tx } from '../../ports/store.js';
import { isoTime, type Moment, moment } from '../../units.js';
import { pathOfFleet } from '../cells/planCells.js';
import { change } from '../change.js';
import type { WebDeps } from '../deps.js';
import { EntryForm, NotTaken } from '../entryForm.js';
import { fieldsOf } from '../guard.js';
import type { Markup } from '../markup.js';
import type { Pages } from '../routes.js';
import { type After, afterQuery, taken } from '../taken.js';
import { askWhatMoves } from '../unit/movedRides.js';
import type { Viewer, WebEnv } from '../viewer.js';
import { swapMarkup, WHENS } from './swapMarkup.js';

/** By bike: this unit off, that one on, in one action; both move, or neither. */
export function swapPage(pages: Pages, deps: WebDeps): void {
  const show = async (c: Context<WebEnv>, handle: string, after: After): Promise<Markup> => {
    const viewer = c.get('viewer');
    const view = await deps.store.read((tx) => getSwapPage(tx, handle, viewer.now));
    return swapMarkup(viewer, { ...view, said: c.req.query() }, after);
  };
  pages.get('/fleets/:fleet/swap', async (c) =>
    c.html(await show(c, c.req.param('fleet'), { ...afterQuery(c), fields: c.req.query() })),
  );

  pages.post('/fleets/:fleet/swap', async (c) => {
    const handle = c.req.param('fleet');
    const fields = await fieldsOf(c);
    const work = async (): Promise<string> => {
      const form = new EntryForm(fields, c.get('viewer'));
      const swapped = await change(deps, c, async (tx, entry) => {
        const { units, bikes } = await getFleetByName(tx, handle, form.viewer.now);
        const bare = fields.bike === undefined ? undefined : bikeOf(bikes, form);
        if (bare !== undefined) return put(tx, unitOf(units, form, 'on'), bare, form, entry);
        const [off, on] = [unitOf(units, form, 'off'), unitOf(units, form, 'on')];
        const at = whenOf(form, isoTime(entry.at));
        await askWhatMoves(tx, form, { unitIds: [off.id, on.id] }, () =>
          swapUnits(tx, [off.id, on.id], at, entry, {
            backWhy: form.viewer.texts.team.swap.backWhy,
            isSure: form.isTicked('althoughMarked'),
          }),
        );
        return { one: off.tag, other: on.tag };
      });
      return `${pathOfFleet(handle)}/swap?${new URLSearchParams(swapped)}`;
    };
    return taken(c, fields, work, (after) => show(c, handle, after));
  });

  pages.post('/fleets/:fleet/swap/back', async (c) => {
    const handle = c.req.param('fleet');
    const fields = await fieldsOf(c);
    const work = async (): Promise<string> => {
      const form = new EntryForm(fields, c.get('viewer'));
      const back = await change(deps, c, async (tx, entry) => {
        const { units, bikes } = await getFleetByName(tx, handle, form.viewer.now);
        const why = form.viewer.texts.team.swap.backWhy;
        const at = moment(fields.at ?? '');
        if (fields.bike !== undefined) {
          const [bike, on] = [bikeOf(bikes, form), unitOf(units, form, 'on')];
          await takeOffAgain(tx, { unitId: on.id, bikeId: bike.id, at }, { ...entry, why });
          return { on: on.tag, bike: bike.handle, back: 'yes' };
        }
        const [off, on] = [unitOf(units, form, 'off'), unitOf(units, form, 'on')];
        await swapBack(tx, [off.id, on.id], at, { ...entry, why });
        return { one: off.tag, other: on.tag, back: 'yes' };
      });
      return `${pathOfFleet(handle)}/swap?${new URLSearchParams(back)}`;
    };
    return taken(c, fields, work, (after) => show(c, handle, { ...after, fields: {} }));
  });
}

/** What goes on a bike with nothing in that place; where it is on another, it leaves that one. */
async function put(
  tx: Tx,
  on: FleetUnit['unit'],
  bike: Bike,
  form: EntryForm,
  entry: Entry,
): Promise<Record<string, string>> {
  const at = whenOf(form, isoTime(entry.at));
  await askWhatMoves(tx, form, { unitIds: [on.id], bikeIds: [bike.id] }, () =>
    putOn(tx, { unitId: on.id, bikeId: bike.id, at }, form.isTicked('althoughMarked'), entry),
  );
  return { on: on.tag, bike: bike.handle };
}

/** Errors: NotTaken. */
function bikeOf(bikes: readonly Bike[], { fields, viewer }: EntryForm): Bike {
  const found = bikes.find(({ handle }) => handle === fields.bike);
  if (!found) throw new NotTaken(viewer.texts.team.swap.needOne);
  return found;
}

/** Errors: NotTaken. */
function whenOf(form: EntryForm, now: Moment): Moment {
  switch (form.choice('when', WHENS)) {
    case 'now':
      return now;
    case 'at':
      return isoTime(form.moment('day', 'time'));
    case 'before':
      return form.day('day');
    case 'after':
      return afterLastRideOf(form.day('day'), form.viewer.zone);
  }
}

function unitOf(
  units: readonly FleetUnit[],
  { fields, viewer }: EntryForm<Viewer>,
  name: 'off' | 'on',
): FleetUnit['unit'] {
  const found = units.find(({ unit }) => unit.tag === fields[name]);
  if (!found) throw new NotTaken(viewer.texts.team.swap.needOne);
  return found.unit;
}
