import type { Context } from 'hono';
import { handleFault } from '../../core/handle.js';
import { jobsOf } from '../../core/ledger/serviceKinds.js';
import { DONE_BY, type DoneBy } from '../../core/tokens.js';
import { changeThing } from '../../flow/counter/changeThings.js';
import { getUnitPage, type UnitPage } from '../../flow/due/unitPage.js';
import { addService, markUnit } from '../../flow/facts/enterFacts.js';
import { type Entry, endFitting, fitUnit, swapUnits } from '../../flow/facts/fittings.js';
import { changeJob, findStay } from '../../flow/facts/jobs.js';
import { rename } from '../../flow/facts/rename.js';
import { getIdOf } from '../../flow/names.js';
import { findNamed } from '../../flow/rights.js';
import { listAddedKinds } from '../../flow/settings.js';
import { getUnit } from '../../flow/unitLedger.js';
import type { Tx } from '../../ports/store.js';
import { pathBack } from '../bench/pathBack.js';
import { pathOfUnit } from '../cells/dueCells.js';
import { change } from '../change.js';
import type { WebDeps } from '../deps.js';
import { EntryForm, NotTaken } from '../entryForm.js';
import { fieldsOf } from '../guard.js';
import { readLooks } from '../looks/looks.js';
import type { Markup } from '../markup.js';
import type { Pages } from '../routes.js';
import { type After, afterQuery, taken } from '../taken.js';
import type { WebEnv } from '../viewer.js';
import { unitWords } from './changeUnit.js';
import { serviceMarkup } from './servicePage.js';
import { unitMarkup } from './unitMarkup.js';
import { readUsedParts } from './usedParts.js';

/** What a form on the page does to the unit. Returns what the page then says. */
type Act = (tx: Tx, unitId: string, form: EntryForm, entry: Entry) => Promise<string>;

export function unitPage(pages: Pages, deps: WebDeps): void {
  const view = viewOf(deps);
  const show = showUnit(deps);

  pages.get('/units/:tag', async (c) => {
    const shown = await view(c, c.req.param('tag'));
    const { tag } = shown.ledger.unit;
    if (tag !== c.req.param('tag')) return c.redirect(`${pathOfUnit(tag)}${new URL(c.req.url).search}`);
    return c.html(unitMarkup(c.get('viewer'), shown, afterQuery(c)));
  });

  pages.get('/units/:tag/service', async (c) => {
    const shown = await view(c, c.req.param('tag'));
    return c.html(serviceMarkup(c.get('viewer'), shown, afterQuery(c), c.req.query('from') ?? 'unit'));
  });

  for (const [name, act] of Object.entries(ACTS) as [ActName, Act][]) {
    pages.post(`/units/:tag/${name}`, async (c) => {
      const viewer = c.get('viewer');
      const tag = c.req.param('tag');
      const fields = await fieldsOf(c);
      const work = async (): Promise<string> => {
        const form = new EntryForm(fields, viewer);
        const done = await change(deps, c, async (tx, entry) =>
          act(tx, await getIdOf(tx, 'unit', tag), form, entry),
        );
        return pathBack(viewer.fleet === null ? fields.from : undefined, tag, done);
      };
      return taken(c, fields, work, async (after) =>
        name === 'service'
          ? serviceMarkup(viewer, await view(c, tag), after, fields.from ?? 'unit')
          : show(c, tag, after),
      );
    });
  }
}

const viewOf =
  ({ store }: WebDeps) =>
  (c: Context<WebEnv>, tag: string): Promise<UnitPage> =>
    store.read((tx) => getUnitPage(tx, tag, c.get('viewer')));

/** Shows the unit's page after a form was sent from it. */
export const showUnit =
  (deps: WebDeps) =>
  async (c: Context<WebEnv>, tag: string, after: After): Promise<Markup> =>
    unitMarkup(c.get('viewer'), await viewOf(deps)(c, tag), after);

type ActName = 'service' | 'fit' | 'off' | 'swap' | 'mark' | 'clear' | 'tag' | 'change';

const isSure = ({ fields }: EntryForm): boolean => fields.althoughMarked === 'yes';

const ACTS: Readonly<Record<ActName, Act>> = {
  service: logService,
  fit: async (tx, unitId, form, entry) => {
    const bikeId = await getNamed(tx, 'bike', form, 'fitBike');
    await fitUnit(tx, { unitId, bikeId, from: form.day('fitFrom'), to: null }, isSure(form), entry);
    return 'fit';
  },
  off: async (tx, unitId, form, entry) => {
    await endFitting(tx, unitId, form.day('offFrom'), entry);
    return 'off';
  },
  swap: async (tx, unitId, form, entry) => {
    const otherId = await getNamed(tx, 'unit', form, 'swapWith');
    const backWhy = form.viewer.texts.team.swap.backWhy;
    const { isBack } = await swapUnits(tx, [unitId, otherId], form.day('swapFrom'), entry, {
      backWhy,
      isSure: isSure(form),
    });
    return isBack ? 'swapBack' : 'swap';
  },
  mark: async (tx, unitId, form, entry) => {
    await markUnit(tx, unitId, true, form.why('why'), entry);
    return 'mark';
  },
  clear: async (tx, unitId, form, entry) => {
    await markUnit(tx, unitId, false, form.why('why'), entry);
    return 'clear';
  },
  tag: async (tx, _unitId, form, entry) => {
    const { texts } = form.viewer;
    const tag = form.line('newTag');
    if (tag === null || handleFault(tag) !== null) throw new NotTaken(texts.unit.needTag);
    // What a person saw, not what stands there by now: so two who change it at once collide visibly.
    await rename(tx, form.fields.fact ?? '', tag, { ...entry, why: form.why('tagWhy') });
    return 'tag';
  },
  change: async (tx, unitId, { fields, viewer }, entry) => {
    const words = unitWords(fields, viewer, await getUnit(tx, unitId));
    const of = { kind: 'unit', entityId: unitId, factId: fields.known, words } as const;
    return (await changeThing(tx, of, entry)) ? 'changed' : 'unchanged';
  },
};

async function getNamed(tx: Tx, what: 'bike' | 'unit', form: EntryForm, name: string): Promise<string> {
  const { fleet, now, texts } = form.viewer;
  const id = await findNamed(tx, { what, handle: form.fields[name] ?? '' }, fleet, now);
  if (id === undefined) throw new NotTaken(texts.tray.needChoice);
  return id;
}

async function logService(tx: Tx, unitId: string, form: EntryForm, entry: Entry): Promise<string> {
  const unit = await getUnit(tx, unitId);
  const serviceKind = form.choice('kind', jobsOf(unit, await listAddedKinds(tx)));
  const parts = readUsedParts(form.line('parts') ?? '');
  if (parts === null) throw new NotTaken(form.viewer.texts.unit.needParts);
  const technician = form.line('technician');
  await addService(
    tx,
    {
      unitId,
      serviceKind,
      on: form.day('on'),
      by: form.fields.by ? (form.choice('by', DONE_BY) as DoneBy) : 'here',
      findings: readLooks(form, unit),
      note: form.line('note'),
      ...(parts.length === 0 ? {} : { parts }),
      ...(technician === null ? {} : { technician }),
    },
    entry,
  );
  const stay = await findStay(tx, unitId);
  if (stay !== null && form.isTicked('jobDone'))
    await changeJob(tx, unitId, stay.factId, { step: 'done' }, entry);
  return 'service';
}
