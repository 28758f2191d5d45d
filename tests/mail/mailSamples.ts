/** Invented people, bikes and hours: they show how mails are written, and prove nothing about hours. */

import type { StopContent } from '../../src/core/notices/kinds/stopRiding.js';
import type {
  DigestContent,
  DigestRow,
  MailContents,
  ReminderContent,
  ReminderItem,
} from '../../src/core/notices/mailContent.js';
import type { MailKind } from '../../src/core/notices/notice/notice.js';
import { BOOKING_CHANGES, DAYS_LET_GO } from '../../src/core/tokens.js';

import type { OutgoingMail } from '../../src/ports/mailer.js';
import { day, instant } from '../../src/units.js';

export const today = day('2025-05-27');

export const workshop = {
  name: 'Invented Bench & Sons',
  phone: '+000 555 0100',
  address: '1 Nowhere Lane\n00000 Notatown',
  openingHours: 'Tuesday to Saturday, 10 to 18',
};

const page = 'https://bench.example.org/r';

export const item: ReminderItem = {
  bike: 'Moss Hopper',
  tag: 'F-0412',
  unitKind: 'fork',
  model: 'Nonesuch 140',
  serviceKind: 'lower-leg',
  offered: 'lower-leg',
  because: null,
  state: 'coming-up',
  movingHours: 36.24,
  terrainHours: 41.31,
  interval: { terrainHours: 50, months: 12, movingHoursCeiling: 75, rule: 'kind' },
  since: day('2024-10-03'),
  monthsEnd: day('2025-10-03'),
  limit: 'terrain-hours',
  hoursLeft: 8.69,
  about: { from: day('2025-06-12'), to: day('2025-06-20') },
  noRidesSince: null,
  price: '60 crowns with parts',
  turnaround: 'two working days',
  links: {
    askForDay: `${page}/ask/aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa`,
    alreadyDone: `${page}/done/bbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbb`,
    later: `${page}/later/cccccccccccccccccccccccccccccccccccccc`,
    soldOrStored: `${page}/gone/dddddddddddddddddddddddddddddddddd`,
  },
};

export const reminder: ReminderContent = {
  workshop,
  rider: { name: 'Ada Madeup', language: 'en' },
  today,
  bikes: [
    {
      bike: 'Moss Hopper',
      items: [item],
      freeDays: [day('2025-06-10'), day('2025-06-11'), day('2025-06-13')],
    },
  ],
  lastRides: [
    {
      day: day('2025-05-25'),
      bike: 'Moss Hopper',
      movingHours: 2.1,
      terrainHours: 3.4,
      ground: 'rough',
      isByHand: false,
    },
    {
      day: day('2025-05-18'),
      bike: 'Moss Hopper',
      movingHours: 1.6,
      terrainHours: 1.7,
      ground: 'typical',
      isByHand: false,
    },
    {
      day: day('2025-05-11'),
      bike: 'Moss Hopper',
      movingHours: 3,
      terrainHours: 2.2,
      ground: 'smooth',
      isByHand: false,
    },
  ],
  links: {
    wrongBike: `${page}/bike/eeeeeeeeeeeeeeeeeeeeee`,
    stopMails: `${page}/stop/ffffffffffffffff`,
    ownPage: `${page}/page/gggggggggggggggg`,
  },
};

export const withoutLinks: ReminderContent = {
  ...reminder,
  bikes: [{ ...reminder.bikes[0]!, items: [{ ...item, links: null }] }],
  links: null,
};

export const inPortuguese = (input: ReminderContent): ReminderContent => ({
  ...input,
  rider: { ...input.rider, language: 'pt-PT' },
});

const row: DigestRow = {
  rider: 'Ada Madeup',
  bike: 'Moss Hopper',
  tag: 'F-0412',
  unitKind: 'fork',
  serviceKind: 'lower-leg',
  state: 'coming-up',
  movingHours: 36.24,
  terrainHours: 41.31,
  interval: item.interval,
  likely: { p10: day('2025-06-05'), p50: day('2025-06-16'), p90: day('2025-08-20') },
  limit: 'terrain-hours',
  monthsEnd: day('2025-10-03'),
  isNew: true,
};
const never = { p10: null, p50: null, p90: null };

