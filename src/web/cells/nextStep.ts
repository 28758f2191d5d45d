import { html } from 'hono/html';
import type { Markup } from '../markup.js';

/** What an empty page says, and the one way on from there. */
export const nextStep = (says: string, href: string, label: string, look = 'button primary'): Markup =>
  html`<div class="next-step"><p>${says}</p><p class="screen"><a class="${look}" href="${href}">${label}</a></p></div>`;
