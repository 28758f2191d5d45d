import { html } from 'hono/html';
import type { ListName } from '../../flow/counter/lists.js';
import type { Markup } from '../markup.js';
import type { Viewer } from '../viewer.js';

/** Leads to a list as a file for a spreadsheet, narrowed as it stands on the page. */
export function listLink(
  { texts: { customer } }: Viewer,
  name: ListName,
  filter: Readonly<Record<string, string | undefined>> = {},
  label: string = customer.csv,
): Markup {
  const given = Object.entries(filter).filter((one): one is [string, string] => Boolean(one[1]));
  const query = given.length === 0 ? '' : `?${new URLSearchParams(given)}`;
  return html`<p class="screen"><a href="/lists/${name}.csv${query}" download>${label}</a></p>`;
}