export const digest: DigestContent = {
  workshop: { ...workshop, language: 'en' },
  today,
  lastDigest: day('2025-05-24'),
  rows: [
    row,
    {
      ...row,
      tag: 'F-0007',
      rider: 'Odo Fiction',
      bike: 'Brine',
      state: 'history-unknown',
      likely: never,
      isNew: false,
    },
    {
      ...row,
      tag: 'S-0031',
      rider: 'Una Invention',
      bike: 'Gorse',
      unitKind: 'air-shock',
      serviceKind: 'air-sleeve',
      state: 'due',
      terrainHours: 50.2,
      movingHours: 47,
    },
    { ...row, tag: 'F-0099', rider: null, bike: 'Hire 7', state: 'stop-riding', isNew: true },
    {
      ...row,
      tag: 'S-0008',
      rider: 'Bo Pretend',
      bike: 'Slate',
      unitKind: 'coil-shock',
      serviceKind: 'full',
      state: 'over-interval',
      terrainHours: 261,
      movingHours: 190,
      interval: { terrainHours: 200, months: 12, movingHoursCeiling: 300, rule: 'kind' },
      isNew: false,
    },
    {
      ...row,
      tag: 'F-0002',
      rider: 'Cy Figment',
      bike: 'Fern',
      serviceKind: 'wipers only',
      likely: { p10: day('2025-06-01'), p50: day('2025-06-03'), p90: day('2025-06-09') },
      isNew: false,
    },
  ],
  trayCount: 5,
  toCall: [
    {
      rider: 'Dot Nobody',
      phone: '+000 555 0177',
      unit: 'F-0055',
      serviceKind: 'lower-leg',
      state: 'due',
      reason: 'refused',
    },
  ],
  link: 'https://bench.example.org/list',
};

export const outgoing: OutgoingMail = {
  messageId: '<7f0e2c1a-0000-4000-8000-0123456789ab@bench.example.org>',
  date: instant(Date.UTC(2025, 4, 27, 8, 0, 0)),
  from: { name: workshop.name, address: 'bench@example.org' },
  replyTo: { name: workshop.name, address: 'counter@example.org' },
  to: { name: 'Ada Madeup', address: 'ada@example.org' },
  subject: 'Moss Hopper: lower-leg service due',
  text: 'Hello Ada Madeup,\n',
  html: '<p>Hello Ada Madeup,</p>',
  headers: { 'Auto-Submitted': 'auto-generated' },
};

/** Three units of two bikes, one of them of an unknown history. */
export const several: ReminderContent = {
  ...reminder,
  bikes: [
    {
      bike: 'Moss Hopper',
      items: [
        { ...item, state: 'over-interval', terrainHours: 66, hoursLeft: -16 },
        {
          ...item,
          tag: 'S-0031',
          unitKind: 'air-shock',
          serviceKind: 'full',
          offered: 'full',
          state: 'history-unknown',
          terrainHours: 0,
          movingHours: 0,
          hoursLeft: null,
          limit: 'none',
        },
      ],
      freeDays: reminder.bikes[0]!.freeDays,
    },
    {
      bike: 'Brine',
      items: [
        {
          ...item,
          bike: 'Brine',
          tag: 'F-0007',
          state: 'due',
          limit: 'months',
          since: day('2024-05-20'),
          monthsEnd: day('2025-05-20'),
          terrainHours: 18,
          movingHours: 20,
          hoursLeft: 32,
        },
      ],
      freeDays: [day('2025-06-12')],
    },
  ],
};

export const stopped: StopContent = {
  workshop: { ...workshop, language: 'en' },
  rider: reminder.rider,
  units: [
    {
      bike: 'Moss Hopper',
      tag: 'F-0412',
      unitKind: 'fork',
      model: 'Nonesuch 140',
      why: 'a crack at the crown, seen at the race',
      rider: { name: 'Ada Madeup', phone: '+000 555 0199' },
    },
  ],
};

