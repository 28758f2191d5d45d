import { createHash } from 'node:crypto';
import { mkdir, open, readFile, rename, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import MailComposer from 'nodemailer/lib/mail-composer';
import { ServiceError } from '../errors.js';
import type { Mailer, OutgoingMail } from '../ports/mailer.js';
import { mailOptions } from './mailOptions.js';

export interface EmlFolder extends Mailer {
  /** Removes the file of a mail, for a rider who asked to be forgotten; one that is not there is no fault. */
  remove(messageId: string): Promise<void>;
}

const diskFailed = (folder: string, cause: unknown): ServiceError =>
  new ServiceError('disk-failed', `The folder for mails cannot be written: ${folder}`, {
    hint: 'Check that the disk has room and that the folder may be written.',
    cause,
  });

/** Returns a name that no other message id gives, on any file system. */
export const emlName = (messageId: string): string => {
  const bare = messageId.replace(/^<|>$/g, '');
  const isPlain = /^[a-z0-9][a-z0-9.@-]{0,150}$/.test(bare);
  if (isPlain) return `${bare}.eml`;
  const safe = bare.replace(/[^A-Za-z0-9@-]+/g, '_').slice(0, 80);
  return `${safe}_${createHash('sha256').update(messageId).digest('hex').slice(0, 16)}.eml`;
};

const compose = (mail: OutgoingMail): Promise<Buffer> =>
  new Promise((resolve, reject) => {
    const composed = new MailComposer({ ...mailOptions(mail), newline: 'win' }).compile();
    composed.build((error, bytes) => (error ? reject(error) : resolve(bytes as Buffer)));
  });

const syncFolder = async (folder: string): Promise<void> => {
  const handle = await open(folder, 'r');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
};

const exists = async (path: string): Promise<boolean> => {
  try {
    await stat(path);
    return true;
  } catch (cause) {
    if ((cause as NodeJS.ErrnoException).code === 'ENOENT') return false;
    throw cause;
  }
};

const saysSame = async (path: string, bytes: Buffer): Promise<boolean> =>
  (await exists(path)) && bytes.equals(await readFile(path));

/** Returns once the file is whole, under its name, and on disk; a reader never sees half of it. */
const writeWhole = async (folder: string, name: string, bytes: Buffer): Promise<void> => {
  const part = join(folder, `.${name}.part`);
  const handle = await open(part, 'w', 0o600);
  try {
    await handle.writeFile(bytes);
    await handle.sync();
  } finally {
    await handle.close();
  }
  await rename(part, join(folder, name));
  await syncFolder(folder);
};

/**
 * Returns a mailer that writes each mail as one file of a folder, named for its message id; a file that says the same
 * already is left as it is. `isEnd` where the folder is where mails are meant to end.
 * Errors: ServiceError `disk-failed`; `mail-failed`, permanent, where the mail may not be sent as it stands.
 * Source: fsync(2) and rename(2): a new name is on disk only once its folder is synced too.
 */
export const emlFolder = (
  folder: string,
  { isEnd = false }: { readonly isEnd?: boolean } = {},
): EmlFolder => ({
  keepsOnly: !isEnd,

  async deliver(mail) {
    const bytes = await compose(mail);
    const name = emlName(mail.messageId);
    try {
      await mkdir(folder, { recursive: true, mode: 0o700 });
      if (!(await saysSame(join(folder, name), bytes))) await writeWhole(folder, name, bytes);
    } catch (cause) {
      throw diskFailed(folder, cause);
    }
  },

  async remove(messageId) {
    const name = emlName(messageId);
    try {
      await rm(join(folder, name), { force: true });
      await rm(join(folder, `.${name}.part`), { force: true });
      if (await exists(folder)) await syncFolder(folder);
    } catch (cause) {
      throw diskFailed(folder, cause);
    }
  },
});
