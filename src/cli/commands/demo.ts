import { randomBytes } from 'node:crypto';
import { mkdtempSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Command } from 'commander';
import { writeDemo } from '../../../samples/writeDemo.js';
import { addDays, atHour, dayOf, weekdayOf } from '../../core/days/calendar.js';
import { ServiceError } from '../../errors.js';
import { listDue } from '../../flow/due/listDue.js';
import { LinkMaker } from '../../flow/mail/links.js';
import { listTray } from '../../flow/rides/listTray.js';
import {
  openStanchion,
  readConfig,
  type Stanchion,
  serve,
  tryServing,
  untilAskedToStop,
} from '../../main.js';
import type { MailRow } from '../../ports/mails.js';
import { type Instant, isoTime } from '../../units.js';
import { contextOf, type Globals, timeOf } from '../context.js';
import { DEMO_ACCOUNTS, type DemoSetup, fillDemo } from '../fillDemo.js';
import { readDocument } from '../importSchema.js';
import { getByHandle } from '../opened.js';
import type { Output } from '../output.js';
import { showDue } from './due.js';

const MORNING_HOUR = 9;

interface DemoOptions {
  once?: boolean;
  team?: boolean;
}

export const demo = async (options: DemoOptions, command: Command) => {
  const { data } = command.optsWithGlobals<Globals>();
  const folder = data ?? mkdtempSync(join(tmpdir(), 'stanchion-demo-'));
  await runDemo(folder, options, command);
};

async function runDemo(
  folder: string,
  { once = false, team = false }: DemoOptions,
  command: Command,
): Promise<void> {
  const context = contextOf(command);
  const { out } = context;
  const config = readConfig({
    PORT: process.env.PORT,
    STANCHION_DATA: folder,
    STANCHION_MAIL_FOLDER: 'final',
    STANCHION_PUBLIC_URL: addressAhead(once),
  });
  // Filling takes a minute, and is in vain where nothing can be served.
  if (!once) await tryServing(config);
  const setup = readSetup(folder, timeOf(context));
  const { now } = setup;
  const password = randomBytes(9).toString('base64url');
  out.line(`Filling ${folder} with an invented workshop and its season …`);
  const stanchion = await openStanchion(config, { now, runsOn: true, make: true });
  try {
    await fillDemo({ ...stanchion, clock: { now: () => now } }, setup, password, {
      hasTeam: team,
    });
    const stopped = untilAskedToStop();
    const show = async (url: string): Promise<void> => {
      const [{ name: account }] = DEMO_ACCOUNTS;
      out.object({ did: 'demo', url, account, password, data: folder });
      const ways = waysIn(url, password, await ownPageOf(stanchion, 'r1', now));
      out.line(`\n${ways}`);
      await showAll();
      // What was printed between has moved it out of view.
      out.line(`\n${ways}\n\nServing. Stop with Ctrl+C.`);
    };
    const showAll = async (): Promise<void> => {
      out.line(`Data folder: ${folder}   The demo’s clock: ${isoTime(now)}\n`);
      await showLedger(stanchion, out, now);
    };
    if (once) await showAll();
    else {
      let shown: Promise<void> = Promise.resolve();
      await serve(
        stanchion,
        (url) => {
          shown = show(url);
        },
        stopped,
      );
      await shown;
    }
  } finally {
    await stanchion.close();
  }
}

function waysIn(url: string, password: string, own: string | null): string {
  const [{ name: account }, ...others] = DEMO_ACCOUNTS;
  return [
    `The workshop’s page: ${url}`,
    `Account: ${account}   Password: ${password}`,
    `Also with that password: ${others.map(({ name, role }) => `${name} (${role})`).join(', ')}`,
    ...(own === null ? [] : [`A rider’s own page: ${own}`]),
  ].join('\n');
}

/** Mails are written before the pages are served: a port that is left to chance gives them no links. */
function addressAhead(once: boolean): string | undefined {
  const port = process.env.PORT ?? '8321';
  return once || port === '0' ? undefined : `http://127.0.0.1:${port}`;
}

async function ownPageOf({ store, links }: Stanchion, handle: string, now: Instant): Promise<string | null> {
  if (!links) return null;
  return store.read(async (tx) => {
    const contact = await tx.contacts.find(await getByHandle(tx, 'rider', handle));
    return contact ? new LinkMaker(links, tx.workshopId, contact, now).own('page') : null;
  });
}

/** Writes the files; the demo's day is the workshop's latest open one, so that its mails go out. */
function readSetup(folder: string, at: Instant): DemoSetup {
  const zone = 'Europe/Lisbon';
  let today = dayOf(at, zone);
  while (['sun', 'mon'].includes(weekdayOf(today))) today = addDays(today, -1);
  const written = writeDemo(folder, today);
  const read = readDocument(JSON.parse(readFileSync(written.setupFile, 'utf8')));
  if ('wrong' in read) {
    throw new ServiceError(
      'refused',
      read.wrong.map(({ path, message }) => `${path.map(String).join('.')}: ${message}`).join('\n'),
    );
  }
  return { ...written, document: read.document, today, now: atHour(today, MORNING_HOUR, zone) };
}

async function showLedger({ store }: Stanchion, out: Output, now: Instant): Promise<void> {
  const { due, tray, mails } = await store.read(async (tx) => ({
    due: await listDue(tx, now),
    tray: await listTray(tx),
    mails: (await tx.mails.list()).filter((mail) => mail.state === 'handed-over'),
  }));
  showDue(out, due);
  out.line(`\n${tray.length} rides and files in the tray need an answer.`);
  const longest = (kind: MailRow['mail']): MailRow | undefined =>
    mails
      .filter((mail) => mail.mail === kind && mail.written?.headers['Content-Language'] === 'en')
      .sort((a, b) => (b.written?.text.length ?? 0) - (a.written?.text.length ?? 0))[0];
  for (const [title, mail] of [
    ['A mail to a rider', longest('reminder')],
    ['The workshop’s mail of the day', longest('digest')],
  ] as const) {
    if (!mail?.written) continue;
    const { to, subject, text } = mail.written;
    out.object({ did: 'mail', to: to.address, subject, text });
    out.line(`\n── ${title} ──\nTo: ${to.name} <${to.address}>\nSubject: ${subject}\n\n${text}`);
  }
}
