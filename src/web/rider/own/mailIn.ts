import { html } from 'hono/html';
import { getMailedWord, stopAnswers, takeOtherAddress } from '../../../flow/take/mailedWord.js';
import type { Tx } from '../../../ports/store.js';
import { type Markup, NOTHING } from '../../markup.js';
import type { Fields } from '../../taken.js';
import { done, form, type PageSaid, type RiderView, submit } from '../riderPage.js';

const ownAddress = ({ texts: { own } }: RiderView, address: string): Markup => html`
<h2>${own.mailIn.title}</h2>
<p>${own.mailIn.lead}</p>
<p><a class="long" href="mailto:${address}">${address}</a></p>
<p class="hint">${own.mailIn.keep}</p>`;

/** Returns the way to hand over rides by mail, with the rider’s own address; nothing where the workshop has no mailbox. */
export async function mailInMarkup(tx: Tx, view: RiderView): Promise<Markup> {
  const { mailbox, opened } = view;
  if (mailbox === null) return NOTHING;
  return ownAddress(view, (await getMailedWord(tx, mailbox, opened.contact.riderId)).address);
}

const button = (name: string, label: string): Markup =>
  form(html`<input type="hidden" name="action" value="${name}">${submit(label)}`);

/** Returns what a rider may change about it. */
export async function mailInForms(tx: Tx, view: RiderView): Promise<Markup> {
  const { mailbox, opened, texts, voice, today } = view;
  if (mailbox === null) return NOTHING;
  const { address, isAnswered, last } = await getMailedWord(tx, mailbox, opened.contact.riderId);
  const { mailIn } = texts.own;
  const came =
    last === null ? NOTHING : html`<p>${mailIn.last(voice.words.day(last.day, today), last.files)}</p>`;
  const answers = isAnswered
    ? html`<p>${mailIn.answers}</p>${button('stop-answers', mailIn.stop)}`
    : html`<p>${mailIn.stopped}</p>${button('answer-again', mailIn.again)}`;
  return html`${ownAddress(view, address)}
${came}${answers}
<p>${mailIn.otherLead}</p>
${button('other-address', mailIn.other)}`;
}

/** Does what one of those forms asks; null where it is none of them. */
export async function takeMailIn(tx: Tx, view: RiderView, { action }: Fields): Promise<PageSaid | null> {
  const { mailIn } = view.texts.own;
  const { riderId } = view.opened.contact;
  if (action === 'stop-answers' || action === 'answer-again') {
    await stopAnswers(tx, riderId, action === 'stop-answers', view.now);
    return done(action === 'stop-answers' ? mailIn.stopped : mailIn.on);
  }
  if (action !== 'other-address' || view.mailbox === null) return null;
  await takeOtherAddress(tx, riderId);
  return done(mailIn.changed);
}
