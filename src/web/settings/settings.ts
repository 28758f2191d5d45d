import { html } from 'hono/html';
import type { WorkshopFact } from '../../core/ledger/facts.js';
import type { Weights } from '../../core/ledger/ledger.js';
import { MINUTES_A_DAY } from '../../core/plan/slots.js';
import { getSettingsPage } from '../../flow/settings.js';
import type { WebDeps } from '../deps.js';
import { page } from '../layout.js';
import { type Markup, when } from '../markup.js';
import { type Pages, ROUTES, type RouteKey } from '../routes.js';
import { twoDecimals } from '../show.js';
import type { Viewer } from '../viewer.js';
import { stretchesAhead, stretchText } from './days.js';

/** The way to one page of the settings, with what stands there now. */
interface Way {
  readonly path: string;
  readonly title: string;
  readonly now: string | null;
}

/** All that a workshop may set, each on a small page of its own. */
export function settingsPage(pages: Pages, { store }: WebDeps): void {
  pages.get('/settings', async (c) => {
    const viewer = c.get('viewer');
    const { fact, weights } = await store.read(getSettingsPage);
    return c.html(markup(viewer, waysOf(viewer, fact.body, weights)));
  });
}

/** In the order in which a bench needs them. */
function waysOf(
  viewer: Viewer,
  workshop: WorkshopFact,
  weights: Weights,
): Readonly<Record<WayGroup, readonly Way[]>> {
  const { texts, words, today } = viewer;
  const { settings: says } = texts;
  const { closedDays = [], people = [], benchMinutesADay = MINUTES_A_DAY, placesAWeek = null } = workshop;
  const [closed] = stretchesAhead(closedDays, today);
  const away = people.filter(({ off }) => off.includes(today)).map(({ name }) => name);
  return {
    bench: [
      {
        path: '/settings/closed',
        title: says.closed.title,
        now: closed ? says.closed.next(stretchText(viewer, closed)) : says.closed.none,
      },
      {
        path: '/settings/people',
        title: says.people.title,
        now:
          away.length > 0
            ? says.people.awayToday(words.list(away))
            : people.length > 0
              ? words.list(people.map(({ name }) => name))
              : null,
      },
      {
        path: '/settings/bench',
        title: says.bench.title,
        now: says.bench.now(people.length > 0 ? null : words.number(benchMinutesADay), placesAWeek),
      },
      { path: '/settings/jobs', title: says.jobs.title, now: says.jobs.now },
      { path: '/settings/shelf', title: says.shelf.title, now: says.shelf.now },
      {
        path: '/settings/home',
        title: texts.kits.settings.title,
        now: texts.kits.settings.now((workshop.homeJobs ?? []).length),
      },
      { path: '/settings/calendar', title: says.calendar.title, now: says.calendar.now },
    ],
    racing: [
      { path: '/races', title: texts.plan.races.title, now: says.racing.races },
      { path: '/fleets', title: texts.team.fleets.title, now: says.racing.fleets },
    ],
    house: [
      { path: '/settings/workshop', title: says.workshopTitle, now: workshop.name },
      {
        path: '/settings/mails',
        title: says.mails.title,
        now: says.mails.now(workshop.noticeDays, workshop.digestHour),
      },
      { path: '/settings/accounts', title: texts.team.accounts.title, now: texts.team.accounts.link },
    ],
    hours: [
      { path: '/intervals', title: texts.intervals.title, now: null },
      { path: '/settings/kinds', title: says.kinds.title, now: says.kinds.now },
      { path: '/sheets', title: texts.sheets.title, now: null },
      { path: '/settings/weights', title: says.weightsTitle, now: weightsText(viewer, weights) },
    ],
  };
}

const GROUPS = ['bench', 'racing', 'house', 'hours'] as const;
type WayGroup = (typeof GROUPS)[number];

function markup(viewer: Viewer, ways: Readonly<Record<WayGroup, readonly Way[]>>): Markup {
  const { settings } = viewer.texts;
  return page(viewer, {
    title: settings.title,
    current: 'settings',
    body: html`
<h1>${settings.title}</h1>
<p class="lead">${settings.lead}</p>
${GROUPS.map((group) => {
  const open = ways[group].filter(({ path }) => mayOpen(viewer, path));
  return when(
    open.length > 0,
    () =>
      html`<h2>${settings.groups[group]}</h2><ul class="ways">${open.map(
        ({ path, title, now }) =>
          html`<li><a href="${path}">${title}</a>${now === null ? '' : html`<small>${now}</small>`}</li>`,
      )}</ul>`,
  );
})}`,
  });
}

/** What somebody may not use is not offered. */
function mayOpen({ account }: Viewer, path: string): boolean {
  const { who } = ROUTES[`GET ${path}` as RouteKey];
  return typeof who !== 'string' && (who as readonly string[]).includes(account.role);
}

/** Returns what an hour weighs now, in a sentence. */
export const weightsText = (viewer: Viewer, { smooth, typical, rough }: Weights): string =>
  viewer.texts.settings.weights.now(
    twoDecimals(smooth, viewer),
    twoDecimals(typical, viewer),
    twoDecimals(rough, viewer),
  );
