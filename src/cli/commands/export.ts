import type { Command } from 'commander';
import { exportLedger } from '../../flow/carry/exportLedger.js';
import { contextOf } from '../context.js';
import { exportWriter } from '../exportWriter.js';
import { withStanchion } from '../opened.js';
import { openPart } from '../writePart.js';

export const exportFile = async (path: string, _options: unknown, command: Command) => {
  const { out } = contextOf(command);
  await withStanchion(command, {}, async ({ store }) => {
    const part = openPart(path);
    try {
      const writer = exportWriter(part.write);
      const { schema } = await store.read((tx) => exportLedger(tx, writer));
      writer.end(schema);
      part.finish();
    } catch (error) {
      part.abandon();
      throw error;
    }
    out.object({ did: 'export', ids: [], problems: [] });
    out.line(
      `The ledger is in ${path}, with names and addresses of riders: keep it as you would keep those.`,
    );
    out.line(
      'Accounts, ride files in originals/ and mails in outbox/ are not in it; a backup has the accounts.',
    );
  });
};
