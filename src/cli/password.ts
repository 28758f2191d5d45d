import { createInterface } from 'node:readline/promises';
import { Writable } from 'node:stream';
import type { Command } from 'commander';
import { ServiceError } from '../errors.js';
import { configOf } from './opened.js';

/** Returns the password that the environment names, else the one typed without being shown. Errors: `wrong-use`. */
export const readPassword = async (command: Command, account: string): Promise<string> =>
  configOf(command).password ?? (await onTerminal((ask) => askTwice(account, ask)));

type Ask = (prompt: string) => Promise<string>;

/** What is typed unseen is typed twice, or a slip of the finger shows at the next signing in. Errors: `wrong-use`. */
export async function askTwice(account: string, ask: Ask): Promise<string> {
  const password = await ask(`New password for ${account}: `);
  if ((await ask('The same once more: ')) === password) return password;
  throw new ServiceError('wrong-use', 'The two passwords differ. Nothing was changed.');
}

async function onTerminal(work: (ask: Ask) => Promise<string>): Promise<string> {
  if (!process.stdin.isTTY) {
    throw new ServiceError('wrong-use', 'There is no terminal to ask for a password.', {
      hint: 'Set STANCHION_PASSWORD for this command.',
    });
  }
  const silent = new Writable({ write: (_chunk, _encoding, done) => done() });
  const terminal = createInterface({ input: process.stdin, output: silent, terminal: true });
  // What was typed ahead of the second question is there already when it is asked.
  const lines = terminal[Symbol.asyncIterator]();
  try {
    return await work(async (prompt) => {
      process.stderr.write(prompt);
      const { value } = await lines.next();
      process.stderr.write('\n');
      return value ?? '';
    });
  } finally {
    terminal.close();
  }
}
