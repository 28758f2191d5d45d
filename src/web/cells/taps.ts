import { html } from 'hono/html';
import { type Markup, when } from '../markup.js';

/** One of few, a tap each. */
export const taps = (
  name: string,
  label: string,
  chosen: string,
  all: readonly (readonly [value: string, label: string])[],
): Markup =>
  html`<fieldset><legend>${label}</legend><div class="taps">${all.map(
    ([value, says]) =>
      html`<label class="tap"><input type="radio" name="${name}" value="${value}"${when(value === chosen, () => html` checked`)}>${says}</label>`,
  )}</div></fieldset>`;
