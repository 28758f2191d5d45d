import { existsSync } from 'node:fs';
import type { Command } from 'commander';
import { ServiceError } from '../../errors.js';
import { exportLedger } from '../../flow/carry/exportLedger.js';
import { atWorkIn } from '../../main.js';
import type { Store } from '../../ports/store.js';
import { contextOf } from '../context.js';
import { exportWriter } from '../exportWriter.js';
import { unlessInterrupted } from '../interrupted.js';
import { withStanchion } from '../opened.js';
import { openOutput } from '../output.js';
import { type Beside, startTelling } from '../progress.js';
import { type FilePart, openPart } from '../writePart.js';

/** Stands for standard output, to be piped on. */
const STDOUT = '-';

export const exportFile = async (path: string, options: { force?: boolean }, command: Command) => {
  const { out } = contextOf(command);
  if (path !== STDOUT && !options.force && existsSync(path))
    throw new ServiceError('refused', `${path} is there already.`, {
      hint: 'Name another file, or write over it with --force.',
    });
  await withStanchion(command, {}, async ({ store, config }) => {
    // What is piped on is the ledger alone.
    const told = path === STDOUT ? openOutput(false) : out;
    await unlessInterrupted(told, STANDS, () =>
      writeLedger(store, path, atWorkIn(config.dataFolder, 'export')),
    );
    if (path === STDOUT) return;
    out.object({ did: 'export', ids: [], problems: [] });
    out.line(`The ledger is in ${path}, with names and addresses of riders. Keep it safe.`);
    out.line(
      'Accounts, ride files in originals/, photographs in photos/ and mails in outbox/ are not in it; a backup has the accounts.',
    );
  });
};

async function writeLedger(store: Store, path: string, beside: Beside): Promise<void> {
  const part = path === STDOUT ? toStdout : openPart(path);
  const telling = startTelling(beside);
  try {
    const writer = exportWriter(part.write);
    const { schema } = await store.read((tx) => exportLedger(tx, writer, telling.told));
    writer.end(schema);
    part.finish();
  } catch (error) {
    part.abandon();
    throw error;
  } finally {
    telling.done();
  }
}

const STANDS = {
  message: 'Interrupted: nothing was exported.',
  hint: 'A file of that name is as it was. What was piped on is no whole export, and import refuses it. Give it again.',
};

/** What cannot be taken back once it is written. */
const toStdout: FilePart = {
  write: (text) => void process.stdout.write(text),
  finish: () => undefined,
  abandon: () => undefined,
};
