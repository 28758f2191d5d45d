import { html } from 'hono/html';
import { type Markup, when } from '../markup.js';

/** What a press does that cannot be undone by another, or that mails somebody. */
interface ActSaid {
  /** Tells it from others on the page. */
  readonly id: string;
  readonly label: string;
  /** What will happen, and to whom; null where there is nothing to say. */
  readonly tells: string | null;
  /** `grave`: it cannot be undone by another press; the others can and mail nobody, `primary` is what the page is for. */
  readonly look: 'mails' | 'grave' | 'primary' | 'usual';
  /** Said in place of the label where many are alike. */
  readonly spoken?: string;
}

/** Returns a button that looks different, after a line that says what it will do and to whom. */
export const actButton = ({ id, label, tells, look, spoken }: ActSaid): Markup =>
  html`${when(tells !== null, () => html`<p class="tells" id="tells-${id}">${tells}</p>`)}<button${look === 'usual' ? '' : html` class="${look}"`}${tells === null ? '' : html` aria-describedby="tells-${id}"`}${spoken === undefined ? '' : html` aria-label="${spoken}"`}>${label}</button>`;
