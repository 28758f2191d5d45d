/** To begin with, to run it, and to keep it sound. */
import { type Command, Option } from 'commander';
import { ROLES } from '../../ports/accounts.js';
import { later } from './later.js';

export function addStart(program: Command): void {
  program
    .command('setup')
    .description('create the store and the first account')
    .option('--account <name>', 'the account’s name', 'owner')
    .action(later(async () => (await import('../commands/setup.js')).setUp));
  program
    .command('serve')
    .description('run the folder, reminders, delivery and pages')
    .option('--port <n>', 'the port to listen on', Number)
    .action(later(async () => (await import('../commands/setup.js')).serveAll));
  program
    .command('doctor')
    .description('settings, rights, space, clock, relay and backups: a line a check, with what to do')
    .action(later(async () => (await import('../commands/doctor.js')).doctor));
  program
    .command('check')
    .description('integrity, and everything derived rebuilt and compared')
    .action(later(async () => (await import('../commands/setup.js')).check));
  program
    .command('accounts')
    .description('who may sign in')
    .action(later(async () => (await import('../commands/accounts.js')).showAccounts));
  program
    .command('account')
    .description('create an account, set its password, sign it out, or remove it')
    .argument('<name>')
    .addOption(new Option('--role <role>', 'create it, with what it may do').choices(ROLES))
    .option('--fleet <fleet>', 'the fleet that a mechanic looks after')
    .option(
      '--password',
      'set another password, for instance when it was forgotten: asked for, or from STANCHION_PASSWORD',
    )
    .option('--sign-out', 'sign it out everywhere')
    .option('--remove', 'remove it')
    .action(later(async () => (await import('../commands/accounts.js')).changeAccount));
}
