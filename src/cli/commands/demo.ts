import { randomBytes } from 'node:crypto';
import { mkdtempSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Command } from 'commander';
import { writeDemo } from '../../../samples/writeDemo.js';
import { addDays, atHour, dayOf, weekdayOf } from '../../core/calendar.js';
import { ServiceError } from '../../errors.js';
import { deliverOutbox } from '../../flow/deliverOutbox.js';
import { importLedger } from '../../flow/importLedger.js';
import { listDue } from '../../flow/listDue.js';
import { listTray } from '../../flow/listTray.js';
import { queueNotices } from '../../flow/queueNotices.js';
import { refreshAllDue } from '../../flow/refreshDue.js';
import { scanInboxOnce } from '../../flow/scanInbox.js';
import { benchUnit, markUnit } from '../../flow/unitMarks.js';
import {
  hashPassword,
  openStanchion,
  readConfig,
  type Stanchion,
  serve,
  untilAskedToStop,
} from '../../main.js';
import type { MailRow } from '../../ports.js';
import { type Instant, instant, isoTime, MINUTE_MS } from '../../units.js';
import { contextOf, type Globals, getByHandle, timeOf } from '../context.js';
import { readDocument } from '../importSchema.js';
import type { Output } from '../output.js';
import { showDue } from './due.js';

const ACCOUNT = 'owner';
const MORNING_HOUR = 9;
const SCAN_APART_MS = 6 * MINUTE_MS;

export function addDemo(program: Command): void {
  program
    .command('demo')
    .description('an invented workshop and its season in a data folder of its own')
    .option('--once', 'stop after printing')
    .action(async (options: { once?: boolean }, command: Command) => {
      const { data } = command.optsWithGlobals<Globals>();
      const folder = data ?? mkdtempSync(join(tmpdir(), 'stanchion-demo-'));
      await runDemo(folder, options.once ?? false, command);
    });
}

async function runDemo(folder: string, once: boolean, command: Command): Promise<void> {
  const context = contextOf(command);
  const { out } = context;
  const config = readConfig({ PORT: process.env.PORT, STANCHION_DATA: folder });
  const setup = readSetup(folder, timeOf(context));
  const { now } = setup;
  const password = randomBytes(9).toString('base64url');
  out.line(`Filling ${folder} with an invented workshop and its season …`);
  const stanchion = await openStanchion(config, { now, runsOn: true, make: true });
  try {
    await fill({ ...stanchion, clock: { now: () => now } }, setup, password);
    const stopped = untilAskedToStop();
    const show = async (url: string | null): Promise<void> => {
      if (url !== null) {
        out.object({ did: 'demo', url, account: ACCOUNT, password, data: folder });
        out.line(`\nThe workshop’s page: ${url}\nAccount: ${ACCOUNT}   Password: ${password}`);
      }
      out.line(`Data folder: ${folder}   The demo’s clock: ${isoTime(now)}\n`);
      await showLedger(stanchion, out, now);
    };
    if (once) await show(null);
    else {
      let shown: Promise<void> = Promise.resolve();
      await serve(
        stanchion,
        (url) => {
          shown = show(url).then(() => out.line('\nServing. Stop with Ctrl+C.'));
        },
        stopped,
      );
      await shown;
    }
  } finally {
    await stanchion.close();
  }
}

interface DemoSetup extends ReturnType<typeof writeDemo> {
  readonly document: Parameters<typeof importLedger>[1];
  readonly now: Instant;
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
      'read the demo',
      read.wrong.map(({ path, message }) => `${path.map(String).join('.')}: ${message}`).join('\n'),
    );
  }
  return { ...written, document: read.document, now: atHour(today, MORNING_HOUR, zone) };
}

async function fill(stanchion: Stanchion, setup: DemoSetup, password: string): Promise<void> {
  const { store } = stanchion;
  const entry = { by: 'demo', at: setup.now };
  await store.write((tx) => importLedger(tx, setup.document, entry));
  const passwordHash = await hashPassword(password);
  await store.write((tx) => tx.accounts.add({ name: ACCOUNT, passwordHash, role: 'owner' }));
  // A damaged file is taken once it has stood still, so the folder is looked at twice.
  for (const minutesAgo of [SCAN_APART_MS, 0]) {
    const clock = { now: () => instant(setup.now - minutesAgo) };
    while (await scanInboxOnce({ ...stanchion, clock }));
  }
  for (const action of setup.actions) {
    await store.write(async (tx) => {
      const unitId = await getByHandle(tx, 'unit', action.unit);
      return action.does === 'mark'
        ? markUnit(tx, unitId, action.mark === 'stop', action.why, entry)
        : benchUnit(tx, unitId, action.at === 'in', entry);
    });
  }
  await refreshAllDue(stanchion);
  await queueNotices(stanchion);
  await deliverOutbox(stanchion);
}

async function showLedger({ store }: Stanchion, out: Output, now: Instant): Promise<void> {
  const { due, tray, mails } = await store.read(async (tx) => ({
    due: await listDue(tx, now),
    tray: await listTray(tx),
    mails: (await tx.mails.list()).filter((mail) => mail.state === 'handed-over'),
  }));
  showDue(out, due);
  out.line(`\n${tray.length} rides and files wait in the tray for a person’s word.`);
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
