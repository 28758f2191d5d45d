/** Mails, bookings, and the bench's weeks. */
import type { Command } from 'commander';
import { WEEKS_SHOWN } from '../../core/plan/weeksShown.js';
import { dayArgument, MOST_WEEKS, weeksArgument } from '../arguments.js';
import { later } from './later.js';

export function addWork(program: Command): void {
  program
    .command('mails')
    .description('decide and queue today’s notices')
    .option('--dry', 'only say what would be queued')
    .action(later(async () => (await import('../commands/mails.js')).mails));
  program
    .command('begin')
    .description('begin reminders today, or pause them')
    .option('--off', 'pause them again')
    .option('--dry', 'only say what would go')
    .action(later(async () => (await import('../commands/mails.js')).begin));
  program
    .command('deliver')
    .description('hand over what waits, once')
    .action(later(async () => (await import('../commands/mails.js')).deliver));
  program
    .command('told')
    .description(
      'riders whom mail does not reach; with a unit and a service: somebody told its rider by another way',
    )
    .argument('[tag]')
    .argument('[kind]')
    .action(later(async () => (await import('../commands/told.js')).told));
  program
    .command('leads')
    .description('bookings: what riders may book, ask for and have booked')
    .option('--all', 'those done and declined too')
    .option('--csv <file>', 'write them to a file')
    .option('--calendar', 'the secret address of the bookings’ calendar')
    .option('--new-calendar', 'create another address; the earlier one no longer works')
    .action(later(async () => (await import('../commands/leads.js')).leads));
  program
    .command('lead')
    .description('book a day, decline it, or say that it is done')
    .argument('<id>')
    .option('--book <day>', 'the day; the rider gets a mail with a calendar entry', dayArgument)
    .option('--even-if-full', 'book a day that is closed or full')
    .option('--decline', 'the rider gets a mail where a day was asked for or booked')
    .option('--done', 'dealt with, though no service is logged')
    .action(later(async () => (await import('../commands/leads.js')).changeLead));
  addPlan(program);
}

function addPlan(program: Command): void {
  const weeks = `how many weeks, at most ${MOST_WEEKS}`;
  program
    .command('load')
    .description('services and bench minutes expected in each coming week')
    .option('--weeks <n>', weeks, weeksArgument, WEEKS_SHOWN)
    .action(later(async () => (await import('../commands/plan.js')).load));
  program
    .command('parts')
    .description('parts and oil that the coming weeks take, against the shelf, with dates to order by')
    .option('--weeks <n>', weeks, weeksArgument, WEEKS_SHOWN)
    .action(later(async () => (await import('../commands/plan.js')).parts));
  program
    .command('races')
    .description('what must be serviced before which race')
    .argument('[id]', 'one race')
    .action(later(async () => (await import('../commands/plan.js')).races));
  program
    .command('findings')
    .description('what foam rings seen at services say about the interval')
    .action(later(async () => (await import('../commands/plan.js')).findings));
  program
    .command('jobs')
    .description('units at the workshop: each job’s step, promise, and what it waits for')
    .action(later(async () => (await import('../commands/jobs.js')).jobs));
  program
    .command('day')
    .description('the jobs for a day, in their order')
    .argument('[date]', 'the day (default: today)', dayArgument)
    .action(later(async () => (await import('../commands/jobs.js')).dayOf));
}
