/** A page behind a link of a mail that is about one unit. */
import { html } from 'hono/html';
import { findLinkedUnit, type LinkedUnit } from '../../flow/mail/answerLink.js';
import type { Tx } from '../../ports/store.js';
import type { Markup } from '../markup.js';
import type { Fields } from '../taken.js';
import { aboutUnit, fault, type LinkPage, notYours, type PageSaid, type RiderView } from './riderPage.js';

/** Returns a page that is about a unit, and says so where the unit is no longer on the rider's bike. */
export function unitPage(page: {
  readonly purpose: LinkPage['purpose'];
  readonly title: LinkPage['title'];
  show(tx: Tx, view: RiderView, of: LinkedUnit): Promise<Markup>;
  take(tx: Tx, view: RiderView, of: LinkedUnit, fields: Fields): Promise<PageSaid>;
}): LinkPage {
  return {
    ...page,
    show: async (tx, view) => {
      const of = await findLinkedUnit(tx, view.opened, view.now);
      if (!of) return notYours(view);
      return html`${await aboutUnit(tx, view)}${await page.show(tx, view, of)}`;
    },
    take: async (tx, view, fields) => {
      const of = await findLinkedUnit(tx, view.opened, view.now);
      return of ? page.take(tx, view, of, fields) : fault(view.texts.notYours.says);
    },
  };
}
