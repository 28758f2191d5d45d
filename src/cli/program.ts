import { Command, CommanderError } from 'commander';
import { exitStatusOf, ServiceError } from '../errors.js';
import { addAccounts } from './commands/accounts.js';
import { addBackup } from './commands/backup.js';
import { addCorrections } from './commands/correct.js';
import { addDemo } from './commands/demo.js';
import { addDue } from './commands/due.js';
import { addExport } from './commands/export.js';
import { addHoursCommand } from './commands/hours.js';
import { addImport } from './commands/import.js';
import { addLeads } from './commands/leads.js';
import { addLedgerCommands } from './commands/ledger.js';
import { addLook } from './commands/look.js';
import { addMails } from './commands/mails.js';
import { addPlan } from './commands/plan.js';
import { addRider } from './commands/rider.js';
import { addSetup } from './commands/setup.js';
import { addTake } from './commands/take.js';
import { addTray } from './commands/tray.js';
import { addWeights } from './commands/weights.js';
import { timeArgument } from './context.js';
import { failureText } from './failureText.js';
import { setStatus } from './status.js';

/** Returns the commands with their options, to be run or read. */
export function programOf(): Command {
  const program = new Command('stanchion')
    .description('Counts the hours on suspension from ride files, and says when a service falls due.')
    .option('--data <folder>', 'the data folder (default: STANCHION_DATA, else ./data)')
    .option('--json', 'one JSON object a line')
    .option('--now <time>', 'the clock for this call, ISO 8601', timeArgument)
    .configureHelp({ showGlobalOptions: true })
    .exitOverride();
  for (const add of [
    addSetup,
    addAccounts,
    addLook,
    addTake,
    addImport,
    addExport,
    addTray,
    addDue,
    addLedgerCommands,
    addHoursCommand,
    addCorrections,
    addWeights,
    addMails,
    addLeads,
    addPlan,
    addBackup,
    addRider,
    addDemo,
  ]) {
    add(program);
  }
  // Global options may stand behind the command too.
  for (const command of program.commands) {
    command
      .exitOverride()
      .option('--data <folder>', 'the data folder')
      .option('--json', 'one JSON object a line')
      .option('--now <time>', 'the clock for this call', timeArgument);
  }
  return program;
}

function report(error: unknown): void {
  if (error instanceof CommanderError) {
    setStatus(error.exitCode === 0 ? 0 : 2);
    return;
  }
  const isFile = error instanceof Error && 'code' in error && error.code === 'ENOENT' && 'path' in error;
  setStatus(isFile ? 1 : (exitStatusOf(error) as 1 | 2 | 3));
  const message = isFile
    ? `There is no file ${String(error.path)}.`
    : error instanceof ServiceError
      ? failureText(error)[0]
      : error instanceof Error
        ? error.message
        : String(error);
  process.stderr.write(`stanchion: ${message}\n`);
  if (error instanceof ServiceError) {
    const [, hint] = failureText(error);
    if (hint !== undefined) process.stderr.write(`${hint}\n`);
    if (error.cause instanceof Error) process.stderr.write(`Cause: ${error.cause.message}\n`);
  }
}

/** Runs one command to its end. What it comes to is in `process.exitCode`. */
export const runCommand = async (args: readonly string[]): Promise<void> => {
  await programOf().parseAsync(args, { from: 'user' }).catch(report);
};
