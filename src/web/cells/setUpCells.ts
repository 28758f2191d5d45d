import { html } from 'hono/html';
import type { SetUpFact } from '../../core/ledger/facts.js';
import { SET_UP_FIELDS, type SetUpField } from '../../core/plan/setUp.js';
import { type Markup, table } from '../markup.js';
import type { Voice } from '../viewer.js';

/** Returns a set as it was typed. */
export const setUpRows = ({ texts: { setUp } }: Voice, { values }: SetUpFact): Markup =>
  html`<dl class="facts">${Object.entries(values).map(
    ([name, value]) => html`<dt>${setUp.fields[name as SetUpField] ?? name}</dt><dd>${value}</dd>`,
  )}</dl>`;

type Values = SetUpFact['values'];

/** Returns how a unit was set as it came beside how it left, in the order in which it is read. */
export function setUpsBeside({ texts: { setUp } }: Voice, came: Values | null, left: Values | null): Markup {
  const names = SET_UP_FIELDS.filter((name) => came?.[name] ?? left?.[name]);
  const sides = [
    { label: setUp.came, values: came },
    { label: setUp.left, values: left },
  ].filter(({ values }) => values !== null);
  return table(
    [{ label: setUp.what }, ...sides.map(({ label }) => ({ label }))],
    names.map((name) => ({
      head: html`${setUp.fields[name]}`,
      cells: sides.map(({ values }) => html`${values?.[name] ?? ''}`),
    })),
  );
}
