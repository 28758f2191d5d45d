import type { Context, Hono } from 'hono';
import { exportRider } from '../../../flow/carry/exportRider.js';
import { listHistory } from '../../../flow/counter/lists.js';
import { isoTime } from '../../../units.js';
import { asFile } from '../../lists/csvFile.js';
import type { WebEnv } from '../../viewer.js';
import type { Door, Doors } from '../answer.js';
import { fieldsOf } from '../forms.js';
import { OWN_PARTS, type OwnPart, type RiderPage } from '../riderPage.js';
import { askPage, donePage, gonePage, laterPage } from '../unitPages.js';
import { bikePage } from './bikePage.js';
import { bikesPage } from './bikesPage.js';
import { filePage } from './filePage.js';
import { forgetPage } from './forgetPage.js';
import { helpPage } from './helpPage.js';
import { historyInWords } from './history.js';
import { mailsPage } from './mailsPage.js';
import { newBikePage } from './newBikePage.js';
import { ridesPage } from './ridesPage.js';
import { saidPage } from './saidPage.js';
import { sendFiles } from './sendFiles.js';
import { unitPage } from './unitPage.js';

const PARTS: Readonly<Record<OwnPart, RiderPage>> = {
  bikes: bikesPage,
  rides: ridesPage,
  files: filePage,
  mails: mailsPage,
};
const JOB_PAGES = [askPage, donePage, laterPage, gonePage];

/** Adds the rider's own page and what lies below it. */
export function ownPages(links: Hono<WebEnv>, doors: Doors): void {
  const add = (path: string, doorOf: (c: Context<WebEnv>) => Door): void => {
    links.get(path, (c) => doors.answer(c, doorOf(c), null));
    links.post(path, (c) => doors.answer(c, doorOf(c), () => fieldsOf(c)));
  };
  sendFiles(links, doors);
  for (const [part, below] of Object.entries(OWN_PARTS) as [OwnPart, string][])
    add(`/page/:token${below}`, () => ({ purpose: 'page', page: PARTS[part], part }));
  add('/page/:token/units/:tag', (c) => ({ purpose: 'page', page: unitPage, job: jobOf(c) }));
  add('/page/:token/bikes/new', () => ({ purpose: 'page', page: newBikePage }));
  add('/page/:token/bikes/:bike', (c) => ({
    purpose: 'page',
    page: bikePage,
    thing: c.req.param('bike') ?? '',
  }));
  add('/page/:token/said', () => ({ purpose: 'page', page: saidPage }));
  add('/page/:token/help', () => ({ purpose: 'page', page: helpPage }));
  for (const page of JOB_PAGES)
    add(`/page/:token/units/:tag/:kind/${page.purpose}`, (c) => ({ purpose: 'page', page, job: jobOf(c) }));
  links.post('/page/:token/data', (c) => download(c, doors));
  links.post('/page/:token/history', (c) => downloadHistory(c, doors));
  forgetPage(links, doors);
}

const jobOf = (c: Context<WebEnv>) => ({
  tag: c.req.param('tag') ?? '',
  serviceKind: c.req.param('kind') ?? '',
});

/** Gives what a rider rode and what was done to the units, as a list for a spreadsheet, in the rider's words. */
async function downloadHistory(c: Context<WebEnv>, doors: Doors): Promise<Response> {
  const door: Door = { purpose: 'page', page: mailsPage };
  const found = await doors.knock(c, door, true);
  if ('closed' in found) return doors.shut(c, found);
  if (found.isExpired) return doors.show(c, door, null);
  const { riderId, language } = found.contact;
  const rows = await doors.deps.store.read((tx) => listHistory(tx, riderId));
  const on = isoTime(doors.deps.clock.now()).slice(0, 10);
  return asFile(c, `history-${on}.csv`, historyInWords(rows, language));
}

/** Gives all that is held of a rider as a file. It is sent by a form, so that nobody who follows links takes it along. */
async function download(c: Context<WebEnv>, doors: Doors): Promise<Response> {
  const door: Door = { purpose: 'page', page: mailsPage };
  const found = await doors.knock(c, door, true);
  if ('closed' in found) return doors.shut(c, found);
  if (found.isExpired) return doors.show(c, door, null);
  const held = await doors.deps.store.read((tx) => exportRider(tx, found.contact.riderId));
  const on = isoTime(doors.deps.clock.now()).slice(0, 10);
  return c.body(`${JSON.stringify(held, null, 1)}\n`, 200, {
    'content-type': 'application/json; charset=utf-8',
    'content-disposition': `attachment; filename="my-data-${on}.json"`,
  });
}
