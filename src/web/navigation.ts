import { html } from 'hono/html';
import type { Markup } from './markup.js';
import type { Viewer } from './viewer.js';

export type PageName = keyof Viewer['texts']['nav'];

type Way = readonly (readonly [PageName, string])[];

/** The workshop's pages: each list is a way through the pages that belong together, and leads to the first of them. */
const WAYS: readonly Way[] = [
  [
    ['today', '/'],
    ['calls', '/reminders'],
    ['mails', '/mails'],
  ],
  [['tray', '/tray']],
  [
    ['due', '/due'],
    ['load', '/load'],
    ['findings', '/findings'],
    ['year', '/findings/year'],
    ['intervals', '/intervals'],
  ],
  [['bookings', '/leads']],
  [
    ['bench', '/bench'],
    ['day', '/day'],
    ['comebacks', '/comebacks'],
    ['kits', '/kits'],
  ],
  [
    ['riders', '/riders'],
    ['ways', '/ways'],
    ['units', '/units'],
  ],
  [
    ['races', '/races'],
    ['fleets', '/fleets'],
  ],
  [['settings', '/settings']],
];

/** Returns the ways of the viewer: a mechanic's lead through the own fleet. */
function waysOf({ account, fleet }: Viewer): readonly Way[] {
  if (account.role !== 'mechanic') return WAYS;
  if (fleet === null) return [];
  const path = `/fleets/${encodeURIComponent(fleet.handle)}`;
  return [[['fleet', path]], [['swap', `${path}/swap`]], [['races', '/races']]];
}

/** What the pages that a mechanic shares with the workshop belong to. */
const OF_TEAM: Partial<Record<PageName, PageName>> = { units: 'fleet', riders: 'fleet', fleets: 'fleet' };

/** Returns the first way, which is on every page, and under it what else belongs with this one. */
export function navigation(viewer: Viewer, current: PageName | undefined): Markup {
  const { texts, account, waiting } = viewer;
  const isMechanic = account.role === 'mechanic';
  const here = isMechanic && current !== undefined ? (OF_TEAM[current] ?? current) : current;
  const ways = waysOf(viewer);
  const own = ways.find((way) => way.some(([name]) => name === here));
  const count = (name: PageName): string =>
    name === 'tray' && waiting > 0 ? ` (${viewer.words.number(waiting)})` : '';
  const isHere = (name: PageName, way: Way): boolean => name === here || way === own;
  const first = html`<nav aria-label="${texts.pages}"><ul>${ways.map((way) => {
    const [name, path] = way[0]!;
    return html`<li><a href="${path}"${isHere(name, way) ? html` aria-current="${name === here ? 'page' : 'true'}"` : ''}>${texts.nav[name]}${count(name)}</a></li>`;
  })}</ul></nav>`;
  if (own === undefined || own.length === 1) return first;
  const [[top], ...rest] = own as [Way[number], ...Way];
  const within = html`<nav class="within" aria-label="${texts.nav[top]}"><ul>${rest.map(
    ([name, path]) =>
      html`<li><a href="${path}"${name === here ? html` aria-current="page"` : ''}>${texts.nav[name]}</a></li>`,
  )}</ul></nav>`;
  return html`${first}${within}`;
}
