import { type Context, Hono, type MiddlewareHandler } from 'hono';
import { compress } from 'hono/compress';
import { HTTPException } from 'hono/http-exception';
import { dayOf } from '../core/days/calendar.js';
import { findVisit, type SessionVisit } from '../flow/sessions.js';
import { findWorkshop } from '../flow/settings.js';
import { acceptedLanguage } from '../languages/index.js';
import { accountPage } from './accounts/account.js';
import { accountsPage } from './accounts/accounts.js';
import { benchPage } from './bench/bench.js';
import { benchYearPage } from './benchYear/benchYear.js';
import { bikePage } from './bike/bike.js';
import { bookPage } from './book/book.js';
import { correctPage } from './book/correct.js';
import { cardPage } from './card/card.js';
import { comebacksPage } from './comebacks/comebacks.js';
import { customerPage } from './customer/customer.js';
import { labelsPage } from './customer/labels.js';
import { dayPage } from './day/day.js';
import type { WebDeps } from './deps.js';
import { visits } from './door/visit.js';
import { duePage } from './due/due.js';
import { findPage } from './find/find.js';
import { findingsPage } from './findings/findings.js';
import { fleetPages } from './fleet/fleet.js';
import { fleetFormPages } from './fleet/fleetForms.js';
import { carriesFiles, fieldsOf, neverCached, ownFormsOnly, strictHeaders, takeSmallForm } from './guard.js';
import { healthPages } from './health.js';
import { hirePage } from './hire/hire.js';
import { inspectPages } from './inspect/inspect.js';
import { intervalPage } from './intervals/interval.js';
import { intervalsPage } from './intervals/intervals.js';
import { kitsPage } from './kits/kits.js';
import { bookingPage } from './leads/booking.js';
import { leadsPage } from './leads/leads.js';
import { listsPages } from './lists/lists.js';
import { loadPage } from './load/load.js';
import { quietPage } from './load/quiet.js';
import { mailPage } from './mails/mail.js';
import { mailsPage } from './mails/mails.js';
import { metricsPage } from './metrics.js';
import { photoPages } from './photos/photos.js';
import { raceFormPages } from './races/raceForm.js';
import { racesPages } from './races/races.js';
import { remindersPage } from './reminders/reminders.js';
import { ridePage } from './ride/ride.js';
import { riderPages } from './rider/pages.js';
import { riderPage } from './riders/rider.js';
import { ridersPage } from './riders/riders.js';
import { type Pages, pagesOf } from './routes.js';
import { SCRIPTS, SCRIPTS_PRINT } from './scripts.js';
import { benchSettingsPage } from './settings/bench.js';
import { calendarPage } from './settings/calendar.js';
import { closedDaysPage } from './settings/closedDays.js';
import { firstPage } from './settings/first.js';
import { homeJobsPage } from './settings/home.js';
import { jobsPage } from './settings/jobs.js';
import { kindsPage } from './settings/kinds.js';
import { mailSettingsPage } from './settings/mailSettings.js';
import { partsPage } from './settings/parts.js';
import { peoplePage } from './settings/people.js';
import { settingsPage } from './settings/settings.js';
import { shelfPage } from './settings/shelf.js';
import { workshopPage } from './settings/workshop.js';
import { sheetsPages } from './sheets/sheets.js';
import { keep, keptPage } from './signIn/kept.js';
import { formTokenOf, hashOf, isFormToken, sessionTokenOf, writeUse } from './signIn/session.js';
import { signInFor, signInPages, signOutForms } from './signIn/signIn.js';
import { sorryFor } from './sorry.js';
import { ICON, STYLE, STYLE_PATH } from './styles/style.js';
import { swapPage } from './swap/swap.js';
import { todayPage } from './today/today.js';
import { trayPage } from './tray/tray.js';
import { setUpPages } from './unit/setUp.js';
import { unitPage } from './unit/unit.js';
import { newUnitPage } from './units/newUnit.js';
import { unitsPage } from './units/units.js';
import type { Viewer, WebEnv } from './viewer.js';
import { voiceOf } from './viewer.js';
import { waysPage } from './ways/ways.js';
import { weightsPage } from './weights/weights.js';

/** Returns the workshop's pages. Whatever is routed below the door is for those signed in. */
export function createApp(deps: WebDeps): Hono<WebEnv> {
  const app = new Hono<WebEnv>();
  app.onError((error, c) => sorryFor(error, c, deps.log));
  app.notFound((c) => sorryFor(new HTTPException(404), c, deps.log));

  app.use(visits(deps), strictHeaders, neverCached);
  const pages = pagesOf(app, deps);
  metricsPage(app, pages, deps);
  healthPages(pages, deps);
  // What never changes goes packed: a phone on a slow network waits for it once.
  app.use('/style/*', compress());
  app.use('/script/*', compress());
  stillFiles(pages);
  riderPages(app, pages, deps);
  app.use(voice(deps), ...ownFormsOnly(deps.publicUrl));
  signInPages(pages, deps);

  app.use(door(deps), sessionForms);
  signOutForms(pages, deps);
  accountPage(pages, deps);
  firstPage(pages, deps);
  app.use(workshopFirst);
  for (const add of PAGES) add(pages, deps);
  return app;
}

