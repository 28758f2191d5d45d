import { html } from 'hono/html';
import { dayOf } from '../../core/calendar.js';
import type { WorkshopFact } from '../../core/facts.js';
import type { LinkPurpose } from '../../core/links.js';
import { riderEntry } from '../../flow/answerLink.js';
import type { Entry } from '../../flow/fittings.js';
import type { OpenedLink } from '../../flow/links.js';
import { getWorkshop } from '../../flow/settings.js';
import type { Ids, Tx } from '../../ports.js';
import type { Day, Instant } from '../../units.js';
import { barePage } from '../layout.js';
import { type Markup, said, when } from '../markup.js';
import { voiceOf } from '../texts/index.js';
import type { Voice } from '../viewer.js';
import { type RiderTexts, riderTextsFor } from './texts/index.js';

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
}

/** What a page says of the form that was sent from it. */
export interface Said {
  readonly text: string;
  /** Nothing was changed: the page is shown again. */
  readonly isFault: boolean;
}

export const done = (text: string): Said => ({ text, isFault: false });
export const fault = (text: string): Said => ({ text, isFault: true });

export type Fields = Readonly<Record<string, string>>;

/** One page behind a link. */
export interface RiderPage {
  readonly purpose: LinkPurpose;
  title(texts: RiderTexts): string;
  /** Reads only: whoever opens a link, a mail scanner too, changes nothing. */
  show(tx: Tx, view: RiderView): Promise<Markup>;
  /** Does what its form asks. */
  take(tx: Tx, view: RiderView, fields: Fields): Promise<Said>;
}

export async function viewOf(tx: Tx, opened: OpenedLink, now: Instant, ids: Ids): Promise<RiderView> {
  const workshop = await getWorkshop(tx);
  const { language } = opened.contact;
  return {
    ...{ opened, workshop, now, ids },
    voice: voiceOf(language),
    texts: riderTextsFor(language),
    today: dayOf(now, workshop.timeZone),
    entry: riderEntry(opened.contact, now),
  };
}

/** Returns a page with what became of a form above it; after a change that stands alone. */
export function riderMarkup(view: RiderView, title: string, what: Said | null, body: Markup): Markup {
  const { voice, workshop, texts } = view;
  return barePage(
    voice,
    title,
    html`
<h1>${title}</h1>
${when(what !== null, () => said(what!.text, what!.isFault ? 'alert' : 'status'))}
${what === null || what.isFault ? body : html`<p>${texts.back}</p>`}`,
    workshop.name,
  );
}

/** A form of the page itself; its address is the right to send it. */
export const form = (body: Markup): Markup => html`<form method="post">${body}</form>`;

export const submit = (label: string): Markup => html`<div class="field"><button>${label}</button></div>`;

/** Which part a page is about; no page shows whose it is. */
export async function aboutUnit(tx: Tx, { voice, texts, opened }: RiderView): Promise<Markup> {
  const unit = await tx.facts.current('unit', opened.link.unitId ?? '');
  if (!unit) return html``;
  const bike = await findBikeName(tx, unit.entityId, opened.contact.riderId);
  const name = `${voice.words.unitKind[unit.body.unitKind]} ${unit.body.tag}`;
  return html`<p class="lead">${texts.about(bike ?? '', name).replace(/^, /, '')}</p>`;
}

async function findBikeName(tx: Tx, unitId: string, riderId: string): Promise<string | null> {
  const own = new Map(
    (await tx.facts.list('bike', { object: riderId })).map((fact) => [fact.entityId, fact.body.name]),
  );
  const fittings = await tx.facts.list('fitting', { subject: unitId });
  return (
    fittings
      .filter(({ body }) => body.to === null && own.has(body.bikeId))
      .map(({ body }) => own.get(body.bikeId)!)
      .at(-1) ?? null
  );
}

export const notYours = ({ texts }: RiderView): Markup =>
  html`<h2>${texts.notYours.title}</h2><p>${texts.notYours.says}</p>`;
