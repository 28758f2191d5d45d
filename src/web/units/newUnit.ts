import type { Context } from 'hono';
import { html } from 'hono/html';
import { z } from 'zod';
import { addUnitAlone, findRiderName } from '../../flow/counter/changeThings.js';
import { UNIT_SORTS, unitSortKinds } from '../bike/changeBike.js';
import { pathOfUnit } from '../cells/dueCells.js';
import { change } from '../change.js';
import { lineOrNull, typedField } from '../customer/bikeFields.js';
import type { WebDeps } from '../deps.js';
import { NotTaken } from '../entryForm.js';
import { fieldsOf } from '../guard.js';
import { formToken, page } from '../layout.js';
import { choice, type Markup, saidAfter, when } from '../markup.js';
import type { Pages } from '../routes.js';
import { type After, afterQuery, taken } from '../taken.js';
import type { Viewer, WebEnv } from '../viewer.js';

const PATH = '/units/new';
const HISTORIES = ['unknown', 'new'] as const;
const SCHEMAS = {
  kind: z.enum(unitSortKinds),
  model: lineOrNull,
  serial: lineOrNull,
  history: z.enum(HISTORIES),
};

/** A unit that comes in a box, without a bike: it gets a tag, and runs no hours until it is on one. */
export function newUnitPage(pages: Pages, deps: WebDeps): void {
  const show = async (c: Context<WebEnv>, after: After): Promise<Markup> => {
    const rider = after.fields.rider ?? c.req.query('rider') ?? '';
    const name = rider === '' ? null : await deps.store.read((tx) => findRiderName(tx, rider));
    return markup(c.get('viewer'), after, name === null ? null : { handle: rider, name });
  };
  pages.get(PATH, async (c) => c.html(await show(c, afterQuery(c))));
  pages.post(PATH, async (c) => {
    const viewer = c.get('viewer');
    const fields = await fieldsOf(c);
    const work = async (): Promise<string> => {
      const read = <T>(name: keyof typeof SCHEMAS, schema: z.ZodType<T>): T => {
        const given = schema.safeParse(fields[name] ?? '');
        if (!given.success) throw new NotTaken(viewer.texts.customer.need.line, name);
        return given.data;
      };
      const unit = {
        ...UNIT_SORTS[read('kind', SCHEMAS.kind)],
        model: read('model', SCHEMAS.model),
        serial: read('serial', SCHEMAS.serial),
        history: read('history', SCHEMAS.history),
      };
      const rider = fields.rider || null;
      const fact = await change(deps, c, (tx, entry) => addUnitAlone(tx, unit, rider, entry));
      return `${pathOfUnit(fact.body.tag)}?done=added`;
    };
    return taken(c, fields, work, (after) => show(c, after));
  });
}

function markup(
  viewer: Viewer,
  after: After,
  rider: { readonly handle: string; readonly name: string } | null,
): Markup {
  const { customer } = viewer.texts;
  const { things, box } = customer;
  const { fields, fault, at } = after;
  const form = { fields, wrong: at ? { [at]: fault ?? '' } : {} };
  return page(viewer, {
    title: box.title,
    current: 'units',
    body: html`
<h1>${box.title}</h1>
<p class="lead">${box.lead} ${rider === null ? box.ofNobody : box.of(rider.name)}</p>
${saidAfter(fault, undefined)}
<form method="post" action="${PATH}" class="wide">${formToken(viewer)}${when(rider !== null, () => html`<input type="hidden" name="rider" value="${rider!.handle}">`)}
<div class="pair">
${choice({ name: 'kind', label: things.unitKind, value: fields.kind ?? 'fork air', choices: unitSortKinds.map((value) => ({ value, label: things.kinds[value] })) })}
${typedField(form, { name: 'model', label: things.model })}
${typedField(form, { name: 'serial', label: things.serial })}
${choice({ name: 'history', label: customer.history, value: fields.history ?? 'unknown', choices: HISTORIES.map((value) => ({ value, label: box.histories[value] })) })}
</div>
<p><button class="primary">${things.addUnit}</button></p></form>
<p class="screen"><a href="/customers/new">${customer.title}</a></p>`,
  });
}
