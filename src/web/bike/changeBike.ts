import type { Context } from 'hono';
import { html } from 'hono/html';
import { z } from 'zod';
import { dayOf } from '../../core/days/calendar.js';
import type { BikeFact, Fact } from '../../core/ledger/facts.js';
import { BIKE_TYPES } from '../../core/tokens.js';
import { addUnitOn, changeThing, findOneRider, saidFleets } from '../../flow/counter/changeThings.js';
import type { NewUnit } from '../../flow/counter/newThings.js';
import { findIdOf, getBikeFact } from '../../flow/names.js';
import { instant } from '../../units.js';
import { pathOfUnit } from '../cells/dueCells.js';
import { change } from '../change.js';
import { bikeFaults, daySchema, lineOrNull, nameSchema, typedField } from '../customer/bikeFields.js';
import type { WebDeps } from '../deps.js';
import { EntryForm, NotTaken } from '../entryForm.js';
import { fieldsOf } from '../guard.js';
import { formToken } from '../layout.js';
import { choice, type Markup, soft, tick } from '../markup.js';
import type { Pages } from '../routes.js';
import { type After, taken } from '../taken.js';
import type { Viewer, WebEnv } from '../viewer.js';

type Show = (c: Context<WebEnv>, handle: string, after: After) => Promise<Markup>;

const changeSchema = z.object({
  name: nameSchema,
  type: z.enum(BIKE_TYPES),
  fleet: z.string().max(64),
  fleetFrom: z.string().max(10).default(''),
  fleetEver: z.literal('yes').optional(),
  owner: z.string().trim().max(200),
  motor: z.literal('yes').optional(),
});
/** What a unit may be, as one choice. */
export const UNIT_SORTS = {
  'fork air': { unitKind: 'fork', spring: 'air' },
  'fork coil': { unitKind: 'fork', spring: 'coil' },
  'air-shock': { unitKind: 'air-shock' },
  'coil-shock': { unitKind: 'coil-shock' },
} as const satisfies Readonly<Record<string, Pick<NewUnit, 'unitKind' | 'spring'>>>;
export const unitSortKinds = Object.keys(UNIT_SORTS) as (keyof typeof UNIT_SORTS)[];

/** What a bike is called, of which type, whose and of which fleet; and a unit that comes new on it. */
export function changeBike(pages: Pages, deps: WebDeps, show: Show): void {
  pages.post('/bikes/:handle/change', async (c) => {
    const viewer = c.get('viewer');
    const handle = c.req.param('handle');
    const fields = await fieldsOf(c);
    const { things } = viewer.texts.customer;
    const given = changeSchema.safeParse(fields);
    const work = async (): Promise<string> => {
      if (!given.success) throw new NotTaken(viewer.texts.customer.need.line);
      const { name, type, fleet, fleetFrom, fleetEver, owner, motor } = given.data;
      const from = fleetFrom === '' ? null : new EntryForm(fields, viewer).day('fleetFrom');
      const isOther = await change(deps, c, async (tx, entry) => {
        const before = await getBikeFact(tx, handle);
        const isSame = owner === (fields.ownerSeen ?? '');
        const riderId = isSame ? before.body.riderId : owner === '' ? null : await findOneRider(tx, owner);
        if (!isSame && owner !== '' && riderId === null) throw new NotTaken(things.needRider);
        const fleetId = fleet === '' ? null : ((await findIdOf(tx, 'fleet', fleet)) ?? before.body.fleetId);
        const helps = motor === 'yes';
        // A bike of which nobody said so stays as it was written.
        const said = helps || before.body.motor !== undefined ? { motor: helps } : {};
        const isEver = fleetEver === 'yes';
        const fleets = saidFleets(before.body, { fleetId, from, isEver }, viewer);
        const words = { name, type, riderId, ...said, ...fleets };
        return changeThing(
          tx,
          { kind: 'bike', entityId: before.entityId, factId: fields.fact, words },
          entry,
        );
      });
      return `/bikes/${encodeURIComponent(handle)}?done=${isOther ? 'saved' : 'unchanged'}`;
    };
    return taken(c, fields, work, (after) => show(c, handle, after));
  });

  pages.post('/bikes/:handle/unit', async (c) => {
    const viewer = c.get('viewer');
    const handle = c.req.param('handle');
    const fields = await fieldsOf(c);
    const given = z
      .object({
        kind: z.enum(unitSortKinds),
        ...{ model: lineOrNull, serial: lineOrNull, since: daySchema(viewer.today) },
        history: z.enum(['new', 'unknown']),
      })
      .safeParse(fields);
    const work = async (): Promise<string> => {
      if (!given.success) throw new NotTaken(Object.values(bikeFaults(viewer, given.error.issues))[0]!);
      const { kind, since, ...rest } = given.data;
      const unit = await change(deps, c, async (tx, entry) => {
        const { entityId: bikeId } = await getBikeFact(tx, handle);
        return addUnitOn(tx, { bikeId, since, unit: { ...UNIT_SORTS[kind], ...rest } }, entry);
      });
      return `${pathOfUnit(unit.body.tag)}?done=added`;
    };
    return taken(c, fields, work, (after) => show(c, handle, after));
  });
}

