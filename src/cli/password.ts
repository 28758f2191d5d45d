import { createInterface } from 'node:readline/promises';
import { Writable } from 'node:stream';
import type { Command } from 'commander';
import { ServiceError } from '../errors.js';
import { configOf } from './context.js';

/** Returns the password that the environment names, else the one typed without being shown. Errors: `wrong-use`. */
export const readPassword = async (command: Command, account: string): Promise<string> =>
  configOf(command).password ?? (await askPassword(account));

async function askPassword(account: string): Promise<string> {
  if (!process.stdin.isTTY) {
    throw new ServiceError('wrong-use', 'set a password', 'There is no terminal to ask for a password.', {
      hint: 'Set STANCHION_PASSWORD for this command.',
    });
  }
  process.stderr.write(`Password for ${account}: `);
  const silent = new Writable({ write: (_chunk, _encoding, done) => done() });
  const terminal = createInterface({ input: process.stdin, output: silent, terminal: true });
  const password = await terminal.question('');
  terminal.close();
  process.stderr.write('\n');
  return password;
}
