/** Copies, a rider's own data, and the demo. */
import type { Command } from 'commander';
import { later } from './later.js';

export function addKeep(program: Command): void {
  program
    .command('backup')
    .description('copy the store to a file and verify the copy; the server can go on running')
    .argument('<file>')
    .action(later(async () => (await import('../commands/backup.js')).backUp));
  program
    .command('restore')
    .description('put a verified backup in the place of the store; what was there is kept beside it')
    .argument('<file>')
    .option('--clean', 'delete what was there once all is well; else it is asked on a terminal')
    .action(later(async () => (await import('../commands/backup.js')).restore));
  program
    .command('move')
    .description('copy the whole store to a database server, or from one into a file, and verify the copy')
    .argument('<to>', 'postgresql://… or a file that is not there yet')
    .action(later(async () => (await import('../commands/backup.js')).move));
  program
    .command('clock')
    .description('whether the machine’s clock jumped; with --agree it is taken to be right')
    .option('--agree', 'the time is right: reminders and tidying go on')
    .action(later(async () => (await import('../commands/clock.js')).clock));
  program
    .command('rider')
    .description('write all that is held about a rider to a file, or forget the rider')
    .argument('<rider>')
    .argument('<export|forget>')
    .argument('[file.json]', 'where the export goes')
    .action(later(async () => (await import('../commands/rider.js')).rider));
  program
    .command('demo')
    .description('an invented workshop and its season in a data folder of its own')
    .option('--once', 'stop after printing')
    .option('--team', 'and the season of a team of twelve: swaps, races, a fork that retires')
    .action(later(async () => (await import('../commands/demo.js')).demo));
}
