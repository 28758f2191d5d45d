import { Command, CommanderError } from 'commander';
import { exitStatusOf, ServiceError } from '../errors.js';
import type { Instant } from '../units.js';
import { VERSION } from '../version.js';
import { timeArgument } from './arguments.js';
import { addBook } from './definitions/book.js';
import { addFiles } from './definitions/files.js';
import { addKeep } from './definitions/keep.js';
import { addStart } from './definitions/start.js';
import { addWork } from './definitions/work.js';
import { setStatus } from './status.js';

/** Returns the commands with their options, to be run or read. */
export function programOf(isJson = false): Command {
  const program = new Command('stanchion')
    .version(VERSION, '--version', 'which version this is')
    .configureOutput(isJson ? { writeOut: tellText } : {})
    .description('Counts the hours on suspension from ride files, and says when a service falls due.')
    .option('--data <folder>', 'the data folder (default: STANCHION_DATA, else ./data)')
    .option('--json', 'one JSON object a line')
    .option('--now <time>', 'the clock for this call, ISO 8601; without a zone the workshop’s', timeArgument)
    .configureHelp({ showGlobalOptions: true })
    .exitOverride();
  for (const add of [addStart, addFiles, addBook, addWork, addKeep]) add(program);
  program.hook('preAction', async (_program, command) => {
    const { now } = command.optsWithGlobals<{ now?: Instant | string }>();
    if (typeof now !== 'string') return;
    const at = await (await import('./definitions/localNow.js')).workshopTime(command, now);
    for (const one of [command, program]) one.setOptionValue('now', at);
  });
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

/** Help and version, as a script reads them. */
const tellText = (text: string): void => {
  const told = text === `${VERSION}\n` ? { version: VERSION } : { help: text };
  process.stdout.write(`${JSON.stringify(told)}\n`);
};

/** What a script reads of a failure; its code tells what was not found from what was refused. */
interface Failure {
  readonly code: string;
  readonly message: string;
  readonly hint: string | null;
}

const tellScript = (error: Failure): void => void process.stdout.write(`${JSON.stringify({ error })}\n`);

async function report(error: unknown, isJson: boolean): Promise<void> {
  if (error instanceof CommanderError) {
    setStatus(error.exitCode === 0 ? 0 : 2);
    const message = error.message.replace(/^error: /, '');
    if (isJson && error.exitCode !== 0) tellScript({ code: 'wrong-use', message, hint: 'stanchion --help' });
    return;
  }
  // What failed is put into words only then: the words are the most that a quick command would load.
  const { failureText } = await import('./failureText.js');
  const failure = failureOf(error, failureText);
  setStatus(failure.status);
  if (isJson) tellScript({ code: failure.code, message: failure.message, hint: failure.hint ?? null });
  process.stderr.write(`stanchion: ${failure.message}\n`);
  if (failure.hint !== undefined) process.stderr.write(`${failure.hint}\n`);
  if (error instanceof ServiceError && error.cause instanceof Error)
    process.stderr.write(`Cause: ${error.cause.message}\n`);
}

interface Failed {
  readonly status: 1 | 2 | 3;
  readonly code: string;
  readonly message: string;
  readonly hint?: string | undefined;
}

/** What a file's own fault means; source: errno(3). */
const FILE_FAULTS: Readonly<Record<string, (path: string) => Failed>> = {
  ENOENT: (path) => ({ status: 1, code: 'not-found', message: `There is no file ${path}.` }),
  ENOTDIR: (path) => ({ status: 1, code: 'not-found', message: `There is no file ${path}.` }),
  EISDIR: (path) => ({ status: 2, code: 'wrong-use', message: `${path} is a folder: name a file.` }),
  EACCES: (path) => ({
    status: 3,
    code: 'disk-failed',
    message: `You may not read or write ${path}.`,
    hint: 'Run as the user who owns it.',
  }),
  ENOSPC: (path) => ({
    status: 3,
    code: 'disk-failed',
    message: `There is no room for ${path}.`,
    hint: 'Make room on its disk.',
  }),
};

function failureOf(
  error: unknown,
  textOf: (error: ServiceError) => readonly [message: string, hint?: string],
): Failed {
  if (error instanceof ServiceError) {
    const [message, hint] = textOf(error);
    return { status: exitStatusOf(error) as 1 | 2 | 3, code: error.code, message, hint };
  }
  const { code, path } = error instanceof Error ? (error as NodeJS.ErrnoException) : {};
  const ofFile = FILE_FAULTS[code ?? ''];
  // Reading a folder as a file says no path.
  if (ofFile && (path !== undefined || code === 'EISDIR')) return ofFile(path ?? 'It');
  const message = error instanceof Error ? error.message : String(error);
  return {
    status: 3,
    code: 'fault',
    message,
    hint: 'This is a fault in the program. Please report it, with what you typed.',
  };
}

/** Runs one command to its end. What it comes to is in `process.exitCode`. */
export const runCommand = async (args: readonly string[]): Promise<void> => {
  const isJson = args.includes('--json');
  await programOf(isJson)
    .parseAsync(args, { from: 'user' })
    .catch((error: unknown) => report(error, isJson));
};
