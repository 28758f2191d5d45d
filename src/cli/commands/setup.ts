import { createInterface } from 'node:readline/promises';
import { Writable } from 'node:stream';
import type { Command } from 'commander';
import { ServiceError } from '../../errors.js';
import { checkLedger } from '../../flow/checkLedger.js';
import { hashPassword, serve, untilAskedToStop } from '../../main.js';
import { configOf, contextOf, withStanchion } from '../context.js';
import { setStatus } from '../status.js';

const SHORTEST_PASSWORD = 8;
const LONGEST_PASSWORD = 200;

export function addSetup(program: Command): void {
  program
    .command('setup')
    .description('make the store and the first account')
    .option('--account <name>', 'the account’s name', 'owner')
    .action(async (options: { account: string }, command: Command) => {
      const { out } = contextOf(command);
      const password = configOf(command).password ?? (await askPassword(options.account));
      if (password.length < SHORTEST_PASSWORD || password.length > LONGEST_PASSWORD) {
        throw new ServiceError(
          'refused',
          'set up',
          `A password has ${SHORTEST_PASSWORD} to ${LONGEST_PASSWORD} characters.`,
        );
      }
      await withStanchion(command, { make: true }, async (stanchion) => {
        const passwordHash = await hashPassword(password);
        const account = await stanchion.store.write((tx) =>
          tx.accounts.add({ name: options.account, passwordHash, role: 'owner' }),
        );
        out.object({ did: 'setup', ids: [account.id], problems: [] });
        out.line(
          `The ledger is in ${stanchion.config.dataFolder}; account "${options.account}" can sign in.`,
        );
        out.line('Next: stanchion import FILE.json, then stanchion serve.');
      });
    });

  program
    .command('serve')
    .description('run the folder, reminders, delivery and pages')
    .option('--port <n>', 'the port to listen on', Number)
    .action(async (options: { port?: number }, command: Command) => {
      const { out } = contextOf(command);
      const stopped = untilAskedToStop();
      await withStanchion(
        command,
        { runsOn: true, ...(options.port === undefined ? {} : { port: options.port }) },
        (stanchion) =>
          serve(
            stanchion,
            (url) => {
              out.object({ did: 'serve', url });
              out.line(`Stanchion is ready at ${url}`);
            },
            stopped,
          ),
      );
    });

  program
    .command('check')
    .description('integrity, and everything derived rebuilt and compared')
    .action(async (_options, command: Command) => {
      const { out } = contextOf(command);
      await withStanchion(command, {}, async ({ store }) => {
        const checked = await checkLedger(store);
        out.object(checked);
        if (!checked.ok) setStatus(3);
        out.line(
          checked.ok
            ? `All is well: ${checked.facts} facts, and everything derived agrees with them.`
            : 'There are faults:',
        );
        for (const fault of checked.faults) out.line(`  ${fault}`);
      });
    });
}

async function askPassword(account: string): Promise<string> {
  if (!process.stdin.isTTY) {
    throw new ServiceError('wrong-use', 'set up', 'There is no terminal to ask for a password.', {
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