/** Every mail in a language; a kind that is missing does not compile. */
export const contentsIn = (language: string): { readonly [K in MailKind]: readonly MailContents[K][] } => {
  const rider = { name: 'Ada Madeup', language };
  const frame = { workshop, rider, today };
  const ours = { ...workshop, language };
  const link = `${page}/gggggggggggggggggggg`;
  const job = {
    bike: 'Moss Hopper',
    tag: 'F-0412',
    unitKind: 'fork',
    serviceKind: 'lower-leg',
    day: today,
  } as const;
  const calendar = { uid: '7f0e2c1a-0000-4000-8000-0123456789ab', sequence: 1, stamp: outgoing.date };
  const all = (['over-interval', 'due', 'coming-up', 'history-unknown'] as const).map((state) => ({
    ...item,
    state,
  }));
  return {
    reminder: [
      { ...reminder, rider, bikes: [{ ...reminder.bikes[0]!, items: all }] },
      ...all.map((one) => ({ ...reminder, rider, bikes: [{ ...reminder.bikes[0]!, items: [one] }] })),
      { ...withoutLinks, rider },
    ],
    'stop-riding': [
      { ...stopped, workshop: ours, rider },
      { ...stopped, workshop: ours, rider: null },
    ],
    digest: [
      { ...digest, workshop: ours },
      { ...digest, workshop: ours, rows: [], toCall: [], link: null },
    ],
    'confirm-address': [
      { ...frame, link },
      { ...frame, link: null },
    ],
    silence: [{ ...frame, since: today, links: null }],
    invitation: [
      {
        ...frame,
        ...{ week: { from: today, to: today }, before: day('2027-04-01'), freeDays: [today] },
        jobs: [{ ...job, price: '95 €', turnaround: '2 days', links: { askForDay: link, later: link } }],
        links: { ownPage: link, stopMails: link },
      },
      {
        ...frame,
        ...{ week: { from: today, to: today }, before: day('2027-10-01'), freeDays: [] },
        jobs: [
          { ...job, price: null, turnaround: null, links: null },
          {
            ...job,
            tag: 'S-0007',
            unitKind: 'air-shock',
            serviceKind: 'air-sleeve',
            price: null,
            turnaround: null,
            links: null,
          },
        ],
        links: null,
      },
    ],
    'files-taken': [
      {
        ...frame,
        ...{ rides: 3, movingHours: 6.2, gains: [{ tag: 'F-0412', terrainHours: 5.1 }], asks: 1 },
        others: [
          { file: 'sunday.fit', told: { outcome: 'counted-already', code: null } },
          { file: 'plan.fit', told: { outcome: 'no-ride', code: 'not-an-activity' } },
        ],
        ...{ more: 2, isEmpty: false, links: { ownPage: link, stopMails: link } },
      },
      {
        ...frame,
        ...{ rides: 0, movingHours: 0, gains: [], asks: 0, others: [], more: 0, isEmpty: true, links: null },
      },
    ],
    'service-told': [
      {
        ...frame,
        ...{ bike: job.bike, tag: 'F-0412', unitKind: 'fork', did: ['lower-leg'], price: '95 €', photos: 2 },
        left: { pressure: '78 psi', rebound: '8' },
        matters: { stop: [['crown', 'creaks']], soon: [['stanchions', 'scratched']] },
        found: [
          ['foamRings', 'dark'],
          ['oil', 'brown'],
        ],
        hours: { terrainHours: 61.4, movingHours: 55.2 },
        next: { serviceKind: 'lower-leg', from: today, to: today },
        links: { page: link, stopMails: link },
      },
      {
        ...frame,
        ...{ bike: job.bike, tag: 'F-0412', unitKind: 'fork', did: ['full'], price: null, photos: 0 },
        left: null,
        ...{ matters: { stop: [], soon: [] }, found: [], hours: null, next: null, links: null },
      },
    ],
    'job-question': [
      {
        ...frame,
        ...{ bike: job.bike, tag: 'F-0412', unitKind: 'fork', from: 'lower-leg', to: 'full' },
        ...{
          why: 'The rings are dark and there is water inside.',
          price: '190 €',
          day: today,
          photos: 1,
          link,
        },
      },
      {
        ...frame,
        ...{ bike: job.bike, tag: 'F-0412', unitKind: 'fork', from: null, to: 'damper', why: 'It leaks.' },
        ...{ price: null, day: null, photos: 0, link: null },
      },
    ],
    booking: BOOKING_CHANGES.map((change) => ({
      ...frame,
      ...job,
      change,
      calendar,
      organizer: outgoing.from,
      also: [{ ...job, tag: 'S-0031' }],
      offered: change === 'declined' ? [today] : [],
      link: change === 'done' ? null : link,
    })),
    'fresh-link': [{ ...frame, link, why: 'fresh', ridesAddress: null }],
    'own-page': [{ ...frame, link, why: 'first', ridesAddress: 'rides+abc-0123@bench.example.org' }],
    'day-asked': [
      {
        ...{
          workshop: ours,
          today,
          rider: 'Ada Madeup',
          link,
          wish: 'Please not before ten, and look at the creak.',
          ...job,
        },
        also: [{ ...job, tag: 'S-0031' }],
      },
    ],
    ready: [
      {
        ...frame,
        bike: job.bike,
        tag: job.tag,
        unitKind: job.unitKind,
        did: ['lower-leg'],
        price: '95',
        next: { serviceKind: 'full', day: today },
      },
      { ...frame, bike: job.bike, tag: job.tag, unitKind: job.unitKind, did: [], price: null, next: null },
    ],
    'day-withdrawn': DAYS_LET_GO.map((how) => ({
      ...{ workshop: ours, today, rider: 'Ada Madeup', link, wish: null, also: [], how, ...job },
    })),
    'day-moved': [
      {
        ...{ workshop: ours, today, rider: 'Ada Madeup', link, wish: null, also: [], ...job },
        was: day('2025-05-20'),
      },
    ],
  };
};
