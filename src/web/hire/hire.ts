import type { Context } from 'hono';
import { GROUNDS } from '../../core/tokens.js';
import { comeBack, getHirePage, type HireBike, type HirePage, sendOut } from '../../flow/fittings/hire.js';
import { pathOfFleet } from '../cells/planCells.js';
import { change } from '../change.js';
import type { WebDeps } from '../deps.js';
import { EntryForm, NotTaken } from '../entryForm.js';
import { fieldsOf } from '../guard.js';
import type { Markup } from '../markup.js';
import type { Pages } from '../routes.js';
import { type After, afterQuery, taken } from '../taken.js';
import type { WebEnv } from '../viewer.js';
import { HARMS, hireMarkup } from './hireMarkup.js';

/** A fleet's bikes that go out and come back, and its units on other people's bikes. */
export function hirePage(pages: Pages, deps: WebDeps): void {
  const show = async (c: Context<WebEnv>, handle: string, after: After): Promise<Markup> => {
    const viewer = c.get('viewer');
    return hireMarkup(viewer, await deps.store.read((tx) => getHirePage(tx, handle, viewer.now)), after);
  };
  pages.get('/fleets/:fleet/hire', async (c) => c.html(await show(c, c.req.param('fleet'), afterQuery(c))));

  pages.post('/fleets/:fleet/hire', async (c) => {
    const handle = c.req.param('fleet');
    const fields = await fieldsOf(c);
    const work = async (): Promise<string> => {
      const form = new EntryForm(fields, c.get('viewer'));
      const done = await change(deps, c, async (tx, entry) => {
        const one = bikeIn(form, await getHirePage(tx, handle, form.viewer.now));
        if (fields.does === 'back') {
          await comeBack(tx, fields.fact ?? '', cameBackIn(form, one), entry);
          return one.units.some(({ unit }) => harmOf(form, unit.tag).length > 0) ? 'stopped' : 'back';
        }
        await sendOut(tx, one, wordsIn(form), entry);
        return 'out';
      });
      return `${pathOfFleet(handle)}/hire?done=${done}`;
    };
    return taken(c, fields, work, (after) => show(c, handle, after));
  });
}

/** Errors: NotTaken. */
function bikeIn({ fields, viewer }: EntryForm, { bikes }: HirePage): HireBike {
  const found = bikes.find(({ bike }) => bike.handle === fields.bike);
  if (!found) throw new NotTaken(viewer.texts.tray.needChoice);
  return found;
}

/** More hours in a day would be a slip of the hand. */
const MOST_HOURS = 12;

/** Errors: NotTaken. */
function hoursIn({ fields, viewer }: EntryForm, name: string, least: number): number {
  const typed = (fields[name] ?? '').trim().replace(',', '.');
  const hours = Number(typed);
  if (typed === '' || !(hours >= least && hours <= MOST_HOURS))
    throw new NotTaken(viewer.texts.hire.needHours(MOST_HOURS), name);
  return hours;
}

function wordsIn(form: EntryForm) {
  return {
    until: form.laterDay('until'),
    hoursADay: hoursIn(form, 'hoursADay', 0.1),
    ground: form.choice('ground', GROUNDS),
    note: form.line('note'),
  };
}

function cameBackIn(form: EntryForm, { units }: HireBike) {
  const { viewer, fields } = form;
  const daysRidden = Number(fields.daysRidden ?? '');
  if (!(Number.isInteger(daysRidden) && daysRidden >= 0 && fields.daysRidden !== ''))
    throw new NotTaken(viewer.texts.hire.needDays, 'daysRidden');
  const harm = new Map<string, string>();
  for (const { unit } of units) {
    const seen = harmOf(form, unit.tag);
    if (seen.length > 0) harm.set(unit.id, viewer.texts.hire.seen(viewer.words.list(seen)));
  }
  return {
    daysRidden,
    hoursADay: hoursIn(form, 'hoursADay', 0),
    ground: form.choice('ground', GROUNDS),
    hoursNote: viewer.texts.hire.hoursNote,
    harm,
  };
}

/** Returns in words what was ticked of a unit. */
const harmOf = ({ fields, viewer }: EntryForm, tag: string): string[] =>
  HARMS.filter((one) => fields[`harm ${tag} ${one}`] === 'yes').map((one) => viewer.texts.hire.harms[one]);
