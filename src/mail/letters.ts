import { oneLine } from '../core/lines.js';
import type { ConfirmContent } from '../core/notices/kinds/confirmAddress.js';
import type { SilenceContent } from '../core/notices/kinds/silence.js';
import type {
  BookedJob,
  BookedVisit,
  BookingContent,
  DayAskedContent,
  LinkContent,
  ReadyContent,
} from '../core/notices/mailContent.js';
import type { ServiceKind } from '../core/tokens.js';
import type { About } from '../languages/mailTexts.js';
import type { OutgoingMail } from '../ports/mailer.js';
import type { Day } from '../units.js';
import { type CalendarEntry, calendarAttachment } from './calendar.js';
import { contactOf, type MailVoice, ownLine, rendered, shortened, voiceOf } from './correspondent.js';
import type { Block, LetterLink, Rendered } from './letter.js';

const paragraph = (text: string): Block => ({ kind: 'paragraph', text });
const mainLink = (main: LetterLink): Block => ({ kind: 'links', main, others: [] });

/** Returns the mail that asks whether an address is the rider's; it holds no ride, bike or unit. */
export const renderConfirmAddress = ({ workshop, rider, link }: ConfirmContent): Rendered => {
  const voice = voiceOf(rider.language);
  const { confirm, greeting } = voice.texts;
  const name = oneLine(workshop.name);
  return rendered(workshop, voice, {
    subject: confirm.subject(name),
    blocks: [
      paragraph(greeting(oneLine(rider.name))),
      paragraph(confirm.why(name)),
      link === null
        ? paragraph(confirm.withoutLink(contactOf(workshop, voice.texts)))
        : mainLink({ label: confirm.link, href: link }),
      paragraph(confirm.otherwise),
    ],
  });
};

/** Returns the mail that asks whether the rider rests or the files have stopped coming. */
export const renderSilence = ({ workshop, rider, today, since, links }: SilenceContent): Rendered => {
  const voice = voiceOf(rider.language);
  const { texts, words } = voice;
  const [day, contact] = [words.day(since, today), contactOf(workshop, texts)];
  return rendered(workshop, voice, {
    subject: texts.silence.subject(day),
    blocks: [
      paragraph(texts.greeting(oneLine(rider.name))),
      paragraph(texts.silence.resting(day)),
      paragraph(texts.silence.stopped(contact)),
      ...(links?.handOver ? [mainLink({ label: texts.silence.link, href: links.handOver })] : []),
      paragraph(texts.silence.estimates),
    ],
    footnotes: links === null ? [texts.stopWithout(contact)] : [],
    stop: links === null ? null : { label: texts.stopLink, href: links.stopMails },
  });
};

/** Returns the mail about what became of a booking, with its calendar entry where there is one. */
export const renderBooking = (input: BookingContent): Rendered & Pick<OutgoingMail, 'attachments'> => {
  const { workshop, rider, today, change } = input;
  const voice = voiceOf(rider.language);
  const { texts, words } = voice;
  const about = aboutJob(input, voice);
  const day = words.weekday(input.day, today);
  const said = texts.booking.said[change](about, day);
  const entry = entryOf(input, said, voice);
  const letter = rendered(workshop, voice, {
    subject: texts.booking.subject[change](shortened(about.bike, 24), day),
    blocks: [
      paragraph(texts.greeting(oneLine(rider.name))),
      paragraph(said),
      ...alsoBlocks(input, voice),
      ...offeredBlocks(input, voice),
      ...changeLink(input, voice),
      ...(change === 'done' ? [] : [paragraph(texts.booking.change(contactOf(workshop, texts)))]),
      ...(entry?.method === 'PUBLISH' ? ownLine(workshop, 'booking') : []),
      ...(entry === null ? [] : [paragraph(texts.booking.calendar)]),
    ],
  });
  return entry === null ? letter : { ...letter, attachments: [calendarAttachment(entry)] };
};

const aboutJob = (job: BookedJob, { words }: MailVoice): About => ({
  bike: oneLine(job.bike),
  unit: `${words.unitKind[job.unitKind]} ${oneLine(job.tag)}`,
  job: oneLine(words.jobs([job.serviceKind, ...(job.beside ?? [])])),
  likely: null,
  reason: '',
});

/** Returns a visit in one line: the bike, and all its jobs. */
const visitSummary = (visit: BookedVisit, voice: MailVoice): string => {
  const jobs = [visit, ...visit.also].map((job) => aboutJob(job, voice).job);
  return `${oneLine(visit.bike)}: ${jobs.join(', ')}`;
};

/** A day that could not be given has no entry. */
const entryOf = (
  { change, calendar, organizer, workshop, day, ...job }: BookingContent,
  said: string,
  voice: MailVoice,
): CalendarEntry | null => {
  if (change === 'declined') return null;
  return {
    ...calendar,
    method: change === 'cancelled' || change === 'done' ? 'CANCEL' : 'PUBLISH',
    day,
    organizer,
    summary: visitSummary({ ...job, day }, voice),
    description: [said, workshop.name, workshop.phone ?? ''].filter((line) => line !== '').join('\n'),
    location: workshop.address,
  };
};

/** Other days, in place of the one that cannot be. */
const offeredBlocks = ({ offered, today }: BookingContent, { texts, words }: MailVoice): Block[] =>
  offered.length === 0
    ? []
    : [paragraph(texts.booking.offered(words.list(offered.map((day) => words.weekday(day, today)))))];

