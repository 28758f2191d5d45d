import type { Question } from '../../../core/rides/ride.js';
import type { ToldOutcome } from '../../../core/tokens.js';

/** What a rider's own page says. */
export const own = {
  nav: { bikes: 'Bikes', rides: 'Rides', files: 'Send files', mails: 'Mails and data' },
  pages: 'Your pages',
  back: 'Back to your bikes',

  bikes: {
    title: 'Your bikes',
    lead: 'Hours since the last service, and when the next is likely.',
    none: 'The workshop knows no bike of yours yet. Please call it.',
    noUnit: 'No fork or shock is known on this bike.',
    questions: (count: number) =>
      count === 1
        ? 'One ride waits for an answer from you; until then it does not count.'
        : `${count} rides wait for an answer from you; until then they do not count.`,
    answer: 'Answer',
    next: 'Comes next',
    likely: 'Likely',
    unforeseen: 'cannot be foretold',
    reached: (day: string) => `reached ${day}`,
    terrain: 'Terrain hours (estimate)',
    moving: 'Moving hours',
    day: 'Day',
    asked: (day: string) => `${day}, asked for`,
    booked: (day: string) => `${day}, booked`,
    changeDay: 'Change or withdraw',
    stop: 'Do not ride it: it is marked to be stopped and seen.',
    unknown: 'Nobody knows when it was last opened: have that done.',
    ask: 'Ask for a day',
    done: 'Already done',
    more: 'Hours and services',
    moreOf: (unit: string) => `: ${unit}`,
    asOf: (day: string) => `As of ${day}.`,
  },

  unit: {
    stands: 'Where it stands',
    columns: {
      service: 'Service',
      state: 'State',
      likely: 'Likely',
      terrain: 'Terrain hours (estimate)',
      moving: 'Moving hours',
      say: 'What you can do',
    },
    later: 'Later',
    gone: 'Sold or stored',
    services: 'What was done',
    none: 'No service is known yet.',
    done: { day: 'Day', service: 'Service', where: 'Where' },
    here: 'at the workshop',
  },

  rides: {
    title: 'Your rides',
    asks: 'Please answer',
    latest: 'Latest rides',
    none: 'No ride has come in yet.',
    columns: { day: 'Day', bike: 'Bike', moving: 'Moving hours', terrain: 'Terrain hours (estimate)' },
    noBike: 'no bike',
    byHand: 'entered by hand',
    wrong: 'Wrong bike?',
    kept: 'Thank you. It is kept, and does not count as a ride.',
    counted: 'Thank you. It counts now.',
    indoors: 'Thank you. It is kept; ridden indoors, it adds no hours.',
    open: 'Thank you. There is one more question about it.',
    gone: 'That ride no longer waits for an answer.',
  },

  files: {
    title: 'Send ride files',
    lead: 'Choose as many as you like, or the whole zip that your recorder’s app exports. A ride counts once, however often it comes.',
    limits: (megabytes: number, files: number) =>
      `At most ${megabytes} MB and ${files} files at a time, and ${megabytes} MB a file. FIT and GPX, also as .gz or in a .zip.`,
    choose: 'Ride files',
    bike: 'Which bike',
    anyBike: 'find out by itself, or ask me',
    submit: 'Send',
    need: 'Choose at least one file.',
    tooMany: (files: number) => `At most ${files} files at a time. Nothing was taken.`,
    tooLarge: (megabytes: number) => `More than ${megabytes} MB came at once. Nothing was taken.`,
    fileTooLarge: (megabytes: number) =>
      `It has more than ${megabytes} MB. Unpack it and send what is in it, or ask the workshop.`,
    tooMuch: 'So much came in the last quarter of an hour that it has to wait. Please try again later.',
    notWhole: 'What was sent did not arrive whole. Nothing was taken; please send it again.',
    tooSlow:
      'It came too slowly, so it was given up. Nothing was taken; try again where the connection is better.',
    busy: 'Others are sending at this moment. Nothing was taken; try again in a minute.',
    sending: 'is being sent',
    progress: (sent: string, all: string) => `${sent} of ${all} sent`,
    broken: 'did not arrive; send it again',
    heading: 'What became of them',
    columns: { file: 'File', answer: 'Answer' },
    said: {
      counted: 'It counts.',
      'counted-already': 'It counted before; nothing was added.',
      indoors: 'It was ridden indoors: it wears no suspension, so no hours are added.',
      joined: 'Another recording of the same ride was there; together they count once.',
      ask: 'It waits for an answer.',
      'no-ride': 'It is no bike ride; nothing counts.',
      'set-aside': 'It could not be used.',
    } satisfies Record<ToldOutcome, string> as Record<ToldOutcome, string>,
    on: (day: string, moving: string, bike: string | null) =>
      bike === null ? `${day}, ${moving}.` : `${day}, ${moving}, on ${bike}.`,
    why: {
      'no-track': 'There is no track in it.',
      'other-sport': 'The recorder was set to another sport. If it was a bike ride, tell the workshop.',
      'not-an-activity': 'It holds settings or a plan, not a ride.',
      dismissed: 'Somebody said before that it is no ride.',
      'not-fit-or-gpx': 'It is neither FIT nor GPX. Export the ride as one of the two.',
      empty: 'It is empty. Export it again.',
      unreadable: 'It is damaged and could not be read. Export it again.',
      'too-large': 'It is larger than any ride.',
      'xml-entities': 'It is built in a way that no recorder uses, so it was not opened.',
      'archive-limits': 'The archive is too large to be opened. Unpack it and send fewer files.',
      'unsafe-path': 'Its name in the archive leads elsewhere, so it was not opened.',
      link: 'It is a link, not a file.',
      'cut-off': 'The file breaks off: what could be read of it counts.',
      checksum: 'The file is damaged: what could be read of it counts.',
    } as Readonly<Record<string, string>>,
    question: {
      'no-times': 'It has no times: say when it was ridden, and for how long.',
      'clock-unset': 'The recorder’s clock was not set: say when it started.',
      'clock-future': 'It lies in the future: say when it started.',
      'sport-unclear': 'Say whether it is a bike ride.',
      vehicle: 'Part of it looks like riding in a vehicle: say whether it was ridden.',
      who: 'The workshop has to say whose it is.',
      'which-bike': 'Say which bike it was on.',
      'same-ride-shifted':
        'The same track was recorded at another hour: say whether it is a ride of its own.',
      'same-ride-unclear': 'It overlaps with another ride: say whether it is a ride of its own.',
      'not-in-file': 'Read again, the file no longer holds it: say whether it took place.',
    } satisfies Record<Question, string> as Readonly<Record<string, string>>,
    toAnswer: 'Answer now',
    emptyArchive: 'There is no file in this archive.',
    noRides: (count: number) =>
      count === 1
        ? 'One file in it holds no ride in FIT or GPX and was left out.'
        : `${count} files in it hold no ride in FIT or GPX and were left out.`,
  },

  mails: {
    title: 'Mails and data',
    remindersTitle: 'Reminders',
    language: 'Language',
    languageLead: 'Of this page and of the mails to you.',
    saveLanguage: 'Save the language',
    languageSaved: 'Thank you. The language is saved.',
    dataTitle: 'Your data',
    dataLead: (months: number) =>
      `All that is held of you but the ride files themselves, as one file: address, bikes, rides, what was read from files, mails. It holds no positions. The ride files, which do hold where you rode, stay on the workshop’s machine for ${months === 1 ? 'a month' : `${months} months`} and no page shows them.`,
    export: 'Download my data',
    forgetTitle: 'Forget me',
    forgetLead: 'Your name, address and mails are deleted, and your ride files with them.',
    forgetLink: 'Forget me',
  },

  forget: {
    title: 'Forget me?',
    lead: 'This cannot be taken back.',
    items: [
      'Your name, address and phone number are deleted, and every mail to you.',
      'Your ride files and their names are deleted.',
      'Reminders and this page end.',
      'Forks and shocks keep their hours, without your name.',
      'A day that is booked stays with the workshop: call to cancel it.',
    ],
    sure: 'Yes, forget me for good',
    submit: 'Forget me',
    need: 'Tick the box first. Nothing was changed.',
    folder:
      'A folder of yours still lies on the workshop’s machine, and what is in it is yours to delete. Ask the workshop to take it away first. Nothing was changed.',
    doneTitle: 'You are forgotten',
    done: 'Your name, address, mails and ride files are deleted. Backups that the workshop made before still hold them, until it deletes those. This page no longer works.',
  },
};
