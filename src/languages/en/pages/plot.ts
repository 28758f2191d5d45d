/** What the picture of a unit's hours says. */
export const plot = {
  heading: 'Hours over time',
  title: (service: string, of: string) => `${service}: ${of} over time`,
  of: { terrain: 'terrain hours (estimate)', moving: 'moving hours' },
  now: (hours: string, limit: string | null) =>
    limit === null ? `Now at ${hours}.` : `Now at ${hours} of ${limit}.`,
  noService: 'No service is known yet.',
  services: (days: string) => `Services on ${days}.`,
  fan: (early: string, middle: string, late: string) =>
    `The interval is likely reached on ${middle}; 80\u00a0% range ${early} to ${late}.`,
  months: (day: string) => `Its months are up on ${day}.`,
  monthsUp: 'months up',
  across: 'day',
  legend: {
    hours: 'hours since the service',
    service: 'a service',
    interval: 'interval',
    fan: 'likely to be reached: 80\u00a0% range',
    middle: 'likely date (50\u00a0%)',
  },
};

/** What is compared before and since reminders began. */
const overIs = 'came in over their interval';
const darkIs = 'had dark foam rings';

/** Whether units come in better since the workshop reminds. */
export const benchYear = {
  title: 'A year of the bench',
  link: 'A year of the bench: do reminders work?',
  lead: 'What was serviced here, how many hours it had run, and whether that is better since reminders began.',
  nothing: 'No service is logged here yet. Log one at the bench, and it counts here.',
  question: 'Do reminders work?',
  notBegun: 'Reminders have not begun, or are paused. There is nothing to compare yet.',
  begun: (day: string) => `Reminders began on ${day}.`,
  measures: {
    dark: {
      rarer: (before: string, since: string) =>
        `Fewer units ${darkIs}: ${since} since then, ${before} before.`,
      'more-often': (before: string, since: string) =>
        `More units ${darkIs}: ${since} since then, ${before} before.`,
      undecided: (before: string, since: string) =>
        `Dark foam rings: too early to say. ${since} since then, ${before} before; the difference may be chance.`,
      tooFew: 'Dark foam rings: too few were looked at to compare.',
    },
    over: {
      rarer: (before: string, since: string) =>
        `Fewer units ${overIs}: ${since} since then, ${before} before.`,
      'more-often': (before: string, since: string) =>
        `More units ${overIs}: ${since} since then, ${before} before.`,
      undecided: (before: string, since: string) =>
        `Units over their interval: too early to say. ${since} since then, ${before} before; the difference may be chance.`,
      tooFew: 'Units over their interval: too few came in whose hours were counted.',
    },
  },
  change: (low: string, high: string) => `80\u00a0% range of the change: ${low} to ${high} points.`,
  missing: (before: number, since: number) => `Still missing: ${before} from before, ${since} since then.`,
  lateOnly: 'Those missing from before can only come from older services that are logged late.',
  notCome: (count: number) =>
    count === 1
      ? '1 unit is over its interval now and has not come in. It is not counted here.'
      : `${count} units are over their interval now and have not come in. They are not counted here.`,
  groups: {
    before: 'Before reminders began',
    since: 'Since reminders began',
    'up-already': 'Hours up when reminders began',
    'not-known': 'Last service not known',
  },
  columns: {
    group: 'Units serviced',
    visits: 'How many',
    middle: 'Interval used, typical',
    over: 'Over interval',
    dark: 'Dark rings',
  },
  of: (hits: string, of: string) => `${hits} of ${of}`,
  how: [
    'A unit counts once a day. Where a service restarts several hours, the one that had used most of its interval counts. The intervals set today are used for before and since.',
    'Units whose hours were already up when reminders began are listed apart: no reminder could help them. So are units whose last service nobody knew.',
    'Two times are compared, and that proves no cause: riders, seasons and how closely somebody looks change too.',
  ],
  shares: {
    title: 'Before and since reminders began',
    axis: 'share of units',
    dark: 'dark rings',
    over: 'over interval',
    before: 'before',
    since: 'since',
    says: (what: string, when: string, share: string, low: string, high: string) =>
      `${what}, ${when}: ${share}, between ${low} and ${high}.`,
    legend: { share: 'share seen', range: '80\u00a0% range' },
  },
  used: {
    title: 'How much of its interval each unit had used',
    axis: 'interval used',
    across: 'day of the service',
    says: (count: string, over: string) =>
      `${count} dots, each a unit on the day of its service; ${over} of them over the interval.`,
    began: 'reminders began',
    legend: {
      dark: 'rings dark',
      other: 'rings not dark, or not looked at',
      whole: 'the whole interval',
      over: 'over interval from here on',
    },
    further: (count: number) => `at the top edge, ${count} further up`,
  },
  months: {
    title: 'Units serviced, month by month',
    axis: 'units',
    across: 'month',
    month: (name: string, visits: string, over: string) => `${name}: ${visits}, over interval ${over}.`,
    legend: { visits: 'units serviced', over: 'of them over their interval' },
  },
  file: 'All of it as a file (CSV)',
};