const PAGES: readonly ((pages: Pages, deps: WebDeps) => void)[] = [
  todayPage,
  findPage,
  duePage,
  trayPage,
  leadsPage,
  bookingPage,
  newUnitPage,
  unitsPage,
  unitPage,
  photoPages,
  setUpPages,
  cardPage,
  inspectPages,
  bookPage,
  correctPage,
  ridePage,
  customerPage,
  listsPages,
  labelsPage,
  ridersPage,
  waysPage,
  riderPage,
  bikePage,
  mailsPage,
  remindersPage,
  mailPage,
  benchPage,
  loadPage,
  quietPage,
  raceFormPages,
  racesPages,
  dayPage,
  findingsPage,
  benchYearPage,
  comebacksPage,
  kitsPage,
  fleetFormPages,
  fleetPages,
  hirePage,
  swapPage,
  sheetsPages,
  kindsPage,
  intervalsPage,
  intervalPage,
  settingsPage,
  workshopPage,
  mailSettingsPage,
  closedDaysPage,
  peoplePage,
  benchSettingsPage,
  jobsPage,
  partsPage,
  homeJobsPage,
  shelfPage,
  calendarPage,
  weightsPage,
  accountsPage,
];

const KEPT_FOR_GOOD = {
  'cache-control': 'public, max-age=31536000, immutable',
  vary: 'accept-encoding',
} as const;

function stillFiles(pages: Pages): void {
  pages.get('/style/:file', (c) => {
    if (c.req.path !== STYLE_PATH) throw new HTTPException(404);
    return c.body(STYLE, 200, {
      'content-type': 'text/css; charset=utf-8',
      ...KEPT_FOR_GOOD,
    });
  });
  pages.get('/script/:print/:file', (c) => {
    const script = SCRIPTS.get(c.req.param('file') ?? '');
    if (script === undefined || c.req.param('print') !== SCRIPTS_PRINT) throw new HTTPException(404);
    return c.body(script, 200, {
      'content-type': 'text/javascript; charset=utf-8',
      ...KEPT_FOR_GOOD,
    });
  });
  pages.get('/icon.svg', (c) =>
    c.body(ICON, 200, { 'content-type': 'image/svg+xml', 'cache-control': 'public, max-age=86400' }),
  );
}

/** The workshop's language; before there is a workshop, the browser's. */
const voice =
  ({ store }: WebDeps): MiddlewareHandler<WebEnv> =>
  async (c, next) => {
    const workshop = await store.read(findWorkshop);
    c.set(
      'voice',
      voiceOf(workshop?.body.language ?? acceptedLanguage(c.req.header('accept-language')) ?? 'en'),
    );
    await next();
  };

/** Lets in who is signed in; a stranger is asked to, and a stranger's form changes nothing but waits for it. */
const door =
  (deps: WebDeps): MiddlewareHandler<WebEnv> =>
  async (c, next) => {
    const token = sessionTokenOf(c);
    const found = token === undefined ? null : await findViewer(c, deps, token);
    if (token === undefined || found === null) {
      if (c.req.method === 'POST' && !carriesFiles(c)) {
        await takeSmallForm(c);
        return c.html(signInFor(c.get('voice'), await keep(c)), 403);
      }
      const { pathname, search } = new URL(c.req.url);
      return c.redirect(`/sign-in?${new URLSearchParams({ next: pathname + search })}`, 303);
    }
    c.set('sessionToken', token);
    c.set('viewer', found.viewer);
    await writeUse(deps, found.session, found.viewer.now);
    return next();
  };

interface FoundVisit extends Pick<SessionVisit, 'session'> {
  readonly viewer: Viewer;
}

async function findViewer(c: Context<WebEnv>, deps: WebDeps, token: string): Promise<FoundVisit | null> {
  const now = deps.clock.now();
  const visit = await deps.store.read((tx) => findVisit(tx, hashOf(token), now, deps.restDays));
  if (!visit) return null;
  const { account, session, fleet, workshop, waiting } = visit;
  const zone = workshop?.timeZone ?? 'UTC';
  const formToken = formTokenOf(deps.secret, token);
  const whose = { account, fleet, formToken };
  const viewer = { ...c.get('voice'), ...whose, workshop, zone, now, today: dayOf(now, zone), waiting };
  return { viewer, session };
}

/** Refuses a form that does not stand on a page of the same session. */
const sessionForms: MiddlewareHandler<WebEnv> = async (c, next) => {
  if (c.req.method !== 'POST' || carriesFiles(c)) return next();
  await takeSmallForm(c);
  const { token } = await fieldsOf(c);
  const { formToken } = c.get('viewer');
  if (token !== undefined && isFormToken(formToken, token)) return next();
  // A page of an earlier session of theirs: what was typed there is theirs to send, by a press of their own.
  const kept = token === undefined ? null : await keep(c);
  if (kept === null) throw new HTTPException(403);
  return c.html(keptPage(c.get('voice'), kept, formToken), 403);
};

const workshopFirst: MiddlewareHandler<WebEnv> = async (c, next) => {
  if (c.get('viewer').workshop === null) return c.redirect('/workshop', 303);
  return next();
};
