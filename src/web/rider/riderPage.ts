import { html } from 'hono/html';
import { dayOf } from '../../core/days/calendar.js';
import type { WorkshopFact } from '../../core/ledger/facts.js';
import type { LinkPurpose } from '../../core/links.js';
import { findUnitOnBike } from '../../flow/due/riderUnits.js';
import type { Entry } from '../../flow/fittings/fittings.js';
import { riderEntry } from '../../flow/mail/answerLink.js';
import type { OpenedLink } from '../../flow/mail/links.js';
import type { KeptPhoto } from '../../flow/photos/photos.js';
import { getWorkshop } from '../../flow/settings.js';
import type { RidesMailbox } from '../../flow/take/whoseMail.js';
import { type RiderTexts, riderTextsFor } from '../../languages/index.js';
import { openingHoursFor } from '../../languages/openingHours.js';
import type { Ids } from '../../ports/ids.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import { barePage } from '../layout.js';
import { type Markup, NOTHING, said, when } from '../markup.js';
import { scriptPath } from '../scripts.js';
import { timeText } from '../show.js';
import type { Fields } from '../taken.js';
import type { Voice } from '../viewer.js';
import { voiceOf } from '../viewer.js';

/** Who opened a link, and what its page needs to know. */
export interface RiderView {
  readonly opened: OpenedLink;
  readonly workshop: WorkshopFact;
  readonly voice: Voice;
  readonly texts: RiderTexts;
  readonly today: Day;
  readonly now: Instant;
  readonly entry: Entry;
  readonly ids: Ids;
  /** The address of the rider's own page, where that is what was opened; null behind a link of a mail. */
  readonly home: string | null;
  /** The address that was opened. */
  readonly path: string;
  /** Whether the device keeps this page, with a worker that stands by it: by HTTPS alone it can. */
  readonly keeping: 'no' | 'could' | 'kept';
  /** What else the address names: a bike by its name for files. */
  readonly thing: string | null;
  /** Photographs that came with the form, and are kept. */
  readonly photos: readonly KeptPhoto[];
  /** Makes the address of the rider's own page, for who just proved to be the rider. */
  readonly ownPage: () => string;
  /** What was typed into a form that could not be taken, so that it can be put right; else empty. */
  readonly sent: Fields;
  /** For so long ride files are kept. */
  readonly keptMonths: number;
  /** To which rides are mailed; null where the workshop has none. */
  readonly mailbox: RidesMailbox | null;
}

/** What a page says of the form that was sent from it. */
export interface PageSaid {
  readonly text: string;
  /** Nothing was changed: the page is shown again. */
  readonly isFault: boolean;
  /** Where it leads on to. */
  readonly onTo?: { readonly href: string; readonly label: string };
}

export const done = (text: string, onTo?: PageSaid['onTo']): PageSaid => ({
  text,
  isFault: false,
  ...(onTo ? { onTo } : {}),
});
export const fault = (text: string): PageSaid => ({ text, isFault: true });

/** One page of a rider's. */
export interface RiderPage {
  title(texts: RiderTexts): string;
  /** Reads only: whoever opens a link, a mail scanner too, changes nothing. */
  show(tx: Tx, view: RiderView): Promise<Markup>;
  /** Does what its form asks. */
  take(tx: Tx, view: RiderView, fields: Fields): Promise<PageSaid>;
  /** Stands below what became of its form, to go on with. */
  readonly staysOpen?: boolean;
  /** What runs on it, where it does more for whoever has scripts. */
  readonly script?: 'sendOnPhoto';
}

/** One that has a link of its own. */
export interface LinkPage extends RiderPage {
  readonly purpose: LinkPurpose;
}

/** The parts of a rider's own page, with where they lie below it. */
export const OWN_PARTS = { bikes: '', rides: '/rides', files: '/files', mails: '/mails' } as const;
export type OwnPart = keyof typeof OWN_PARTS;

export async function viewOf(
  tx: Tx,
  around: Pick<
    RiderView,
    | 'opened'
    | 'now'
    | 'ids'
    | 'home'
    | 'path'
    | 'keeping'
    | 'thing'
    | 'photos'
    | 'ownPage'
    | 'sent'
    | 'keptMonths'
    | 'mailbox'
  >,
): Promise<RiderView> {
  const { opened, now } = around;
  const workshop = await getWorkshop(tx);
  const { language } = opened.contact;
  return {
    ...around,
    workshop,
    voice: voiceOf(language),
    texts: riderTextsFor(language),
    today: dayOf(now, workshop.timeZone),
    entry: riderEntry(opened.contact, now),
  };
}

