import { html } from 'hono/html';
import type { Markup } from '../markup.js';

/** What a press does that cannot be undone by another, or that mails somebody. */
interface ActSaid {
  /** Tells it from others on the page. */
  readonly id: string;
  readonly label: string;
  /** What will happen, and to whom. */
  readonly tells: string;
  /** `grave`: it cannot be undone by another press. */
  readonly look: 'mails' | 'grave';
  /** Said in place of the label where many are alike. */
  readonly spoken?: string;
}

/** Returns a button that looks different, after a line that says what it will do and to whom. */
export const actButton = ({ id, label, tells, look, spoken }: ActSaid): Markup =>
  html`<p class="tells" id="tells-${id}">${tells}</p><button class="${look}" aria-describedby="tells-${id}"${spoken === undefined ? '' : html` aria-label="${spoken}"`}>${label}</button>`;
