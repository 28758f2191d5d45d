/** Opens a data folder: the settings make the parts, and the parts know one another by their ports only. */
import { randomUUID } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { boundHeap } from '../boundHeap.js';
import { clockAt, clockFrom } from '../clock.js';
import type { Config } from '../config.js';
import { ServiceError } from '../errors.js';
import { judgeBefore } from '../flow/begin.js';
import { deriveAnew } from '../flow/facts/deriveAnew.js';
import type { Links } from '../flow/mail/links.js';
import { findWorkshop } from '../flow/settings.js';
import type { ScanDeps } from '../flow/take/scanInbox.js';
import type { RidesMailbox } from '../flow/take/whoseMail.js';
import { openDropFolder } from '../inbox/dropFolder.js';
import { forgottenIn } from '../inbox/forgotten.js';
import { originalsIn, removeOriginal } from '../inbox/originals.js';
import { openLog } from '../log.js';
import { emlFolder, emlName } from '../mail/emlFolder.js';
import { smtpMailer } from '../mail/smtp.js';
import { mailWriter } from '../mail/writer.js';
import { photoThread } from '../photos/photoThread.js';
import type { Clock } from '../ports/clock.js';
import type { Forgetting } from '../ports/forgetting.js';
import type { Postbox } from '../ports/inbox.js';
import type { Log } from '../ports/log.js';
import type { DecoderState } from '../ports/loops.js';
import type { Mailer } from '../ports/mailer.js';
import type { KeptOriginals, Originals, PhotoFiles, PhotoMaker } from '../ports/originals.js';
import type { Seal } from '../ports/seal.js';
import type { Store } from '../ports/store.js';
import { openReader } from '../reader.js';
import { openSecret, sealWith } from '../secret.js';
import { openStore } from '../store/open.js';
import type { Instant } from '../units.js';
import { homeOf, isLedgerThere, needLedger, placeOf } from './places.js';

const PHOTO_SCRIPT = new URL('../../workers/photo.js', import.meta.url);

/** Everything that a command or a worker needs, and how to let go of it. */
export interface Stanchion extends ScanDeps {
  readonly config: Config;
  readonly forgetting: Forgetting;
  readonly decoder: () => DecoderState;
  readonly originals: Originals & KeptOriginals;
  readonly photoFiles: PhotoFiles;
  readonly photoMaker: PhotoMaker;
  /** Null where rides do not come by mail. */
  readonly mailbox: Postbox | null;
  readonly rides: RidesMailbox | null;
  close(): Promise<void>;
}

function forgettingIn(config: Config): Forgetting {
  const { dataFolder, originalsFolder, photosFolder, inboxFolder } = config;
  const mails = emlFolder(join(dataFolder, 'outbox'));
  const { note, list } = forgottenIn(dataFolder);
  return {
    note,
    list,
    remove: async ({ originals, photos, messageIds }) => {
      for (const sha256 of originals) await removeOriginal(originalsFolder, sha256);
      for (const sha256 of photos) await removeOriginal(photosFolder, sha256);
      for (const messageId of messageIds) await mails.remove(messageId);
    },
    hasFolder: (handle) => existsSync(join(inboxFolder, handle)),
  };
}

const SECRET_LOST =
  'The secret that signs links was missing, and another is made: links and own pages sent until now no longer work. If you have a copy of it, stop, put it back, and start again.';

/**
 * Opens the data folder.
 * Errors: `refused` where there is no store and none is to be made, `store-failed`, `disk-failed`.
 */
export async function openStanchion(
  config: Config,
  options: {
    readonly now: Instant | null;
    readonly runsOn?: boolean;
    readonly make?: boolean;
    /** Of a command that ends by itself faults alone are logged: what it did it says. */
    readonly logs?: 'all' | 'faults';
    readonly log?: Log;
  },
): Promise<Stanchion> {
  boundHeap();
  const place = placeOf(config);
  if (!options.make) needLedger(config);
  const isNew = !isLedgerThere(config);
  // A new ledger has its secret from the start: one that is missing later was lost.
  const isLost = !isNew && config.secret === null && !existsSync(join(config.dataFolder, 'secret'));
  if (isNew) openSecret(config.dataFolder, config.secret);
  const clock: Clock =
    options.now !== null && !options.runsOn ? clockAt(options.now) : clockFrom(options.now);
  const store = await openStore(place, clock.now(), {
    workshop: config.workshop,
    home: homeOf(config),
    make: options.make ?? false,
  });
  await deriveAnew({ store, clock });
  await judgeOldMails(store, config, clock);
  const log = options.log ?? openLog(options.logs === 'all' ? 'info' : 'error');
  if (isLost && options.logs === 'all') log.error({ file: 'secret' }, SECRET_LOST);
  const reader = openReader();
  const photoMaker = photoThread(PHOTO_SCRIPT);
  return {
    config,
    store,
    clock,
    reader,
    decoder: reader.state,
    originals: originalsIn(config.originalsFolder),
    photoFiles: originalsIn(config.photosFolder),
    photoMaker,
    forgetting: forgettingIn(config),
    inbox: await openDropFolder(config.inboxFolder, { make: isInside(config) }),
    writer: mailWriter,
    mailer: openMailer(config),
    mailbox: await openMailbox(config),
    rides: ridesOf(config),
    ...linksOf(config),
    ids: { uuid: randomUUID },
    log,
    close: async () => {
      await reader.close();
      await photoMaker.close();
      await store.close();
    },
  };
}

