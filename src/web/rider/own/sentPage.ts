import { html } from 'hono/html';
import { getLastSending } from '../../../flow/rides/lastSending.js';
import type { LastTold } from '../../door/lastTold.js';
import { fault, type RiderPage } from '../riderPage.js';
import { answersMarkup, type FileAnswer } from './filePage.js';
import { sendingText } from './setsMarkup.js';

/** What became of the files that came last; where another process took them, their sum. */
export const sentPage = (last: LastTold<readonly FileAnswer[]>): RiderPage => ({
  title: (texts) => texts.own.files.heading,
  show: async (tx, view) => {
    const { riderId } = view.opened.contact;
    const answers = last.of(riderId, view.now) ?? [];
    const sum = sendingText(view, await getLastSending(tx, riderId, view.now));
    return html`<p>${sum}</p>${answersMarkup(view, answers)}`;
  },
  take: async (_tx, view) => fault(view.texts.own.files.need),
});
