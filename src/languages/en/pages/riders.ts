import { ownPage } from './ownPage.js';

/** What the pages of riders and bikes say. */
export const riders = {
  ownPage,
  title: 'Riders and bikes',
  lead: 'Whose bikes carry which units, and who may be written to.',
  columns: { rider: 'Rider', bikes: 'Bikes and units', address: 'Address', language: 'Language' },
  address: {
    confirmed: 'confirmed',
    unconfirmed: 'not confirmed yet: asked by mail before anything else',
    none: 'none: tell this rider by phone',
    refused: 'takes no mail: call this rider',
  },
  stopped: 'asked for no reminders',
  noBike: 'no bike',
  noUnit: 'no unit',
  loose: 'Bikes without a rider',
  looseLead: 'Hire, loan and race bikes: hours are counted, and no mail goes to a rider.',
  bike: 'Bike',
  units: 'Units',
  nothing: 'There are no riders yet. Add the first one.',
};

export const sources = {
  title: 'Where the hours come from',
  hours: (moving: string, terrain: string) => `moving ${moving}, terrain ${terrain}`,
  cameWith: 'Known when the unit came',
  estimate: 'an estimate, from the share that somebody gave',
  all: 'All together',
};

export const bike = {
  type: 'Type',
  unitsTitle: 'Units on it',
  noUnits: 'No unit is on this bike.',
  ridesTitle: 'Latest rides',
  noRides: 'No ride on this bike counts yet.',
  columns: { day: 'Day', moving: 'Moving hours', terrain: 'Terrain hours', rule: 'How the bike was found' },
  hoursTitle: 'Riding without a recorder',
  hoursLead: 'Hours entered here count like recorded ones, and are labelled.',
  on: 'Day',
  minutes: 'Minutes ridden',
  ground: 'Ground',
  note: 'Note',
  add: 'Add these hours',
  added: 'The hours are added.',
  addedToNone:
    'The hours are added. No unit was on this bike at the start of that day, so they count for none until one is said to have been.',
  shareTitle: 'Riding that nobody recorded',
  shareLead:
    'How much of all riding on this bike is not in any file? One ride in ten is 10 %. It is counted as an estimate, on a line of its own. The odometer of an e-bike is the best guide.',
  share: 'Percent of all riding',
  shareFrom: 'From the start of',
  shareTo: 'Until the start of',
  shareToHint: 'Leave it empty when it goes on like this.',
  shareAdd: 'Add this estimate',
  shareAdded: 'The estimate is added.',
  waiting: (rides: string) => `Not counted yet, for it waits in the tray: ${rides}.`,
  waitingForOwner: (rides: string) =>
    `Not counted yet; the owner or a technician has to answer first: ${rides}.`,
  shareNeed: 'Give percent of all riding, more than 0 and at most 90.',
  shareSaid: (percent: string, from: string, to: string) => `${percent} % from ${from} to ${to}`,
  shareSince: (percent: string, from: string) => `${percent} % from ${from} on`,
};

/** Riding that nobody records, as its rider tells it. */
export const declared = {
  title: 'No recorder? About so many hours a week',
  lead: 'For a bike whose rides come in no file. The hours are spread evenly over the days, count until the first ride file, and are marked as declared wherever they stand. They are a guess, so we ask again every three months.',
  hours: 'Hours a week, about',
  ground: 'Mostly on ground that is',
  when: 'When',
  these: 'these months',
  months: 'Months, as numbers',
  monthsHint: 'Only for “these months”: 4-10 is April to October.',
  from: 'Since',
  save: 'Count these hours',
  saved: 'Thank you. The hours are counted, and marked as declared.',
  said: (hours: string, ground: string, months: string) =>
    `about ${hours} a week, mostly ${ground} ground, ${months}`,
  since: (said: string, from: string) => `${said}, since ${from}`,
  sinceTo: (said: string, from: string, to: string) => `${said}, from ${from} until ${to}`,
  filesTell: 'Ride files tell of this bike now, so nothing declared is added to them.',
  still: (said: string) => `You told us: ${said}. Is it still so?`,
  yes: 'Yes, still so',
  no: 'No, it is different now',
  thanks: 'Thank you. We ask again in three months.',
  part: (hours: string) => `${hours} of it declared`,
  all: 'declared, not recorded',
  guess: 'as its rider told it, a guess',
  need: 'Write the hours a week as a number, more than 0 and at most 60, and a day that has come. Nothing was saved.',
  needMonths: 'Write the months as numbers from 1 to 12, such as 4-10. Nothing was saved.',
};
