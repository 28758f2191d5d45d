import { html } from 'hono/html';
import { getLastSending } from '../../../flow/rides/lastSending.js';
import { fault, type RiderPage } from '../riderPage.js';
import { answersMarkup, type FileAnswer } from './filePage.js';
import { sendingText } from './setsMarkup.js';

/** So many riders' last answers are held. */
const MOST_HELD = 200;

/** What became of the last files that each rider sent without a script, so that a page of its own can show it. */
export class LastAnswers {
  readonly #held = new Map<string, readonly FileAnswer[]>();

  keep(riderId: string, answers: readonly FileAnswer[]): void {
    this.#held.delete(riderId);
    this.#held.set(riderId, answers);
    for (const oldest of this.#held.keys()) {
      if (this.#held.size <= MOST_HELD) break;
      this.#held.delete(oldest);
    }
  }

  of(riderId: string): readonly FileAnswer[] {
    return this.#held.get(riderId) ?? [];
  }
}

/** What became of the files that came last; where another process took them, their sum. */
export const sentPage = (last: LastAnswers): RiderPage => ({
  title: (texts) => texts.own.files.heading,
  show: async (tx, view) => {
    const { riderId } = view.opened.contact;
    const answers = last.of(riderId);
    const sum = sendingText(view, await getLastSending(tx, riderId, view.now));
    return html`<p>${sum}</p>${answersMarkup(view, answers)}`;
  },
  take: async (_tx, view) => fault(view.texts.own.files.need),
});
