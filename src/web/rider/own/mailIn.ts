import { html } from 'hono/html';
import { findRidesAddress } from '../../../flow/take/whoseMail.js';
import type { Tx } from '../../../ports/store.js';
import { type Markup, NOTHING } from '../../markup.js';
import type { Fields } from '../../taken.js';
import { done, form, type PageSaid, type RiderView, submit } from '../riderPage.js';

/** Returns the way to hand over rides by mail, with the rider’s own address; nothing where the workshop has no mailbox. */
export async function mailInMarkup(tx: Tx, { mailbox, texts, opened }: RiderView): Promise<Markup> {
  if (mailbox === null) return NOTHING;
  const address = await findRidesAddress(tx, mailbox, opened.contact.riderId);
  const { mailIn } = texts.own;
  return html`<h2>${mailIn.title}</h2>
<p>${mailIn.lead}</p>
<p><a class="long" href="mailto:${address}">${address}</a></p>
<p class="hint">${mailIn.keep}</p>`;
}

const action = (name: string, label: string): Markup =>
  form(html`<input type="hidden" name="action" value="${name}">${submit(label)}`);

/** Returns what a rider may change about it. */
export async function mailInForms(tx: Tx, view: RiderView): Promise<Markup> {
  if (view.mailbox === null) return NOTHING;
  const { mailIn } = view.texts.own;
  const { answersStoppedAt } = await tx.mailed.rider(view.opened.contact.riderId);
  return html`${await mailInMarkup(tx, view)}
${
  answersStoppedAt === null
    ? html`<p>${mailIn.answers}</p>${action('stop-answers', mailIn.stop)}`
    : html`<p>${mailIn.stopped}</p>${action('answer-again', mailIn.again)}`
}
<p>${mailIn.otherLead}</p>
${action('other-address', mailIn.other)}`;
}

/** Does what one of those forms asks; null where it is none of them. */
export async function takeMailIn(tx: Tx, view: RiderView, { action }: Fields): Promise<PageSaid | null> {
  const { mailIn } = view.texts.own;
  const { riderId } = view.opened.contact;
  if (action === 'stop-answers' || action === 'answer-again') {
    await tx.mailed.setAnswersStopped(riderId, action === 'stop-answers' ? view.now : null);
    return done(action === 'stop-answers' ? mailIn.stopped : mailIn.on);
  }
  if (action !== 'other-address' || view.mailbox === null) return null;
  await tx.mailed.revoke(riderId);
  return done(mailIn.changed);
}