export interface Body {
  readonly title: string;
  readonly what: PageSaid | null;
  readonly body: Markup;
  readonly staysOpen?: boolean | undefined;
  readonly script?: RiderPage['script'] | undefined;
  /** Which part of the rider's own page it is. */
  readonly part?: OwnPart | undefined;
}

/** Returns a page with what became of a form above it; after a change that stands alone, unless the page stays open. */
export function riderMarkup(view: RiderView, { title, what, body, staysOpen, part, script }: Body): Markup {
  const { voice, workshop, texts, home } = view;
  const isDone = what !== null && !what.isFault && !staysOpen;
  const back = home === null ? html`${texts.back}` : html`<a href="${home}">${texts.own.back}</a>`;
  return barePage(
    voice,
    title,
    html`
<h1>${title}</h1>
${keptLines(view, what === null)}
${when(what !== null, () => said(what!.text, what!.isFault ? 'alert' : 'status'))}
${when(what?.onTo !== undefined, () => html`<p><a class="button primary" href="${what!.onTo!.href}">${what!.onTo!.label}</a></p>`)}
${isDone ? NOTHING : body}
${when(isDone || (home !== null && part === undefined), () => html`<p class="screen">${back}</p>`)}
${contactMarkup(view)}`,
    workshop.name,
    home === null ? NOTHING : ownNav(texts, home, part),
    home === null
      ? {}
      : {
          manifest: '/app.webmanifest',
          scripts: [
            ...(view.keeping === 'kept' ? [scriptPath('own')] : []),
            ...(script ? [scriptPath(script)] : []),
          ],
        },
  );
}

/** On a device that keeps the page: when it was seen, for one without a connection, and what was shared and waits. */
function keptLines(
  { keeping, home, texts, voice, now, workshop, today }: RiderView,
  isState: boolean,
): Markup {
  if (keeping !== 'kept') return NOTHING;
  const { offline, waiting, look } = texts.own.device;
  const at = timeText(now, { ...voice, zone: workshop.timeZone, today });
  return html`${when(isState, () => html`<p class="said" role="status" id="offline" hidden>${offline(at)}</p>`)}
<p class="said" role="status" id="waiting" hidden>${waiting} <b data-count></b>. <a href="${home}/files">${look}</a></p>`;
}

/** How the workshop is reached stands on every page. */
function contactMarkup({ workshop, texts, voice }: RiderView): Markup {
  const { phone, address } = workshop;
  const lines = [...(address ?? '').split('\n'), ...openingHoursFor(workshop, voice.words)].filter(
    (line) => line !== '',
  );
  if (phone === null && lines.length === 0) return NOTHING;
  const call =
    phone === null ? NOTHING : html`<br><a href="tel:${phone.replace(/[^\d+]/g, '')}">${phone}</a>`;
  return html`<section class="entry" aria-label="${texts.contact}"><p><b>${workshop.name}</b>${call}${lines.map((line) => html`<br>${line}`)}</p></section>`;
}

const ownNav = ({ own }: RiderTexts, home: string, part: OwnPart | undefined): Markup =>
  html`<nav aria-label="${own.pages}"><ul>${(Object.entries(OWN_PARTS) as [OwnPart, string][]).map(
    ([name, path]) =>
      html`<li><a href="${home}${path}"${name === part ? html` aria-current="page"` : ''}>${own.nav[name]}</a></li>`,
  )}</ul></nav>`;

/** A form of the page itself; its address is the right to send it. */
export const form = (body: Markup): Markup => html`<form method="post">${body}</form>`;

/** `isMain` is what the page is for. */
export const submit = (label: string, isMain = false): Markup =>
  html`<div class="field"><button${isMain ? html` class="primary"` : ''}>${label}</button></div>`;

/** Which part a page is about; no page shows whose it is. */
export async function aboutUnit(tx: Tx, { voice, texts, opened }: RiderView): Promise<Markup> {
  const of = await findUnitOnBike(tx, opened.link.unitId, opened.contact.riderId);
  if (!of) return html``;
  const name = `${voice.words.unitKind[of.unit.unitKind]} ${of.unit.tag}`;
  return html`<p class="lead">${texts.about(of.bike ?? '', name).replace(/^, /, '')}</p>`;
}

export const notYours = ({ texts }: RiderView): Markup =>
  html`<h2>${texts.notYours.title}</h2><p>${texts.notYours.says}</p>`;