interface Known {
  readonly fact: Fact<'bike'>;
  readonly rider: string | null;
  readonly fleets: readonly { readonly id: string; readonly handle: string; readonly name: string }[];
}

export function changeBikeForms(viewer: Viewer, known: Known, { fields, fault }: After): Markup {
  const { customer } = viewer.texts;
  const path = `/bikes/${encodeURIComponent(known.fact.body.handle)}`;
  const part = (title: string, isOpen: boolean, body: Markup): Markup =>
    html`<details class="entry"${isOpen ? html` open` : ''}><summary><h2>${title}</h2></summary>${body}</details>`;
  const wasSent = (name: string): boolean => fault !== null && fields[name] !== undefined;
  return html`
${part(customer.things.bikeChange, wasSent('ownerSeen'), changeForm(viewer, path, known, fields))}
${part(customer.things.unitAdd, wasSent('kind'), unitForm(viewer, path, fields))}`;
}

function changeForm(
  viewer: Viewer,
  path: string,
  { fact, rider, fleets }: Known,
  sent: After['fields'],
): Markup {
  const { customer } = viewer.texts;
  const { things } = customer;
  const { name, type, fleetId, motor = false }: BikeFact = fact.body;
  const owner = rider ?? '';
  const fleet = fleets.find(({ id }) => id === fleetId)?.handle ?? '';
  const form = { fields: { name, type, owner, fleet, ...sent }, wrong: {} };
  return html`<form method="post" action="${path}/change">${formToken(viewer)}
<input type="hidden" name="fact" value="${sent.fact ?? fact.id}"><input type="hidden" name="ownerSeen" value="${sent.ownerSeen ?? owner}">
<div class="pair">
${typedField(form, { name: 'name', id: 'bike-name', label: customer.bike, isRequired: true })}
${choice({ name: 'type', label: customer.type, value: form.fields.type, choices: BIKE_TYPES.map((value) => ({ value, label: viewer.words.bikeType[value] })) })}
${typedField(form, { name: 'owner', label: things.owner, hint: things.ownerHint })}
${choice({ name: 'fleet', label: things.fleet, value: form.fields.fleet, choices: [{ value: '', label: things.noFleet }, ...fleets.map((one) => ({ value: one.handle, label: one.name }))] })}
${typedField(form, { name: 'fleetFrom', label: things.fleetFrom, hint: things.fleetFromHint, type: 'date', isShort: true })}
</div>
${soft(formerText(viewer, fact.body, fleets))}
${tick('fleetEver', things.fleetEver, sent.fleetEver === 'yes')}
${tick('motor', things.motor, sent.name === undefined ? motor : sent.motor === 'yes')}
<p><button>${things.save}</button></p></form>`;
}

/** Which fleets it was of, and until when; null where it never was of another. */
function formerText(
  { texts: { customer }, words, today, zone }: Viewer,
  { formerFleets = [] }: BikeFact,
  fleets: Known['fleets'],
): string | null {
  const { things } = customer;
  const named = formerFleets.map(({ fleetId, until }) => {
    const day = dayOf(instant(Date.parse(until)), zone);
    return things.fleetUntil(
      fleets.find(({ id }) => id === fleetId)?.name ?? things.noFleet,
      words.day(day, today),
    );
  });
  return named.length === 0 ? null : `${named.join('; ')}.`;
}

function unitForm(viewer: Viewer, path: string, fields: After['fields']): Markup {
  const { customer } = viewer.texts;
  const { things } = customer;
  const form = { fields, wrong: {} };
  return html`<form method="post" action="${path}/unit">${formToken(viewer)}
<div class="pair">
${choice({ name: 'kind', label: things.unitKind, value: fields.kind ?? 'fork air', choices: unitSortKinds.map((value) => ({ value, label: things.kinds[value] })) })}
${typedField(form, { name: 'model', label: things.model })}
${typedField(form, { name: 'serial', label: things.serial })}
${typedField(form, { name: 'since', label: customer.since, type: 'date', isShort: true, usual: viewer.today })}
${choice({ name: 'history', label: customer.history, value: fields.history ?? 'unknown', choices: (['new', 'unknown'] as const).map((value) => ({ value, label: customer.histories[value] })) })}
</div>
<p><button>${things.addUnit}</button></p></form>`;
}
