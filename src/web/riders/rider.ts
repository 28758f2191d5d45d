import type { Context } from 'hono';
import { z } from 'zod';
import { isLines } from '../../core/lines.js';
import { changeContact } from '../../flow/counter/changeContact.js';
import { addBikeWith } from '../../flow/counter/changeThings.js';
import { getRiderPage } from '../../flow/counter/riderPage.js';
import { getContact } from '../../flow/facts/ridersPage.js';
import { queueOwnPage } from '../../flow/mail/kinds/link.js';
import { ownPageLink, revokeLinks } from '../../flow/mail/links.js';
import type { Contact } from '../../ports/contacts.js';
import type { Tx } from '../../ports/store.js';
import { change, writeAsAllowed } from '../change.js';
import { bikeFaults, bikeShape, unitsIn } from '../customer/bikeFields.js';
import { contactShape } from '../customer/contactFields.js';
import type { WebDeps } from '../deps.js';
import { NotTaken } from '../entryForm.js';
import { fieldsOf } from '../guard.js';
import type { Pages } from '../routes.js';
import { taken } from '../taken.js';
import type { WebEnv } from '../viewer.js';
import { type RiderForms, type RiderSaid, riderMarkup } from './riderMarkup.js';

const NO_FORMS: RiderForms = { contact: null, bike: null };
const contactSchema = z.object({
  ...contactShape,
  note: z
    .string()
    .transform((text) => text.replace(/\r\n?/g, '\n').trim())
    .pipe(
      z
        .string()
        .max(2000)
        .refine((text) => text === '' || isLines(text)),
    )
    .transform((text) => (text === '' ? null : text)),
});

/** One rider: a call is answered from here, and all that is known of the rider is changed here. */
export function riderPage(pages: Pages, deps: WebDeps): void {
  const { rider } = deps;
  const askBy = deps.publicUrl !== null && rider ? rider.ids : null;
  const show = async (c: Context<WebEnv>, said: RiderSaid, forms = NO_FORMS) => {
    const viewer = c.get('viewer');
    const handle = c.req.param('handle') ?? '';
    const view = await deps.store.read((tx) => getRiderPage(tx, handle, viewer.now));
    const links = { canMake: rider !== undefined, canMail: deps.publicUrl !== null };
    return riderMarkup(viewer, { handle, view, links }, said, forms);
  };
  pages.get('/riders/:handle', async (c) =>
    c.html(await show(c, { done: c.req.query('done') ?? null, fault: null, link: null })),
  );

  pages.post('/riders/:handle/contact', async (c) => {
    const viewer = c.get('viewer');
    const handle = c.req.param('handle');
    const fields = await fieldsOf(c);
    const given = contactSchema.safeParse(fields);
    const wrong = given.success ? {} : bikeFaults(viewer, given.error.issues);
    const work = async (): Promise<string> => {
      if (!given.success) throw new NotTaken(viewer.texts.interval.fix);
      const did = await change(deps, c, async (tx, entry) =>
        changeContact(tx, await getContact(tx, handle), given.data, fields.seen ?? '', entry, askBy),
      );
      if (did === 'changed') throw new NotTaken(viewer.texts.customer.meanwhile);
      return `${pathOf(handle)}?done=${did}`;
    };
    return taken(c, fields, work, ({ fault }) =>
      show(c, { done: null, fault, link: null }, { contact: { fields, wrong }, bike: null }),
    );
  });

  pages.post('/riders/:handle/bikes', async (c) => {
    const viewer = c.get('viewer');
    const handle = c.req.param('handle');
    const fields = await fieldsOf(c);
    const given = z.object(bikeShape(viewer.today)).safeParse(fields);
    const wrong = given.success ? {} : bikeFaults(viewer, given.error.issues);
    const work = async (): Promise<string> => {
      if (!given.success) throw new NotTaken(viewer.texts.interval.fix);
      const { bike, type, since } = given.data;
      const units = unitsIn(given.data);
      await change(deps, c, async (tx, entry) => {
        const { riderId } = await getContact(tx, handle);
        return addBikeWith(tx, { riderId, fleetId: null, name: bike, type, since, units }, entry);
      });
      return `${pathOf(handle)}?done=bike`;
    };
    return taken(c, fields, work, ({ fault }) =>
      show(c, { done: null, fault, link: null }, { contact: null, bike: { fields, wrong } }),
    );
  });

  if (!rider) return;
  const act = (
    name: 'link' | 'mail' | 'revoke',
    does: (tx: Tx, contact: Contact) => Promise<RiderSaid>,
  ): void => {
    pages.post(`/riders/:handle/${name}`, async (c) => {
      const said = await writeAsAllowed(deps, c, async (tx) =>
        does(tx, await getContact(tx, c.req.param('handle'))),
      );
      // The link is shown once, on the answer itself: no address that a browser keeps holds it.
      return c.html(await show(c, said), said.done === 'unreachable' ? 409 : 200);
    });
  };
  const did = (done: string): RiderSaid => ({ done, fault: null, link: null });
  act('link', async (tx, contact) => ({
    ...did('made'),
    link: ownPageLink(tx, contact, { publicUrl: deps.publicUrl ?? '', seal: rider.seal }, deps.clock.now()),
  }));
  act('mail', async (tx, contact) => {
    const isQueued = await queueOwnPage(tx, contact, deps.clock.now(), rider.ids);
    if (!isQueued) return did('unreachable');
    return did(contact.confirmedAt === null ? 'askedFirst' : 'mailed');
  });
  act('revoke', async (tx, contact) => {
    await revokeLinks(tx, contact);
    return did('revoked');
  });
}

const pathOf = (handle: string): string => `/riders/${encodeURIComponent(handle)}`;
