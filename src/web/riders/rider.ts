import type { Context } from 'hono';
import { html } from 'hono/html';
import { dayOf } from '../../core/days/calendar.js';
import { expiryFrom } from '../../core/links.js';
import { getContact, getRiderPage } from '../../flow/facts/ridersPage.js';
import { queueOwnPage } from '../../flow/mail/kinds/link.js';
import { ownPageLink, revokeLinks } from '../../flow/mail/links.js';
import type { Contact } from '../../ports/contacts.js';
import type { Tx } from '../../ports/store.js';
import { callsTable } from '../cells/callsTable.js';
import { writeAsAllowed } from '../change.js';
import type { WebDeps } from '../deps.js';
import { formToken, page } from '../layout.js';
import { type Markup, said, when } from '../markup.js';
import type { Pages } from '../routes.js';
import type { Viewer, WebEnv } from '../viewer.js';

/** What was just done about a rider's page. */
type Did =
  | { readonly did: 'mailed' | 'asked' | 'revoked' | 'unreachable' }
  | { readonly made: string }
  | null;

/** One rider: how to reach them, and the link to their own page, to be made, mailed and taken back. */
export function riderPage(pages: Pages, deps: WebDeps): void {
  const { rider } = deps;
  pages.get('/riders/:handle', (c) => show(c, deps, null));
  if (!rider) return;
  const act = (name: 'link' | 'mail' | 'revoke', does: (tx: Tx, contact: Contact) => Promise<Did>): void => {
    pages.post(`/riders/:handle/${name}`, async (c) => {
      const did = await writeAsAllowed(deps, c, async (tx) =>
        does(tx, await getContact(tx, c.req.param('handle'))),
      );
      // The link is shown once, on the answer itself: no address that a browser keeps holds it.
      return show(c, deps, did);
    });
  };
  act('link', async (tx, contact) => ({
    made: ownPageLink(tx, contact, { publicUrl: deps.publicUrl ?? '', seal: rider.seal }, deps.clock.now()),
  }));
  act('mail', async (tx, contact) => {
    const isQueued = await queueOwnPage(tx, contact, deps.clock.now(), rider.ids);
    if (!isQueued) return { did: 'unreachable' };
    return { did: contact.confirmedAt === null ? 'asked' : 'mailed' };
  });
  act('revoke', async (tx, contact) => {
    await revokeLinks(tx, contact);
    return { did: 'revoked' };
  });
}

async function show(c: Context<WebEnv>, deps: WebDeps, did: Did): Promise<Response> {
  const viewer = c.get('viewer');
  const handle = c.req.param('handle') ?? '';
  const { contact, bikes, calls } = await deps.store.read((tx) => getRiderPage(tx, handle, viewer.now));
  const {
    texts: { riders },
    words,
  } = viewer;
  return c.html(
    page(viewer, {
      title: contact.name,
      current: 'riders',
      body: html`
<h1>${contact.name}</h1>
${saidOf(viewer, did)}
<dl class="facts">
<dt>${riders.columns.address}</dt><dd class="long">${contact.email ?? riders.address.none}</dd>
<dt>${riders.ownPage.phone}</dt><dd>${contact.phone ?? riders.ownPage.noPhone}</dd>
<dt>${riders.columns.language}</dt><dd>${words.languageName(contact.language)}</dd>
<dt>${riders.columns.bikes}</dt><dd>${
        bikes.length === 0
          ? riders.noBike
          : bikes.map(
              ({ handle: bike, name }, i) =>
                html`${i === 0 ? '' : ', '}<a href="/bikes/${encodeURIComponent(bike)}">${name}</a>`,
            )
      }</dd>
</dl>
${when(calls.length > 0, () => html`<h2>${viewer.texts.mails.reminders.calls(calls.length)}</h2>${callsTable(viewer, calls)}`)}
<h2>${riders.ownPage.title}</h2>
<p class="lead">${riders.ownPage.lead}</p>
${when(did !== null && 'made' in did, () => madeLink(viewer, did as { made: string }))}
${when(deps.rider !== undefined, () => linkForms(viewer, handle, deps.publicUrl !== null))}`,
    }),
    did !== null && 'did' in did && did.did === 'unreachable' ? 409 : 200,
  );
}

const saidOf = ({ texts: { riders } }: Viewer, did: Did): Markup =>
  html`${when(did !== null && 'did' in did, () => {
    const { did: what } = did as { did: keyof typeof riders.ownPage.said };
    return said(riders.ownPage.said[what], what === 'unreachable' ? 'alert' : 'status');
  })}`;

function madeLink(
  { texts: { riders }, words, now, zone, today }: Viewer,
  { made }: { made: string },
): Markup {
  const until = words.day(dayOf(expiryFrom(now), zone), today);
  return html`<div class="said" role="status"><p>${riders.ownPage.made(until)}</p>
<p><a class="long" href="${made}" rel="noreferrer">${made.startsWith('http') ? made : riders.ownPage.open}</a></p></div>`;
}

function linkForms(viewer: Viewer, handle: string, canMail: boolean): Markup {
  const { ownPage } = viewer.texts.riders;
  const form = (name: string, label: string): Markup =>
    html`<form method="post" action="/riders/${encodeURIComponent(handle)}/${name}">${formToken(viewer)}<button class="plain">${label}</button></form>`;
  return html`<div class="row">${form('link', ownPage.make)}${when(canMail, () => form('mail', ownPage.mail))}</div>
${when(!canMail, () => html`<p class="soft">${ownPage.noAddress}</p>`)}
<h3>${ownPage.revokeTitle}</h3>
<p>${ownPage.revokeLead}</p>
${form('revoke', ownPage.revoke)}`;
}
