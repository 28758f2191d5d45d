import { html } from 'hono/html';
import { fault, type RiderPage } from '../riderPage.js';

/** How files get out of a recorder, what counts, and what the numbers mean, in short. */
export const helpPage: RiderPage = {
  title: (texts) => texts.own.help.title,
  show: async (_tx, { texts }) =>
    html`${texts.own.help.parts.map(
      ({ title, says }) => html`<h2>${title}</h2><ul>${says.map((one) => html`<li>${one}</li>`)}</ul>`,
    )}`,
  take: async (_tx, { texts }) => fault(texts.own.help.title),
};
