/** From ride files to the ledger, and what waits for a word. */
import type { Command } from 'commander';
import { climbsArgument, dayArgument, minutesArgument, momentArgument } from '../arguments.js';
import { later } from './later.js';

export function addFiles(program: Command): void {
  program
    .command('look')
    .description('say what files hold; changes nothing, and needs no data folder')
    .argument('<file...>', 'files, folders or archives')
    .action(later(async () => (await import('../commands/look.js')).look));
  program
    .command('take')
    .description('take files, folders and archives into the ledger')
    .argument('<path...>', 'files, folders or archives')
    .option('--rider <id>', 'whose rides these are')
    .option('--bike <id>', 'which bike they were on')
    .action(later(async () => (await import('../commands/take.js')).take));
  program
    .command('import')
    .description('take a whole file, or nothing of it; the same file again adds nothing')
    .argument('<file-or-kind>', 'FILE.json, or the kind of a CSV file')
    .argument('[file.csv]')
    .action(later(async () => (await import('../commands/import.js')).importFile));
  program
    .command('export')
    .description('write the whole ledger with its history; import takes it back')
    .argument('<file.json>', 'or - for standard output')
    .option('--force', 'also where the file is there already')
    .action(later(async () => (await import('../commands/export.js')).exportFile));
  program
    .command('tray')
    .description('what needs an answer; with an id, where that ride stands; with an answer, answers it')
    .argument('[id]')
    .option('--bike <id>', 'it was on this bike; also moves a ride that counts')
    .option('--rider <id>', 'it is this rider’s')
    .option('--ride <yes|no>', 'yes: riding, and a ride of its own; no: not')
    .option('--ridden <all|none|N,…>', 'which of its climbs were ridden', climbsArgument)
    .option('--on <time>', 'when it started; without a zone, on the workshop’s clocks', momentArgument)
    .option('--minutes <n>', 'for how long it moved', minutesArgument)
    .option('--apart <file>', 'this recording of it is a ride of its own')
    .option('--with <ride>', 'it is one with this other ride')
    .action(later(async () => (await import('../commands/tray.js')).tray));
  program
    .command('ways')
    .description(
      'how each rider’s files come, when the last came, how late they usually are, and what is stuck',
    )
    .action(later(async () => (await import('../commands/ways.js')).ways));
  program
    .command('due')
    .description('units and service kinds by likely date')
    .option('--by <day>', 'only what is likely by then, or pressing already', dayArgument)
    .action(later(async () => (await import('../commands/due.js')).due));
}
