import type { Command } from 'commander';
import { forgetAgain } from '../../flow/carry/forgetAll.js';
import { ImportRefused, importLedger } from '../../flow/carry/importLedger.js';
import { refreshAllDue } from '../../flow/due/refreshDue.js';
import { atWorkIn, sweepStore } from '../../main.js';
import type { Problem } from '../../problems.js';
import { contextOf } from '../context.js';
import { importProblems } from '../failureText.js';
import { importedLines } from '../importText.js';
import { unlessInterrupted } from '../interrupted.js';
import { BY_COMMAND, withStanchion } from '../opened.js';
import type { Output } from '../output.js';
import { startTelling } from '../progress.js';
import { readCsvImport, readJsonImport } from '../readImport.js';
import { setStatus } from '../status.js';

const STANDS = {
  message: 'Interrupted: nothing was imported.',
  hint: 'Give the same file again: what is already there adds nothing.',
};

export const importFile = async (
  first: string,
  csv: string | undefined,
  _options: unknown,
  command: Command,
) => {
  const { out } = contextOf(command);
  const read = csv === undefined ? await readJsonImport(first) : await readCsvImport(first, csv);
  if ('problems' in read) return refuse(out, read.problems);
  const make = read.document.workshop !== null || read.document.ledger !== null;
  await withStanchion(command, { make }, async (stanchion) => {
    try {
      const entry = { by: BY_COMMAND, at: stanchion.clock.now() };
      const telling = startTelling(atWorkIn(stanchion.config.dataFolder, 'import'));
      const imported = await unlessInterrupted(out, STANDS, () =>
        stanchion.store.write((tx) => importLedger(tx, read.document, entry, telling.told)),
      );
      telling.done();
      const forgotten = await forgetAgain(stanchion);
      if (forgotten > 0) await sweepStore(stanchion.config, { waitMs: 10_000 });
      await refreshAllDue(stanchion);
      out.object({ did: 'import', ...imported, problems: [] });
      for (const line of importedLines(imported)) out.line(line);
      if (read.document.riders.length > 0)
        out.line('Addresses and phones of the riders in it are now as in the file.');
    } catch (error) {
      if (!(error instanceof ImportRefused)) throw error;
      refuse(out, importProblems(error));
    }
  });
};

function refuse(out: Output, problems: readonly Problem[]): void {
  setStatus(1);
  const error = {
    code: 'refused',
    message: 'Nothing was imported.',
    hint: 'The list “problems” says what is wrong, and where.',
  };
  out.object({ did: 'nothing', ids: [], problems, error });
  out.complain('Nothing was imported:');
  for (const { source, subject, message } of problems)
    out.complain(`  ${source}${subject === undefined ? '' : ` (${subject})`}: ${message}`);
}
