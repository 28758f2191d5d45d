/** What the person who runs it should know before something fails: settings, rights, space, clock, relay, backups. */
import { randomBytes } from 'node:crypto';
import { constants, existsSync, readdirSync, statfsSync, statSync } from 'node:fs';
import { connect } from 'node:net';
import { join } from 'node:path';
import { type Config, SETTINGS } from '../config.js';
import { HERE_HEADER, hereText } from '../core/links.js';
import { ServiceError } from '../errors.js';
import { doubtText } from '../flow/clockDoubt.js';
import { isShort } from '../flow/readiness.js';
import { findWorkshop } from '../flow/settings.js';
import { getStoreHealth } from '../flow/storeHealth.js';
import { DAY_MS, type Instant, SECOND_MS } from '../units.js';
import { VERSION } from '../version.js';
import { keyCheck, mayUse, pathChecks, secretCheck } from './filesLooked.js';
import { fine, type LookedAt, wrong } from './lookedAt.js';
import { linkSeal, openMailbox, openStanchion } from './opening.js';

const RELAY_WAIT_MS = 5 * SECOND_MS;
const ADDRESS_WAIT_MS = 10 * SECOND_MS;
const MAILBOX_WAIT_MS = 15 * SECOND_MS;
const BACKUP_LATE_MS = 2 * DAY_MS;
/** Names of settings that are no settings of the program: they belong to its tests. */
const OF_TESTS =
  /^STANCHION_(RECORDINGS|RUNS|KILLS|MAILS|SOAK_S|SEASON_DAYS|PICTURES|BENCH_UNITS|MACHINE_KILLS)$/;

/** Returns what was looked at, in order; nothing is changed but what opening the store always does. */
export async function examine(
  config: Config,
  env: Readonly<Record<string, string | undefined>>,
  now: Instant | null,
): Promise<LookedAt[]> {
  const folder = folderCheck(config);
  return [
    settingsCheck(env),
    fine('versions', `Stanchion ${VERSION} on Node ${process.versions.node}.`),
    folder,
    // Before anything is opened, which makes what is missing.
    ...(folder.ok
      ? [
          secretCheck(config),
          ...pathChecks(config),
          spaceCheck(config),
          ...(await storeChecks(config, now)),
          backupCheck(config, now),
        ]
      : []),
    await relayCheck(config),
    ...(config.dkim === null ? [] : [keyCheck(config.dkim)]),
    ...(config.publicUrl === null ? [] : [await addressCheck(config, config.publicUrl)]),
    ...(config.mailbox === null ? [] : [await mailboxCheck(config)]),
  ];
}

/** Opens it as rides are taken from it, and leaves it as it is. */
async function mailboxCheck(config: Config): Promise<LookedAt> {
  try {
    const box = await openMailbox(config);
    await box?.visit(AbortSignal.timeout(MAILBOX_WAIT_MS), async () => undefined);
    return fine('mailbox', 'The mailbox for rides answers, and takes the name and password.');
  } catch (error) {
    if (!(error instanceof ServiceError)) throw error;
    return wrong('mailbox', error.message, error.hint ?? 'See the log.');
  }
}

function settingsCheck(env: Readonly<Record<string, string | undefined>>): LookedAt {
  const unknown = Object.keys(env)
    .filter((name) => name.startsWith('STANCHION_') && !OF_TESTS.test(name))
    .filter((name) => !SETTINGS.includes(name.replace(/_FILE$/, '')) && !SETTINGS.includes(name))
    .sort();
  return unknown.length === 0
    ? fine('settings', 'Every setting is one that the program knows.')
    : wrong('settings', `Not a setting: ${unknown.join(', ')}.`, 'docs/SETTINGS.md lists them all.');
}

function folderCheck({ dataFolder }: Config): LookedAt {
  if (!existsSync(dataFolder))
    return wrong('data folder', `${dataFolder} is not there.`, 'stanchion setup makes it.');
  if (!mayUse(dataFolder, constants.R_OK | constants.W_OK | constants.X_OK))
    return wrong('data folder', `${dataFolder} cannot be written.`, 'Run as the user who owns it.');
  return (statSync(dataFolder).mode & 0o077) === 0
    ? fine('data folder', `${dataFolder} is its owner's alone.`)
    : wrong('data folder', `${dataFolder} is open to others.`, `chmod 700 ${dataFolder}`);
}

