import type { MailTexts } from '../mailTexts.js';

const aOrAn = (job: string): string => `${/^[aeiou]/.test(job) ? 'an' : 'a'} ${job}`;

export const mails: MailTexts = {
  greeting: (name) => (name === '' ? 'Hello,' : `Hello ${name},`),
  contact: (phone) => (phone === null ? 'reply to this mail' : `reply to this mail or phone ${phone}`),
  noReply: (phone) => (phone === null ? 'ask at the workshop' : `phone ${phone}`),
  phone: (phone) => `Phone ${phone}`,
  openingHours: (hours) => `Open ${hours}`,
  stopLink: 'Stop these reminders',
  stopWithout: (contact) => `To stop these reminders, ${contact}.`,
  estimateNote:
    'Terrain hours are moving hours, weighted by how hard the ground worked the suspension. That is an estimate, from the elevation in ride files.',
  cautions: {
    title: 'Before anybody opens a unit',
    items: [
      'Do not ride: a crack, a bend, a loose crown or steerer, damage at the axle or an eyelet, sudden loss of damping or air, a unit that will not extend, a heavy leak near a brake.',
      'Have it checked soon, and in doubt do not ride: a scratch, a weep of oil, a new noise, small play.',
      'Let the pressure out first, slowly. A unit that stays compressed goes to a workshop unopened.',
      'Wear eye protection. Replace single-use washers. Keep oil off the brakes.',
      "Oil and torque by the maker's manual, with a torque wrench; the manual comes before any interval given here.",
      'When in doubt, ask a qualified technician.',
      'Hours are counted here; nobody has looked at the part, and nothing here certifies that it is safe.',
    ],
  },

  reminder: {
    subject: {
      'history-unknown': ({ bike, unit }) => `${bike}: ${unit} history unknown`,
      'over-interval': ({ bike, job }) => `${bike}: ${job} overdue`,
      due: ({ bike, job }) => `${bike}: ${job} due`,
      'coming-up': ({ bike, job, likely }) => `${bike}: ${job} ${likely ?? 'coming up'}`,
    },
    andMore: (subject, more) => `${subject}, and ${more} more`,
    headline: {
      'history-unknown': ({ bike, unit, job }) =>
        `Nobody knows when the ${unit} on ${bike} was last opened. Please have that done: ${job}.`,
      'over-interval': ({ bike, unit, job, reason }) =>
        reason === ''
          ? `The ${unit} on ${bike} is overdue for its ${job}.`
          : `${reason}: the ${unit} on ${bike} is overdue for its ${job}.`,
      due: ({ bike, unit, job, reason }) =>
        reason === ''
          ? `The ${unit} on ${bike} is due for its ${job}.`
          : `${reason}: the ${unit} on ${bike} is due for its ${job}.`,
      'coming-up': ({ bike, unit, job, likely, reason }) => {
        if (reason !== '') return `${reason}: by then the ${unit} on ${bike} needs its ${job}.`;
        return likely === null
          ? `The ${unit} on ${bike} will soon need its ${job}.`
          : `The ${unit} on ${bike} will likely need its ${job} ${likely}.`;
      },
    },
    reason: {
      months: (months, since) => `${months} since ${since}`,
      monthsAhead: (months, since, day) => `${months} since ${since} are up on ${day}`,
      'terrain-hours': (used, limit) => `${used} of ${limit} (terrain hours)`,
      'moving-hours': (used, limit) => `${used} of ${limit} (moving hours)`,
    },
    jobs: {
      'lower-leg': 'Foam rings, wipers and bath oil are seen to, before dirty oil wears the stanchions.',
      damper: 'The damper is opened and gets fresh oil and seals: old oil damps less.',
      'air-sleeve': 'The air sleeve comes off, is cleaned, and gets fresh seals and grease.',
      'wipers-only': 'The wipers, which keep dirt out of the oil, are changed.',
      'air-spring':
        'The air spring is opened, cleaned and greased, so that it moves freely and holds its air.',
      'seal-repair': 'A seal that leaks is changed.',
      tune: 'The damper is tuned for its rider.',
      'travel-change': 'The travel is changed.',
      'bushing-resize': 'The bushings are brought back to size.',
      bushings: 'Bushings and mounts are looked at, and changed where they have play.',
      full: 'The whole unit is taken apart and cleaned, and gets fresh oil and seals.',
    },
    bring: 'Bring it clean.',
    theJobs: 'What is done',
    byHand: 'entered by hand',
    hoursOf: (terrain, moving) => `terrain ${terrain} (estimate), moving ${moving}`,
    somethingElse: 'Something else? Done already, later, sold or stored',
    inItsPlace: (job, because) =>
      `We suggest the ${job} instead${because === null ? ', due too' : `: ${because}`}.`,
    noRidesSince: (day) => `No rides since ${day}: a guess.`,
    terrainHours: 'Terrain hours (estimate)',
    movingHours: 'Moving hours',
    advised: (tag, job, day, why) => `On ${day} we advised ${aOrAn(job)} for ${tag}: ${why}`,
    declared: 'Declared by you',
    declaredAll: 'all of them; no ride file came',
    stillSo: (bike, hours, ground, months) =>
      `You told us about ${bike}: about ${hours} a week, mostly ${ground} ground, ${months}. Is that still right?`,
    stillSoLink: 'Say yes, or change it',
    ofInterval: (hours, interval) => `${hours} of ${interval}`,
    ofAtMost: (hours, ceiling) => `${hours} of at most ${ceiling}`,
    left: (hours) => `${hours} left`,
    over: (hours) => `${hours} over`,
    countedSince: 'Counted since',
    atMostMonths: (day, months) => `${day}; at most ${months}`,
    comesFirst: 'Comes first',
    limit: {
      'terrain-hours': 'terrain hours',
      'moving-hours': 'moving hours',
      months: 'months',
    },
    price: 'Price',
    turnaround: 'Takes',
    takes: (turnaround) => `takes ${turnaround}`,
    lastRides: (bike) => (bike === null ? 'Last rides' : `Last rides on ${bike}`),
    ride: (where, moving, terrain, ground) => `${where}: ${moving}, terrain ${terrain}, ${ground}`,
    ownPage: 'Your bikes and hours',
    wrongBike: 'Wrong bike?',
    wrongBikeWithout: 'Wrong bike? Tell us.',
    freeDays: 'Free days',
    askForDay: 'Ask for a day',
    alreadyDone: 'Already done',
    later: 'Later',
    soldOrStored: 'Sold or stored',
    withoutLinks: (contact) => `To book, or if done, sold or stored: ${contact}.`,
  },

  digest: {
    subject: (day) => `Services, ${day}`,
    newSince: (count, day) => (day === null ? count : `${count} since ${day}`),
    nothing: 'Nothing is due or coming up.',
    stopRiding: 'Stop riding: to be checked first',
    byDate: 'By date',
    columns: ['Likely', 'What'],
    now: 'now',
    noDate: 'no date',
    newMark: 'new',
    notOnABike: 'not on a bike',
    between: (from, to) => `${from} to ${to}`,
    hours: (terrain, moving) => `terrain ${terrain}, moving ${moving}`,
    declared: (hours) => `${hours} of it declared`,
    sinceItCame: (terrain, moving) => `terrain ${terrain}, moving ${moving} since it came`,
    reached: (what, day) => `${what} reached on ${day}`,
    monthsUp: (months, day) => `${months} up on ${day}`,
    comesFirst: (what) => `${what} first`,
    dateNote: 'The date may turn out early or late. The dates under it are its 80\u00a0% range.',
    toCall: 'Please call: mail does not reach them',
    openList: 'Open the list',
  },

  confirm: {
    subject: (workshop) => `${workshop}: is this address yours?`,
    why: (workshop) =>
      `${workshop} would like to write to this address when a service on your bike falls due. Please confirm that it is yours. Nothing else is sent until then.`,
    otherwise: 'If you did not expect this mail, do nothing: no other will follow.',
    link: 'Yes, this is my address',
    withoutLink: (contact) => `To confirm it, ${contact}.`,
  },

  silence: {
    subject: (day) => `No rides since ${day}: are you resting?`,
    resting: (day) =>
      `The last ride that reached us is from ${day}. If you are resting, there is nothing to do.`,
    stopped: (contact) =>
      `If you have been riding, your ride files no longer reach us. Please hand over the new ones, or ${contact}.`,
    estimates: 'Until rides come in again, the dates we give are guesses and say so.',
    link: 'Hand over ride files',
  },

  invitation: {
    subject: (bike) => `Room on our bench before the season: ${bike}`,
    room: (week, month) =>
      `Our bench has room in the week ${week}. A slot then spares you the queue that comes with ${month}.`,
    job: (bike, unit, job) => `${bike} (${unit}): ${job}, ready for the season.`,
    noHurry: 'This is an invitation. If it does not suit you, there is nothing to do.',
    ownPage: 'Choose a day on your page',
  },

  booking: {
    subject: {
      booked: (bike, day) => `Booked: ${bike}, ${day}`,
      moved: (bike, day) => `New day: ${bike}, ${day}`,
      cancelled: (bike, day) => `Cancelled: ${bike}, ${day}`,
      done: (bike, day) => `Done already: ${bike}, ${day} is free again`,
      declined: (bike, day) => `Not possible: ${bike}, ${day}`,
    },
    said: {
      booked: ({ bike, unit, job }, day) => `${bike} (${unit}) is booked for its ${job} on ${day}.`,
      moved: ({ bike, unit, job }, day) => `${bike} (${unit}) now comes for its ${job} on ${day}.`,
      cancelled: ({ bike, unit, job }, day) =>
        `${bike} (${unit}) is no longer booked for its ${job} on ${day}.`,
      done: ({ bike, unit, job }, day) =>
        `The ${job} of ${bike} (${unit}) is done already, so ${day} is no longer needed.`,
      declined: ({ bike, unit, job }, day) =>
        `You asked for ${day} for ${bike} (${unit}), ${job}. Sorry, that day is not possible.`,
    },
    offered: (days) => `Other free days: ${days}.`,
    change: (contact) => `If that does not suit you, ${contact}.`,
    changeDay: 'Change or cancel this day',
    otherDay: 'Choose another day',
    calendar: 'The attached file updates your calendar.',
  },

  dayAsked: {
    subject: (rider, day) => `${rider} asks for ${day}`,
    said: ({ bike, unit, job }, rider, day) => `${rider} asks for ${day}: ${bike} (${unit}), ${job}.`,
    also: (jobs) => `On the same visit: ${jobs}.`,
    wishes: (wish) => `The rider writes: “${wish}”`,
    holds:
      'The place is held until you book or decline. When you book, the rider gets a mail with a calendar entry.',
    link: 'Open the bookings',
  },

  dayWithdrawn: {
    subject: {
      withdrawn: (rider, day) => `${rider} no longer asks for ${day}`,
      cancelled: (rider, day) => `${rider} does not come on ${day}`,
      missed: (rider, day) => `${rider} did not come on ${day}`,
    },
    said: {
      withdrawn: ({ bike, unit, job }, rider, day) =>
        `${rider} no longer asks for ${day}: ${bike} (${unit}), ${job}. That place is free again.`,
      cancelled: ({ bike, unit, job }, rider, day) =>
        `${rider} does not come on ${day}: ${bike} (${unit}), ${job}. That place is free again.`,
      missed: ({ bike, unit, job }, rider, day) =>
        `${rider} says that it did not come on ${day}: ${bike} (${unit}), ${job}. The job is open again.`,
    },
  },

  dayMoved: {
    subject: (rider, day) => `${rider} moved a booked day to ${day}`,
    said: ({ bike, unit, job }, rider, was, day) =>
      `${rider} moved ${bike} (${unit}), ${job}, from ${was} to ${day}.`,
    holds:
      'It is booked: the bench has room that day. If it does not suit you, book another day; the rider gets a mail.',
  },

  ready: {
    subject: (bike) => `Ready to collect: ${bike}`,
    said: (bike, unit) => `${bike} (${unit}) is done and can be collected.`,
    did: (services) => `Done: ${services}.`,
    price: (price) => `Price as agreed: ${price}.`,
    next: (service, day) => `Next, as far as we know today: ${service}, likely ${day}.`,
    call: (contact) => `To say when it suits you, ${contact}.`,
  },

  jobQuestion: {
    subject: (bike) => `May we do more? ${bike}`,
    seen: (bike, unit, why) => `${bike} (${unit}) is open on our bench. What we saw: ${why}`,
    advise: (job) => `We advise ${aOrAn(job)}.`,
    adviseInstead: (job, from) => `We advise ${aOrAn(job)} in place of the ${from}.`,
    day: 'Ready by',
    waits: 'It waits for your answer: yes, or not now. With “not now” we do what you brought it for.',
    link: 'Answer',
    linkWithPhotos: 'See the photographs and answer',
    call: (contact) => `Or tell us: ${contact}.`,
  },

  found: {
    subject: (bike) => `Ready to collect, and what was found: ${bike}`,
    title: 'What was found',
    stop: 'Do not ride it before a qualified technician has seen this:',
    stopHow: (contact) => `Talk to us first: ${contact}.`,
    soon: 'Have this checked soon; in doubt do not ride:',
    soonHow: (contact) => `We say what to do about it: ${contact}.`,
    seen: 'Seen inside',
    sound: 'Nothing was seen that needs work soon.',
    hours: (terrain, moving) =>
      `That day it had run ${terrain} (terrain hours, an estimate; ${moving} moving) since the last such service.`,
    next: (service, when) => `Next, as far as we know today: ${service}, ${when}.`,
    parts: 'Parts and oil that went in',
    setUp: 'Set-up, as it was written down',
    left: 'Set-up as it left',
    link: 'See it all',
    linkWithPhotos: 'See it all, with photographs',
    later: 'Hand over your rides and we can say when the next service is likely.',
    stopLink: 'Stop these mails after a service',
    stopWithout: (contact) => `To stop these mails, or to ask something: ${contact}.`,
    stopPage: {
      says: 'After a service a mail says what was found. You can stop these mails. You still hear when the bike is ready.',
      submit: 'Stop these mails',
      stopped: 'These mails are stopped. You can still read what was found on your page.',
      again: 'Send them again',
      on: 'You get these mails again.',
    },
    print: 'To print it, use the print command of the browser.',
    done: (services, day) => `Done on ${day}: ${services}.`,
    price: (price) => `Price: ${price}.`,
    corrected: 'What the workshop corrects shows here at once.',
  },

  filesTaken: {
    subject: (rides) =>
      rides === 0 ? 'Your mail came in' : rides === 1 ? 'Your ride came in' : `Your ${rides} rides came in`,
    address: (address) => `You may also mail your ride files, to an address that is yours alone: ${address}`,
    empty: 'There was no ride file in your mail. Attach the ride file itself and send it again.',
    counted: (rides, moving) =>
      rides === 1 ? `One ride counts: ${moving} moving.` : `${rides} rides count: ${moving} moving.`,
    grew: 'Terrain hours (estimate) grew by:',
    asks: (rides) => (rides === 1 ? 'One ride needs an answer.' : `${rides} rides need an answer.`),
    answer: 'Answer',
    others: 'Other files',
    more: (files) => (files === 1 ? 'and one more' : `and ${files} more`),
    stopWithout: (contact) => `To stop these answers, or to ask something: ${contact}.`,
    stop: 'Stop these answers',
  },

  stopRiding: {
    subject: (bike, unit) => `Do not ride ${bike}: have its ${unit} checked`,
    said: (bike, unit) => `Please do not ride ${bike}. Its ${unit} has to be checked first.`,
    boxed: (unit) => `Please do not ride the ${unit}. It has to be checked first.`,
    why: (why) => `Why: ${why}`,
    call: (contact) => `Talk to us before anything else: ${contact}.`,
    phone: (phone) => `Call ${phone}`,
    forWorkshop: {
      subject: (whose, unit) => `Stop riding: ${whose}, ${unit}`,
      said: (whose, unit) => `${whose}: stop riding; have the ${unit} checked first.`,
      told: (rider, phone) =>
        phone === null
          ? `${rider} has no phone number here.`
          : `${rider}’s phone: ${phone}. They may not read the mail: call.`,
    },
  },

  feed: {
    title: (workshop) => `${workshop}: booked services`,
    askedFor: (summary) => `Asked for: ${summary}`,
  },

  link: {
    fresh: {
      subject: (workshop) => `${workshop}: a fresh link`,
      said: 'The link that was opened is too old. Here is a fresh link to the same page.',
      label: 'Open the page',
      otherwise: 'If you did not ask for it, do nothing.',
    },
    first: {
      subject: (workshop) => `${workshop}: your bikes and hours`,
      said: 'This is your own page. See your bikes, their hours and what falls due, send your ride files, and ask for a day.',
      label: 'Open your page',
      otherwise:
        'Anybody who has this link sees the same, so keep it to yourself. It works for 60 days. After that the page can send you a fresh one.',
    },
  },
};
