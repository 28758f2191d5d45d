import { html } from 'hono/html';
import type { SetUpFact } from '../../core/ledger/facts.js';
import type { SetUpField } from '../../core/plan/setUp.js';
import type { Markup } from '../markup.js';
import type { Voice } from '../viewer.js';

/** Returns a set as it was typed. */
export const setUpRows = ({ texts: { setUp } }: Voice, { values }: SetUpFact): Markup =>
  html`<dl class="facts">${Object.entries(values).map(
    ([name, value]) => html`<dt>${setUp.fields[name as SetUpField] ?? name}</dt><dd>${value}</dd>`,
  )}</dl>`;
