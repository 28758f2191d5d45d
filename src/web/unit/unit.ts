import type { Context } from 'hono';
import { handleFault } from '../../core/handle.js';
import { afterLastRideOf } from '../../core/ledger/moment.js';
import { jobsOf } from '../../core/ledger/serviceKinds.js';
import { GONE_WAYS } from '../../core/tokens.js';
import { changeThing } from '../../flow/counter/changeThings.js';
import { getUnitPage, type UnitPage } from '../../flow/due/unitPage.js';
import { saveClaim } from '../../flow/facts/claims.js';
import { addService, findSameService, markUnit } from '../../flow/facts/enterFacts.js';
import { changeJob, findStay } from '../../flow/facts/jobs.js';
import { rename } from '../../flow/facts/rename.js';
import { type Entry, endFitting, fitUnit, swapUnits } from '../../flow/fittings/fittings.js';
import { putOn } from '../../flow/fittings/putOn.js';
import { setFleet, setGone } from '../../flow/fittings/whereabouts.js';
import { findIdOf, getIdOf } from '../../flow/names.js';
import { giveUpDay } from '../../flow/plan/leads.js';
import { listTaken } from '../../flow/plan/partsShelf.js';
import { findNamed } from '../../flow/rights.js';
import { listAddedKinds } from '../../flow/settings.js';
import { getUnit } from '../../flow/unitLedger.js';
import type { Ids } from '../../ports/ids.js';
import type { Tx } from '../../ports/store.js';
import { isoTime, type Moment } from '../../units.js';
import { pathBack } from '../bench/pathBack.js';
import { pathOfUnit } from '../cells/dueCells.js';
import { change } from '../change.js';
import type { WebDeps } from '../deps.js';
import { EntryForm, NotTaken } from '../entryForm.js';
import { fieldsOf } from '../guard.js';
import type { Markup } from '../markup.js';
import type { Pages } from '../routes.js';
import { byText } from '../show.js';
import { type After, afterQuery, taken } from '../taken.js';
import type { WebEnv } from '../viewer.js';
import { unitWords } from './changeUnit.js';
import { claimIn } from './claimForm.js';
import { askWhatMoves } from './movedRides.js';
import { readService } from './serviceForm.js';
import { serviceMarkup } from './servicePage.js';
import { unitMarkup } from './unitMarkup.js';

/** What a form on the page does to the unit. Returns what the page then says. */
type Act = (tx: Tx, unitId: string, form: EntryForm, entry: Entry, ids: Ids) => Promise<string>;

