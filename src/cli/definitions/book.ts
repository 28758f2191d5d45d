/** What people enter about units, bikes and hours, and put right. */
import { type Command, Option } from 'commander';
import { BUILT_IN_SERVICE_KINDS } from '../../core/ledger/serviceKinds.js';
import { DONE_BY, GOINGS, GROUNDS } from '../../core/tokens.js';
import {
  dayArgument,
  kindArgument,
  listArgument,
  minutesArgument,
  momentArgument,
  monthsArgument,
  NAMED,
  numberArgument,
  percentArgument,
} from '../arguments.js';
import { later } from './later.js';

export function addBook(program: Command): void {
  addUnits(program);
  addHours(program);
  addDeclare(program);
  addCorrections(program);
  program
    .command('weights')
    .description(
      'what an hour weighs on smooth, typical and rough ground; from 0.5 to 3, on a fleet’s bikes to 4, rougher never less',
    )
    .option('--smooth <n>', 'at severity 0.3, a road', numberArgument)
    .option('--typical <n>', 'at severity 1, a typical trail', numberArgument)
    .option('--rough <n>', 'at severity 2, rough ground', numberArgument)
    .option('--landing <n>', 'terrain seconds for each second in the air, 0 to 60', numberArgument)
    .option('--dry', 'only name the units that would change state')
    .action(later(async () => (await import('../commands/weights.js')).weights));
}

function addUnits(program: Command): void {
  program
    .command('service')
    .description('log a service; its hours start again from that day')
    .argument('<tag>')
    .argument('<kind>', BUILT_IN_SERVICE_KINDS.join(', '))
    .requiredOption('--on <day>', 'the day it was done', dayArgument)
    .option(
      '--restarts <kinds>',
      'the services whose hours it restarts, separated by commas, or none',
      listArgument,
    )
    .addOption(new Option('--by <where>', 'where it was done; here, if not said').choices(DONE_BY))
    .addOption(new Option('--elsewhere', 'the same as --by another-workshop').hideHelp())
    .option('--findings <file>', 'what was seen inside, as JSON')
    .option('--parts <file>', 'parts and oil used, as JSON: [{"part": "…", "count": 2, "measure": "pieces"}]')
    .option('--technician <name>')
    .option('--price <text>', 'as on the bill')
    .option('--note <text>')
    .option('--again', 'it was done twice on that day')
    .action(later(async () => (await import('../commands/ledger.js')).service));
  program
    .command('fit')
    .description('put a unit on a bike')
    .argument('<tag>')
    .argument('<bike>')
    .requiredOption('--from <when>', 'a day or a time', momentArgument)
    .option('--before-first', 'before that day’s first ride (so it is when only a day is given)')
    .option('--after-last', 'after that day’s last ride')
    .option('--although-marked', 'although the unit is marked “stop riding”')
    .action(later(async () => (await import('../commands/ledger.js')).fit));
  program
    .command('unfit')
    .description('take a unit off its bike')
    .argument('<tag>')
    .requiredOption('--at <when>', 'a day or a time', momentArgument)
    .option('--before-first', 'before that day’s first ride')
    .option('--after-last', 'after that day’s last ride (so it is when only a day is given)')
    .action(later(async () => (await import('../commands/ledger.js')).unfit));
  program
    .command('swap')
    .description('swap two units in one action; one of them may lie in its box')
    .argument('<tag>')
    .argument('<other-tag>')
    .requiredOption('--at <when>', 'a day or a time', momentArgument)
    .option('--before-first', 'before that day’s first ride')
    .option('--after-last', 'after that day’s last ride')
    .option('--although-marked', 'although the unit is marked “stop riding”')
    .action(later(async () => (await import('../commands/ledger.js')).swap));
  program
    .command('gone')
    .description('say that a unit left for good (it is then never due and in no list), or is back')
    .argument('<tag>')
    .argument('<how>', GOINGS.join(', '))
    .requiredOption('--on <day>', 'its last day here, or the day on which it came back', dayArgument)
    .action(later(async () => (await import('../commands/ledger.js')).gone));
  program
    .command('member')
    .description('say which fleet a unit belongs to, whatever bike it is on: its intervals are that fleet’s')
    .argument('<tag>')
    .argument('<fleet>', 'a fleet, or none')
    .option('--from <day>', 'from this day on; left out, ever since', dayArgument)
    .action(later(async () => (await import('../commands/ledger.js')).member));
  program
    .command('mark')
    .description('set or clear the crash mark: stop riding, have it checked')
    .argument('<tag>')
    .argument('<stop|clear>')
    .requiredOption('--why <text>')
    .option('--looked <file>', 'with clear: the after-crash list, a JSON object of parts and words')
    .option('--by <name>', 'who looked and clears it')
    .action(later(async () => (await import('../commands/ledger.js')).mark));
  program
    .command('bench')
    .description('say that a unit is at the workshop, or left it')
    .argument('<tag>')
    .argument('<in|out>')
    .action(later(async () => (await import('../commands/ledger.js')).bench));
}

function addHours(program: Command): void {
  program
    .command('hours')
    .description('the hours of a bike by where they come from; enters riding without a recorder')
    .argument('<bike>')
    .option('--on <day>', 'ridden on this day without a recorder', dayArgument)
    .option('--minutes <n>', 'for so many moving minutes', minutesArgument)
    .option('--ground <ground>', GROUNDS.join(', '), 'typical')
    .option('--unrecorded <percent>', 'so much of all riding goes unrecorded, an estimate', percentArgument)
    .option('--from <day>', 'from the start of this day', dayArgument)
    .option('--to <day>', 'until the start of this day; left out, from then on', dayArgument)
    .option('--note <text>')
    .action(later(async () => (await import('../commands/hours.js')).hours));
}

function addDeclare(program: Command): void {
  program
    .command('declare')
    .description('riding on a bike that nobody records: so many hours a week, counted until files come')
    .argument('<bike>')
    .requiredOption('--hours <n>', 'hours a week, about', numberArgument)
    .requiredOption('--from <day>', 'from the start of this day', dayArgument)
    .option('--to <day>', 'until the start of this day; left out, from then on', dayArgument)
    .addOption(new Option('--ground <ground>', 'mostly on').choices(GROUNDS).default('typical'))
    .option('--months <months>', '4-10 is April to October; left out, all year', monthsArgument)
    .action(later(async () => (await import('../commands/declare.js')).declare));
}

function addCorrections(program: Command): void {
  program
    .command('correct')
    .description('correct a fact: the old one stays in the book, with who changed it, when and why')
    .argument('<fact>', 'its id, as story shows it')
    .requiredOption(
      '--with <file>',
      'JSON with what is to change, by the names of the import file; null takes it back',
    )
    .requiredOption('--why <text>')
    .action(later(async () => (await import('../commands/correct.js')).correct));
  program
    .command('void')
    .description('take a fact back: it stays in the book and no longer counts')
    .argument('<fact>', 'its id, as story shows it')
    .requiredOption('--why <text>')
    .action(later(async () => (await import('../commands/correct.js')).makeVoid));
  program
    .command('rename')
    .description(
      'another name for what was named wrong: its facts and hours stay, and the old name still finds it',
    )
    .argument('<kind>', NAMED.join(', '), kindArgument)
    .argument('<from>')
    .argument('<to>')
    .requiredOption('--why <text>')
    .action(later(async () => (await import('../commands/correct.js')).renameOne));
  program
    .command('story')
    .description('a unit’s service book: what happened, who entered it, and what was corrected')
    .argument('<tag>')
    .action(later(async () => (await import('../commands/correct.js')).story));
}
