/** The pages about the rider's own rides and mails: wrong bike, stop mails, confirm the address. */
import { html } from 'hono/html';
import { listBikeNames } from '../../flow/due/riderUnits.js';
import { confirmAddress, listLinkedRides, sayWrongBike, setStopped } from '../../flow/mail/answerLink.js';
import { isFoundMailed, stopFound } from '../../flow/mail/kinds/found.js';
import { areMailsAnswered, stopAnswers } from '../../flow/take/mailedWord.js';
import { mailTextsFor } from '../../languages/index.js';
import type { Tx } from '../../ports/store.js';
import type { Markup } from '../markup.js';
import type { Fields } from '../taken.js';
import { bikeChosen, moveForm, saidOfMove } from './moveForm.js';
import { done, fault, form, type LinkPage, type RiderView, submit } from './riderPage.js';

const bikesOf = (tx: Tx, { opened }: RiderView): Promise<ReadonlyMap<string, string>> =>
  listBikeNames(tx, opened.contact.riderId);

export const bikePage: LinkPage = {
  purpose: 'bike',
  title: (texts) => texts.bike.title,
  show: async (tx, view) => {
    const { texts } = view;
    const rides = await listLinkedRides(tx, view.opened);
    if (rides.length === 0)
      return html`<p>${texts.bike.none}</p><p>${texts.call(view.workshop.phone, view.workshop.email)}</p>`;
    return html`<p>${texts.bike.lead}</p>
${moveForm(view, rides, await bikesOf(tx, view))}`;
  },
  take: async (tx, view, fields) => {
    const bikeId = bikeChosen(fields);
    const isMoved = await sayWrongBike(tx, view.opened, fields.ride ?? '', bikeId, view.entry);
    return saidOfMove(view, isMoved, await bikesOf(tx, view), bikeId);
  },
};

export const stopForm = (action: 'stop' | 'again', label: string, isMain = false): Markup =>
  form(html`<input type="hidden" name="action" value="${action}">${submit(label, isMain)}`);

/** What RFC 8058 3.2 has a mail program send. */
const ONE_CLICK = { name: 'List-Unsubscribe', value: 'One-Click' };

/** A mail program's one click; it is answered at once, for it follows no redirect. Source: RFC 8058 3.1. */
export const isOneClick = (fields: Fields): boolean => fields[ONE_CLICK.name] === ONE_CLICK.value;

export const stopPage: LinkPage = {
  purpose: 'stop',
  title: (texts) => texts.stop.title,
  show: async (_tx, { texts: { stop }, opened }) =>
    opened.contact.unsubscribedAt === null
      ? html`<p>${stop.lead}</p>${stopForm('stop', stop.submit, true)}`
      : html`<p>${stop.stopped}</p>${stopForm('again', stop.again, true)}`,
  take: async (tx, { texts: { stop }, opened, now }, fields) => {
    if (!isOneClick(fields) && fields.action !== 'stop' && fields.action !== 'again') return fault(stop.lead);
    const isStopped = isOneClick(fields) || fields.action === 'stop';
    await setStopped(tx, opened.contact, isStopped, now);
    return done(isStopped ? stop.stopped : stop.on);
  },
};

/** Ends the answers to rides that were mailed, and nothing else. */
export const stopAnswersPage: LinkPage = {
  purpose: 'stop-answers',
  title: (texts) => texts.own.mailIn.title,
  show: async (tx, { texts: { own }, opened }) => {
    return (await areMailsAnswered(tx, opened.contact.riderId))
      ? html`<p>${own.mailIn.answers}</p>${stopForm('stop', own.mailIn.stop)}`
      : html`<p>${own.mailIn.stopped}</p>${stopForm('again', own.mailIn.again)}`;
  },
  take: async (tx, { texts: { own }, opened, now }, fields) => {
    const isOneClick = fields[ONE_CLICK.name] === ONE_CLICK.value;
    if (!isOneClick && fields.action !== 'stop' && fields.action !== 'again')
      return fault(own.mailIn.answers);
    const isStopped = isOneClick || fields.action === 'stop';
    await stopAnswers(tx, opened.contact.riderId, isStopped, now);
    return done(isStopped ? own.mailIn.stopped : own.mailIn.on);
  },
};

/** Ends the mails on what was found at services, and nothing else. */
export const stopFoundPage: LinkPage = {
  purpose: 'stop-found',
  title: (texts) => texts.own.found,
  show: async (tx, { opened }) => {
    const { stopPage: says } = mailTextsFor(opened.contact.language).found;
    return (await isFoundMailed(tx, opened.contact.riderId))
      ? html`<p>${says.says}</p>${stopForm('stop', says.submit)}`
      : html`<p>${says.stopped}</p>${stopForm('again', says.again)}`;
  },
  take: async (tx, { opened, now }, fields) => {
    const { stopPage: says } = mailTextsFor(opened.contact.language).found;
    if (!isOneClick(fields) && fields.action !== 'stop' && fields.action !== 'again') return fault(says.says);
    const isStopped = isOneClick(fields) || fields.action === 'stop';
    await stopFound(tx, opened.contact.riderId, isStopped, now);
    return done(isStopped ? says.stopped : says.on);
  },
};

export const addressPage: LinkPage = {
  purpose: 'address',
  title: (texts) => texts.address.title,
  show: async (_tx, { texts: { address }, opened, workshop }) =>
    opened.contact.confirmedAt === null
      ? html`<p>${address.lead(workshop.name)}</p>${form(html`<input type="hidden" name="action" value="confirm">${submit(address.submit, true)}`)}`
      : html`<p>${address.known}</p>`,
  take: async (tx, { texts: { address }, opened, now, workshop, ids, ownPage }, { action }) => {
    if (action !== 'confirm') return fault(address.lead(workshop.name));
    await confirmAddress(tx, opened.contact, now, ids);
    return done(address.said, { href: ownPage(), label: address.toOwnPage });
  },
};
