import { html } from 'hono/html';
import { fault, type RiderPage } from '../riderPage.js';
import { countsPicture, groundPicture, waysPicture } from './helpPictures.js';

/** How files get out of a recorder, what counts, and what the numbers mean, in short. */
export const helpPage: RiderPage = {
  title: (texts) => texts.own.help.title,
  show: async (_tx, { texts, voice: { words } }) => {
    const { help } = texts.own;
    const pictures = [waysPicture, countsPicture, groundPicture];
    return html`${help.parts.map(
      ({ title, says }, i) =>
        html`<h2>${title}</h2>${pictures[i]?.(help.pictures, words)}<ul>${says.map((one) => html`<li>${one}</li>`)}</ul>`,
    )}`;
  },
  take: async (_tx, { texts }) => fault(texts.own.help.title),
};
