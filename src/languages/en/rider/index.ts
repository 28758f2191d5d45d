import { home } from './home.js';
import { own } from './own.js';

/** How to reach the workshop from a page, to end a sentence. */
function reach(phone: string | null, email: string | null): string {
  if (phone === null) return email === null ? 'ask at the workshop' : `write to ${email}`;
  return email === null ? `phone ${phone}` : `phone ${phone} or write to ${email}`;
}

/** What the pages of riders say. */
export const rider = {
  reach,
  call: (phone: string | null, email: string | null) => `Please ${reach(phone, email)}.`,
  own,
  home,
  about: (bike: string, unit: string) => `${bike}, ${unit}`,
  back: 'You can close this page.',
  contact: 'The workshop',
  needDay: 'Choose a day from the list.',

  gone: {
    title: 'This link does not work',
    says: 'It may have been cut off by a mail program, meant for another page, or sent to an earlier address. Nothing was changed. Open the link in the mail again, or ask the workshop for a new one.',
  },
  tooMuch: {
    title: 'Too many tries',
    says: 'Nothing was changed. Please wait a quarter of an hour, then try again.',
  },
  broken: {
    title: 'That did not work',
    says: 'The fault is on our side. Nothing was changed. Please try again later.',
  },
  notYours: {
    title: 'No longer on this bike',
    says: 'As far as we know, this part is no longer on one of your bikes. There is nothing to do here.',
  },
  expired: {
    title: 'This link is too old',
    says: 'Links work for 60 days. We can send a fresh one to the address that we know.',
    submit: 'Send me a fresh link',
    sent: 'If the address still takes mail, a fresh link is on its way to it. Nothing else was changed.',
  },

  ask: {
    title: 'Ask for a day',
    lead: (job: string) => `Choose a day for the ${job}.`,
    which: 'Which job',
    larger: (job: string, because: string) =>
      `We suggest the ${job}: ${because}. You may choose the smaller job.`,
    along: (jobs: string) => `On the same day, where there is room: ${jobs}.`,
    stands: {
      asked: {
        says: (day: string) =>
          `You asked for ${day}. The place is held; the workshop will write to you when it is booked.`,
        other: 'Or choose another day instead.',
      },
      booked: {
        says: (day: string) => `${day} is booked.`,
        other:
          'Does it not suit you? Tap another day: it is booked in place of this one, and you get a mail for your calendar.',
      },
      passed: {
        says: (day: string) => `Your day was ${day}. Was the bike there?`,
        other:
          'If it was, there is nothing to do: the workshop enters what was done. If it was not, tap another day.',
      },
    },
    today: 'Your day is today. To change it, please call.',
    there: 'It is at the workshop already.',
    notThatDay: (day: string) => `The workshop could not take it on ${day}. These days have a place.`,
    moved: (day: string) =>
      `Thank you. ${day} is booked in place of the other day. The workshop hears of it.`,
    declined:
      'The workshop could not take this job on the day that was asked for. Choose another day, or call.',
    costs: (price: string) => `It costs ${price}.`,
    takes: (time: string) => `It takes ${time}.`,
    allDays: (count: number) => `All other free days (${count})`,
    none: 'No day is free in the next six weeks.',
    letGo: {
      asked: {
        lead: 'Or withdraw it: the workshop is told, and you can ask for another day at any time.',
        submit: 'Withdraw this day',
        done: 'Thank you. You no longer ask for that day, and its place is free again.',
      },
      booked: {
        lead: 'Or cancel the visit: the workshop is told at once, and you can ask for another day at any time.',
        submit: 'Cancel this day',
        done: 'Thank you. That day is cancelled, and its place is free again. The workshop is told.',
      },
      passed: {
        lead: 'Or say only that it was not there: the workshop is told, and you can ask for a day at any time.',
        submit: 'It was not there',
        done: 'Thank you. The workshop is told that it was not there.',
      },
    },
    another: 'Choose another day',
    notHeld: 'No day is held any more. Nothing was changed.',
    taken: 'That day has just been taken. Please choose another.',
    done: (day: string) =>
      `Thank you. You asked for ${day}, and the place is held. The workshop will write to you when it is booked.`,
  },
  done: {
    title: 'Already done',
    by: 'Who did it',
    claimed:
      'The workshop has to agree before its hours start again. Until then they run on, and the service is listed as what you said.',
    lead: 'When was it done, and what? Hours count from that day again.',
    day: 'Day',
    kind: 'What was done',
    homeKind: 'At home: what was done',
    submit: 'Enter this service',
    need: 'Choose the day on which it was done, not later than today.',
    said: (job: string, day: string) => `Thank you. We entered the ${job} of ${day}.`,
    twice: (job: string, day: string) =>
      `The ${job} of ${day} is already in the book. Nothing was changed. If it was another day or job, say which. You can take back what you said yourself under “What you said”.`,
    now: (terrain: string, moving: string) =>
      `Since then: ${terrain} terrain hours (an estimate), ${moving} moving hours.`,
  },
  later: {
    title: 'Later',
    lead: 'When shall we remind you? Hours still count, and the workshop still sees them.',
    weeks: (count: number, day: string) => `${count} weeks, until ${day}`,
    otherDay: 'Another day',
    submit: 'Remind me then',
    need: 'Choose a day within the next half year.',
    said: (day: string) => `Thank you. You will hear nothing about this before ${day}.`,
  },
  gonePart: {
    title: 'Sold or stored',
    lead: 'Then its hours stop here, and you get no more reminders about it.',
    sold: 'Sold',
    stored: 'Stored, it may come back',
    submit: 'Take it off the bike',
    need: 'Choose one of the two.',
    said: 'Thank you. It is off the bike from now on.',
  },
  bike: {
    title: 'Wrong bike?',
    lead: 'Choose the ride and the bike that it was on. Its hours move there. For an older ride than these, ask the workshop.',
    ride: 'Ride',
    bike: 'It was on',
    of: (day: string, hours: string, bike: string) => `${day}, ${hours}, counted for ${bike}`,
    noBike: 'no bike',
    onNone: 'none of my bikes',
    submit: 'Move this ride',
    none: 'There is no ride to move.',
    need: 'Choose one of the rides and one of the bikes.',
    said: (bike: string) => `Thank you. That ride now counts for ${bike}.`,
    saidNone: 'Thank you. That ride no longer counts. The workshop can undo that.',
  },
  stop: {
    title: 'Reminders',
    lead: 'These mails say when a service on your bike falls due.',
    submit: 'Stop these reminders',
    stopped: 'The reminders are stopped. Mails about a day that you booked still come.',
    again: 'Send me reminders again',
    on: 'You get reminders again.',
  },
  address: {
    title: 'Is this your address?',
    lead: (workshop: string) => `${workshop} would like to write to the address to which this link was sent.`,
    submit: 'Yes, this is my address',
    said: 'Thank you. The address is confirmed.',
    toOwnPage: 'Open your page',
    known: 'This address is confirmed already.',
  },
};
