import type { Context, Hono } from 'hono';
import { html } from 'hono/html';
import { exportRider } from '../../../flow/carry/exportRider.js';
import { listHistory } from '../../../flow/counter/lists.js';
import { findOwnPhoto } from '../../../flow/found/ownPhoto.js';
import { riderTextsFor } from '../../../languages/index.js';
import { isoTime } from '../../../units.js';
import { pictureOf } from '../../door/picture.js';
import { barePage } from '../../layout.js';
import { asFile } from '../../lists/csvFile.js';
import { OWN_WORKER } from '../../scripts.js';
import { voiceOf, type WebEnv } from '../../viewer.js';
import type { Door, Doors } from '../answer.js';
import { askPage } from '../askPage.js';
import { homePage } from '../atHome/homePage.js';
import { sendHome } from '../atHome/sendHome.js';
import { fieldsOf } from '../forms.js';
import { OWN_PARTS, type OwnPart, type RiderPage } from '../riderPage.js';
import { donePage, gonePage, laterPage } from '../unitPages.js';
import { bikePage } from './bikePage.js';
import { bikesPage } from './bikesPage.js';
import { dataPage } from './dataPage.js';
import { bothHomes, forgetOnDevice, ownFormsOfDevice } from './device.js';
import { filePage } from './filePage.js';
import { forgetPage } from './forgetPage.js';
import { foundPage } from './foundPage.js';
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
    links.on('GET', bothHomes(path), (c) => doors.answer(c, doorOf(c), null));
    links.on('POST', bothHomes(path), (c) => doors.answer(c, doorOf(c), () => fieldsOf(c)));
  };
  links.use('/own/*', ownFormsOfDevice(doors.deps.publicUrl));
  sendFiles(links, doors);
  const homeDoor = (c: Context<WebEnv>): Door => ({ purpose: 'page', page: homePage, job: jobOf(c) });
  sendHome(links, doors, homeDoor);
  links.on('GET', bothHomes('/units/:tag/:kind/home'), (c) => doors.answer(c, homeDoor(c), null));
  links.get('/own/worker.js', (c) =>
    c.body(OWN_WORKER, 200, {
      'content-type': 'text/javascript; charset=utf-8',
      'cache-control': 'no-cache',
    }),
  );
  for (const [part, below] of Object.entries(OWN_PARTS) as [OwnPart, string][])
    add(below, () => ({ purpose: 'page', page: PARTS[part], part }));
  add('/units/:tag', (c) => ({ purpose: 'page', page: unitPage, job: jobOf(c) }));
  add('/units/:tag/found/:service', (c) => ({
    purpose: 'page',
    page: foundPage,
    job: jobOf(c),
    thing: c.req.param('service') ?? '',
  }));
  for (const size of ['', '/small'] as const)
    links.on('GET', bothHomes(`/units/:tag/photos/:photo${size}`), (c) => ownPhoto(c, doors, size === ''));
  add('/bikes/new', () => ({ purpose: 'page', page: newBikePage }));
  add('/bikes/:bike', (c) => ({
    purpose: 'page',
    page: bikePage,
    thing: c.req.param('bike') ?? '',
  }));
  add('/said', () => ({ purpose: 'page', page: saidPage }));
  add('/help', () => ({ purpose: 'page', page: helpPage }));
  for (const page of JOB_PAGES)
    add(`/units/:tag/:kind/${page.purpose}`, (c) => ({ purpose: 'page', page, job: jobOf(c) }));
  links.on('GET', bothHomes('/data'), (c) => doors.answer(c, { purpose: 'page', page: dataPage }, null));
  links.on('POST', bothHomes('/data'), (c) => download(c, doors));
  links.on('POST', bothHomes('/history'), (c) => downloadHistory(c, doors));
  links.on('POST', bothHomes('/device'), (c) => leaveDevice(c, doors));
  forgetPage(links, doors);
}

/** Shows a photograph of a unit that is on a bike of the rider’s; one that shows a person or a name stays at the workshop. */
async function ownPhoto(c: Context<WebEnv>, doors: Doors, isWhole: boolean): Promise<Response> {
  const door: Door = { purpose: 'page', page: foundPage, job: jobOf(c) };
  const found = await doors.knock(c, door, false);
  if ('closed' in found) return doors.shut(c, found);
  if (found.isExpired) return doors.show(c, door, null);
  const now = doors.deps.clock.now();
  const photo = await doors.deps.store.read((tx) =>
    findOwnPhoto(tx, found.contact.riderId, found.link.unitId, c.req.param('photo') ?? '', now),
  );
  const { photos } = doors.deps;
  if (!photo || !photos) return doors.shut(c, { closed: 'gone' });
  return pictureOf(c, photos, isWhole ? photo.sha256 : photo.small);
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

/** Has this device keep the page no longer. */
async function leaveDevice(c: Context<WebEnv>, doors: Doors): Promise<Response> {
  const found = await doors.knock(c, { purpose: 'page', page: mailsPage }, true);
  if ('closed' in found) return doors.shut(c, found);
  forgetOnDevice(c);
  const { language } = found.contact;
  const { title, done } = riderTextsFor(language).own.device;
  return c.html(barePage(voiceOf(language), title, html`<h1>${title}</h1><p>${done}</p>`));
}