export function unitPage(pages: Pages, deps: WebDeps): void {
  const view = viewOf(deps);
  const show = showUnit(deps);

  pages.get('/units/:tag', async (c) => {
    const shown = await view(c, c.req.param('tag'));
    const { tag } = shown.ledger.unit;
    if (tag !== c.req.param('tag')) return c.redirect(`${pathOfUnit(tag)}${new URL(c.req.url).search}`);
    return c.html(unitMarkup(c.get('viewer'), shown, afterQuery(c)));
  });

  const service = async (c: Context<WebEnv>, tag: string, after: After, from: string): Promise<Markup> => {
    const shown = await view(c, tag);
    const kind = after.fields.kind ?? shown.comingJob ?? jobsOf(shown.ledger.unit, shown.addedKinds)[0]!;
    const parts = await deps.store.read((tx) => listTaken(tx, shown.ledger.unit, kind));
    return serviceMarkup(c.get('viewer'), shown, after, { from, parts });
  };
  pages.get('/units/:tag/service', async (c) =>
    c.html(await service(c, c.req.param('tag'), afterQuery(c), c.req.query('from') ?? 'unit')),
  );

  for (const [name, act] of Object.entries(ACTS) as [ActName, Act][]) {
    pages.post(`/units/:tag/${name}`, async (c) => {
      const viewer = c.get('viewer');
      const tag = c.req.param('tag');
      const fields = await fieldsOf(c);
      // Another kind takes other parts: they are shown, and all that was typed stays.
      if (name === 'service' && fields.show !== undefined)
        return c.html(await service(c, tag, { fault: null, fields, done: null }, fields.from ?? 'unit'));
      const work = async (): Promise<string> => {
        const form = new EntryForm(fields, viewer);
        const done = await change(deps, c, async (tx, entry) =>
          act(tx, await getIdOf(tx, 'unit', tag), form, entry, deps.ids),
        );
        return pathBack(viewer.fleet === null ? fields.from : undefined, tag, done);
      };
      return taken(c, fields, work, async (after) =>
        name === 'service' ? service(c, tag, after, fields.from ?? 'unit') : show(c, tag, after),
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

type ActName =
  | 'claim'
  | 'service'
  | 'fit'
  | 'off'
  | 'swap'
  | 'gone'
  | 'back'
  | 'fleet'
  | 'mark'
  | 'tag'
  | 'change';

/** A day alone is its start. */
const momentIn = (form: EntryForm, name: 'fit' | 'swap'): Moment => {
  const day = form.day(`${name}From`);
  if (form.fields[`${name}When`] === 'at') return isoTime(form.moment(`${name}From`, `${name}Time`));
  return form.fields[`${name}When`] === 'after' ? afterLastRideOf(day, form.viewer.zone) : day;
};

const isSure = ({ fields }: EntryForm): boolean => fields.althoughMarked === 'yes';

const ACTS: Readonly<Record<ActName, Act>> = {
  service: logService,
  fit: async (tx, unitId, form, entry) => {
    const bikeId = await getNamed(tx, 'bike', form, 'fitBike');
    const loanUntil = form.laterDay('loanUntil') ?? undefined;
    const body = { unitId, bikeId, from: momentIn(form, 'fit'), to: null, ...(loanUntil && { loanUntil }) };
    const of = { unitIds: [unitId], bikeIds: [bikeId] };
    await askWhatMoves(tx, form, of, () =>
      form.isTicked('clears')
        ? putOn(tx, { unitId, bikeId, at: body.from, loanUntil }, isSure(form), entry)
        : fitUnit(tx, body, isSure(form), entry).then((id) => [id]),
    );
    return 'fit';
  },
  off: async (tx, unitId, form, entry) => {
    const at = afterLastRideOf(form.day('offFrom'), form.viewer.zone);
    await askWhatMoves(tx, form, { unitIds: [unitId] }, () => endFitting(tx, unitId, at, entry));
    return 'off';
  },
  swap: async (tx, unitId, form, entry) => {
    const otherId = await getNamed(tx, 'unit', form, 'swapWith');
    const backWhy = form.viewer.texts.team.swap.backWhy;
    const at = momentIn(form, 'swap');
    const { isBack } = await askWhatMoves(tx, form, { unitIds: [unitId, otherId] }, () =>
      swapUnits(tx, [unitId, otherId], at, entry, { backWhy, isSure: isSure(form) }),
    );
    return isBack ? 'swapBack' : 'swap';
  },
  gone: async (tx, unitId, form, entry, ids) => {
    const body = { unitId, how: form.choice('goneHow', GONE_WAYS), on: form.day('goneOn') };
    await askWhatMoves(tx, form, { unitIds: [unitId] }, () => setGone(tx, body, entry));
    await giveUpDay(tx, unitId, entry, ids);
    return 'gone';
  },
  back: async (tx, unitId, form, entry) => {
    await setGone(tx, { unitId, how: 'back', on: form.day('backOn') }, entry);
    return 'back';
  },
  fleet: async (tx, unitId, form, entry) => {
    const { fleet } = form.fields;
    const fleetId = fleet === '' ? null : await findIdOf(tx, 'fleet', fleet ?? '');
    if (fleetId === undefined) throw new NotTaken(form.viewer.texts.tray.needChoice, 'fleet');
    await setFleet(tx, { unitId, fleetId, from: form.day('fleetFrom') }, entry);
    return 'fleet';
  },
  mark: async (tx, unitId, form, entry) => {
    await markUnit(tx, unitId, true, form.why('why'), entry);
    return 'mark';
  },
  claim: async (tx, unitId, form, entry) => {
    await saveClaim(tx, unitId, form.fields.claimFact || null, claimIn(form), entry);
    return 'claim';
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
  const service = readService(form, unit, await listAddedKinds(tx));
  const { serviceKind, on } = service;
  const same = await findSameService(tx, { unitId, serviceKind, on });
  if (same && !form.isTicked('again')) {
    const { texts } = form.viewer;
    throw new NotTaken(texts.unit.sameDay(byText(form.viewer, same.recordedBy)), 'again');
  }
  await addService(tx, { unitId, ...service }, entry);
  const stay = await findStay(tx, unitId);
  if (stay !== null && form.isTicked('jobDone'))
    await changeJob(tx, unitId, stay.factId, { step: 'done' }, entry);
  return 'service';
}
