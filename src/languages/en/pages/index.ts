import { bench, comebacks, kits } from './bench.js';
import { customer } from './customer.js';
import { due } from './due.js';
import { find } from './find.js';
import { inspect } from './inspect.js';
import { interval, intervals } from './intervals.js';
import { looks } from './looks.js';
import { mails } from './mails.js';
import { paper } from './paper.js';
import { photos } from './photos.js';
import { plan } from './plan.js';
import { benchYear, plot } from './plot.js';
import { hire, racing } from './racing.js';
import { ride } from './ride.js';
import { bike, declared, riders, sources, ways } from './riders.js';
import { settings } from './settings.js';
import { sheets } from './sheets.js';
import { first, signIn } from './signIn.js';
import { sorry } from './sorry.js';
import { team } from './team.js';
import { today } from './today.js';
import { tray } from './tray.js';
import { setUp, unit, units } from './unit.js';

export const pages = {
  ...today,
  declared,
  ways,
  comebacks,
  benchYear,
  kits,
  hire,
  team,
  skip: 'Skip to the content',
  pages: 'Pages',
  nav: {
    today: 'Today',
    tray: 'Tray',
    calls: 'Calls',
    mails: 'Mails',
    due: 'Due',
    load: 'Weeks and parts',
    findings: 'Findings',
    year: 'A year',
    intervals: 'Intervals',
    bookings: 'Bookings',
    bench: 'Bench',
    day: 'Jobs for the day',
    comebacks: 'Comebacks and claims',
    kits: 'Kits for home',
    riders: 'Riders',
    ways: 'Ways',
    units: 'Units',
    races: 'Races',
    fleets: 'Fleets',
    settings: 'Settings',
    fleet: 'Fleet',
    swap: 'Swap',
  },
  forExample: 'For example:',
  commandLine: 'command line',
  theRider: 'the rider',
  needDay: 'Choose a day, not later than today.',
  needWhy: 'Say why, in at most 300 characters.',
  changedBy: (who: string, time: string) =>
    `${who} has changed this (${time}). Your change was not saved. Open the page again to see what it says now.`,
  takenBackBy: (who: string, time: string) =>
    `${who} has taken this back (${time}). Your change was not saved. Open the page again to see what it says now.`,
  needLine: 'At most 300 characters, on one line.',
  signOut: 'Sign out',
  signOutEverywhere: 'Sign out on every device',
  foot: 'Hours are counted here; nobody has looked at the part, and nothing here certifies that it is safe.',
  caution: {
    title: 'Before anybody opens a unit',
    items: [
      'Do not ride: a crack, a bend, a loose crown or steerer, damage at the axle or an eyelet, sudden loss of damping or air, a unit that will not extend, a heavy leak near a brake.',
      'Have it checked soon, and in doubt do not ride: a scratch, a weep of oil, a new noise, small play.',
      'Let the pressure out first, slowly. A unit that stays compressed goes to a workshop unopened.',
      'Wear eye protection. Replace single-use washers. Keep oil off the brakes.',
      "Oil and torque by the maker's manual, with a torque wrench; the manual comes before any interval given here.",
      'When in doubt, ask a qualified technician.',
    ],
  },
  severityNote:
    'Terrain hours are moving hours, weighted by how hard the ground worked the suspension. That severity is an estimate, from the elevation in ride files.',
  signIn,
  first,
  bench,
  due,
  intervals,
  interval,
  units,
  unit,
  setUp,
  ride,
  photos,
  plan,
  racing,
  hoursPlot: plot,
  paper,
  settings,
  tray,
  riders,
  sources,
  bike,
  looks,
  inspect,
  sheets,
  customer,
  find,
  mails,
  sorry,
};