/** Where the day is changed or let go, or another one is chosen. */
const changeLink = ({ change, link }: BookingContent, { texts: { booking } }: MailVoice): Block[] => {
  if (link === null) return [];
  const isLetGo = change === 'cancelled' || change === 'declined';
  return [mainLink({ label: isLetGo ? booking.otherDay : booking.changeDay, href: link })];
};

/** What else of the bike comes on the same visit. */
const alsoBlocks = ({ also }: Pick<BookedVisit, 'also'>, voice: MailVoice): Block[] => {
  const jobs = also.map((one) => aboutJob(one, voice)).map(({ unit, job }) => `${unit}, ${job}`);
  return jobs.length === 0 ? [] : [paragraph(voice.texts.dayAsked.also(voice.words.list(jobs)))];
};

/** Returns the mail that tells the workshop that a rider lets go of a day. */
export const renderDayWithdrawn = (input: DayAskedContent): Rendered => {
  const { workshop, today, link, how = 'withdrawn' } = input;
  const voice = voiceOf(workshop.language);
  const { dayWithdrawn, dayAsked } = voice.texts;
  const [rider, day] = [oneLine(input.rider), voice.words.weekday(input.day, today)];
  return rendered(workshop, voice, {
    subject: dayWithdrawn.subject[how](rider, day),
    blocks: [
      paragraph(dayWithdrawn.said[how](aboutJob(input, voice), rider, day)),
      ...alsoBlocks(input, voice),
      ...(link === null ? [] : [mainLink({ label: dayAsked.link, href: link })]),
    ],
  });
};

/** Returns the mail that tells the workshop that a rider moved a day that was booked. */
export const renderDayMoved = (input: DayAskedContent): Rendered => {
  const { workshop, today, link } = input;
  const voice = voiceOf(workshop.language);
  const { dayMoved, dayAsked } = voice.texts;
  const weekday = (day: Day): string => voice.words.weekday(day, today);
  const [rider, was, day] = [oneLine(input.rider), weekday(input.was ?? input.day), weekday(input.day)];
  return rendered(workshop, voice, {
    subject: dayMoved.subject(rider, day),
    blocks: [
      paragraph(dayMoved.said(aboutJob(input, voice), rider, was, day)),
      ...alsoBlocks(input, voice),
      paragraph(dayMoved.holds),
      ...(link === null ? [] : [mainLink({ label: dayAsked.link, href: link })]),
    ],
  });
};

/** Returns the mail that tells the workshop of a day that a rider asks for. */
export const renderDayAsked = (input: DayAskedContent): Rendered => {
  const { workshop, today, link } = input;
  const voice = voiceOf(workshop.language);
  const { dayAsked } = voice.texts;
  const about = aboutJob(input, voice);
  const day = voice.words.weekday(input.day, today);
  return rendered(workshop, voice, {
    subject: dayAsked.subject(oneLine(input.rider), day),
    blocks: [
      paragraph(dayAsked.said(about, oneLine(input.rider), day)),
      ...alsoBlocks(input, voice),
      ...(input.wish === null ? [] : [paragraph(dayAsked.wishes(oneLine(input.wish)))]),
      paragraph(dayAsked.holds),
      ...(link === null ? [] : [mainLink({ label: dayAsked.link, href: link })]),
    ],
  });
};

/** Returns the mail that tells a rider that a unit can be collected, what was done and what comes next. */
export const renderReady = ({ workshop, rider, today, ...of }: ReadyContent): Rendered => {
  const voice = voiceOf(rider.language);
  const { texts, words } = voice;
  const { ready } = texts;
  const bike = oneLine(of.bike);
  const job = (kind: ServiceKind): string => oneLine(words.serviceKind(kind));
  return rendered(workshop, voice, {
    subject: ready.subject(shortened(bike, 40)),
    blocks: [
      paragraph(texts.greeting(oneLine(rider.name))),
      paragraph(ready.said(bike, `${words.unitKind[of.unitKind]} ${oneLine(of.tag)}`)),
      ...(of.did.length === 0 ? [] : [paragraph(ready.did(words.list(of.did.map(job))))]),
      ...(of.price === null ? [] : [paragraph(ready.price(oneLine(of.price)))]),
      ...(of.next === null
        ? []
        : [paragraph(ready.next(job(of.next.serviceKind), words.day(of.next.day, today)))]),
      ...ownLine(workshop, 'ready'),
      paragraph(ready.call(contactOf(workshop, texts))),
    ],
  });
};

/** Returns the mail that carries a link; it says nothing of whose or which bike its page is about. */
export const renderLink = ({ workshop, rider, link, why, ridesAddress }: LinkContent): Rendered => {
  const voice = voiceOf(rider.language);
  const { subject, said, label, otherwise } = voice.texts.link[why];
  return rendered(workshop, voice, {
    subject: subject(oneLine(workshop.name)),
    blocks: [
      paragraph(voice.texts.greeting(oneLine(rider.name))),
      paragraph(said),
      mainLink({ label, href: link }),
      ...(ridesAddress === null ? [] : [paragraph(voice.texts.filesTaken.address(ridesAddress))]),
      paragraph(otherwise),
    ],
  });
};