/** Whether the address that mails name leads to the program that holds this secret. */
async function addressCheck(config: Config, publicUrl: string): Promise<LookedAt> {
  const asked = randomBytes(16).toString('hex');
  const answer = await fetch(`${publicUrl}/healthz?here=${asked}`, {
    redirect: 'manual',
    signal: AbortSignal.timeout(ADDRESS_WAIT_MS),
    headers: { connection: 'close' },
  }).catch(() => null);
  if (answer === null)
    return wrong(
      'public address',
      `${publicUrl} does not answer.`,
      'Does serve run, and does the proxy lead to it? docs/PROXY.md has its lines.',
    );
  await answer.body?.cancel();
  return answer.headers.get(HERE_HEADER) === linkSeal(config).mark(hereText(asked))
    ? fine('public address', `${publicUrl} leads here.`)
    : wrong(
        'public address',
        `${publicUrl} leads somewhere else: it answers ${answer.status}, and not as this program does.`,
        'Is STANCHION_PUBLIC_URL right, does the proxy lead here, and is STANCHION_SECRET the same everywhere?',
      );
}

function spaceCheck({ dataFolder }: Config): LookedAt {
  const { bavail, blocks, bsize } = statfsSync(dataFolder);
  const free = `${Math.floor((bavail * bsize) / 1e6)} MB are free.`;
  return !isShort({ freeBytes: bavail * bsize, diskBytes: blocks * bsize })
    ? fine('space', free)
    : wrong('space', free, 'Make room on this disk: files are kept only while there is some.');
}

async function storeChecks(config: Config, now: Instant | null): Promise<LookedAt[]> {
  try {
    const stanchion = await openStanchion(config, { now });
    try {
      const { store, clock } = stanchion;
      const { workshop, health } = await store.read(async (tx) => ({
        workshop: await findWorkshop(tx),
        health: await getStoreHealth(tx, clock),
      }));
      const { doubt, mails } = health;
      return [
        fine('store', 'The store opens and answers.'),
        workshop === undefined
          ? wrong('workshop', 'There is no workshop yet.', 'Open the first page, or import one.')
          : fine('workshop', `Its clocks are those of ${workshop.body.timeZone}.`),
        doubt === null
          ? fine('clock', 'The clock of this machine is believed.')
          : wrong('clock', doubtText(doubt), 'Put it right, or agree: stanchion clock --agree.'),
        mails.tried === 0
          ? fine('mails', 'No mail waits to be tried again.')
          : wrong(
              'mails',
              `Mails that were tried and wait: ${mails.tried}.`,
              'See what the relay answered on the page Mails.',
            ),
      ];
    } finally {
      await stanchion.close();
    }
  } catch (error) {
    if (!(error instanceof ServiceError)) throw error;
    return [wrong('store', error.message, error.hint ?? 'See docs/UPKEEP.md.')];
  }
}

function backupCheck({ dataFolder, backups, databaseUrl }: Config, now: Instant | null): LookedAt {
  if (databaseUrl !== null) return fine('backups', 'The store is on a server, which its own tools back up.');
  if (backups.kept === 0)
    return wrong(
      'backups',
      'None are kept.',
      'Set STANCHION_BACKUPS_KEPT, or keep copies by stanchion backup.',
    );
  const folder = join(dataFolder, 'backups');
  const days = existsSync(folder) ? readdirSync(folder).filter((name) => name.endsWith('.db')) : [];
  const times = days.map((name) => statSync(join(folder, name)).mtimeMs);
  if (times.length === 0)
    return wrong(
      'backups',
      'There is none yet.',
      `serve makes one a day at ${backups.hour}:00 on the workshop's clocks.`,
    );
  const last = Math.max(...times);
  const text = `The last one is of ${new Date(last).toISOString()}.`;
  return (now ?? Date.now()) - last <= BACKUP_LATE_MS
    ? fine('backups', text)
    : wrong('backups', text, 'Does serve run? It makes one a day.');
}

async function relayCheck({ smtpUrl, isMailFolderEnd, dataFolder }: Config): Promise<LookedAt> {
  if (smtpUrl === null)
    return isMailFolderEnd
      ? fine('mail', `Mails end as files in ${join(dataFolder, 'outbox')}.`)
      : wrong('mail', 'There is no relay: mails are written down and not sent.', 'Set STANCHION_SMTP_URL.');
  const { protocol, hostname, port } = new URL(smtpUrl);
  const at = Number(port || (protocol === 'smtps:' ? 465 : 587));
  const answers = await new Promise<boolean>((done) => {
    const socket = connect({ host: hostname, port: at, timeout: RELAY_WAIT_MS });
    const end = (ok: boolean): void => {
      socket.destroy();
      done(ok);
    };
    socket.once('connect', () => end(true));
    socket.once('error', () => end(false));
    socket.once('timeout', () => end(false));
  });
  return answers
    ? fine('mail', `The relay ${hostname}:${at} answers.`)
    : wrong(
        'mail',
        `The relay ${hostname}:${at} does not answer.`,
        'Is its name and port right, and may this machine reach it?',
      );
}