/** Says of a store from before the rule whether its reminders have begun. */
async function judgeOldMails(store: Store, { dataFolder, isMailFolderEnd }: Config, clock: Clock) {
  const isOwed = await store.read(async (tx) => (await findWorkshop(tx))?.body.remindersFrom === undefined);
  const wasKeptOnly = (messageId: string): boolean =>
    !isMailFolderEnd && existsSync(join(dataFolder, 'outbox', emlName(messageId)));
  const entry = { by: 'stanchion', at: clock.now(), why: 'whether a relay ever took a mail' };
  if (isOwed) await store.write((tx) => judgeBefore(tx, wasKeptOnly, entry));
}

/** A drop folder elsewhere is made by whoever writes into it. */
const isInside = ({ dataFolder, inboxFolder }: Config): boolean => inboxFolder === join(dataFolder, 'inbox');

function openMailer({ smtpUrl, dkim, dataFolder, isMailFolderEnd }: Config): Mailer {
  if (smtpUrl === null) return emlFolder(join(dataFolder, 'outbox'), { isEnd: isMailFolderEnd });
  if (dkim === null) return smtpMailer(smtpUrl);
  const { domain, selector, keyFile } = dkim;
  return smtpMailer(smtpUrl, {
    dkim: {
      domainName: domain,
      keySelector: selector,
      privateKey: readText(keyFile, 'STANCHION_DKIM_KEY_FILE names a PEM file that this user may read.'),
    },
  });
}

/** The package is loaded where there is a mailbox. */
export async function openMailbox({ mailbox }: Config): Promise<Postbox | null> {
  if (mailbox === null) return null;
  const { hostname, port, protocol, username, password, pathname } = new URL(mailbox.url);
  const { imapMailbox } = await import('../mailbox/imapMailbox.js');
  const isTls = protocol === 'imaps:';
  const folder = decodeURIComponent(pathname.replace(/^\//, ''));
  return imapMailbox({
    ...{
      host: hostname.replace(/^\[|\]$/g, ''),
      port: port === '' ? (isTls ? 993 : 143) : Number(port),
      isTls,
    },
    user: decodeURIComponent(username),
    password:
      mailbox.passwordFile === null
        ? decodeURIComponent(password)
        : readText(
            mailbox.passwordFile,
            'STANCHION_IMAP_PASSWORD_FILE names a file that this user may read.',
          ).trim(),
    ...{ folder: folder === '' ? 'INBOX' : folder, doneFolder: mailbox.doneFolder },
  });
}

const ridesOf = (config: Config): RidesMailbox | null =>
  config.mailbox && {
    ...{ address: config.mailbox.address, server: config.mailbox.server, seal: linkSeal(config) },
  };

function readText(file: string, hint: string): string {
  try {
    return readFileSync(file, 'utf8');
  } catch (cause) {
    throw new ServiceError('wrong-use', `The file ${file} cannot be read.`, { hint, cause });
  }
}

/** Mails carry links only where there is a public address. One click needs HTTPS and a signature. Source: RFC 8058 3.1. */
function linksOf(config: Config): { readonly links?: Links } {
  const { publicUrl, smtpUrl, dkim, isSignedByRelay } = config;
  if (publicUrl === null) return {};
  const isSigned = smtpUrl !== null && (dkim !== null || isSignedByRelay);
  const isOneClick = isSigned && publicUrl.startsWith('https:');
  return { links: { publicUrl, seal: linkSeal(config), isOneClick } };
}

/** Returns what signs links and the calendar's address. */
export const linkSeal = ({ dataFolder, secret }: Config): Seal => sealWith(openSecret(dataFolder, secret));
