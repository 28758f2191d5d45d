import { oneLine } from '../core/lines.js';
import type { InvitationContent, InvitedJob } from '../core/notices/kinds/invitation.js';
import { contactOf, type MailVoice, rendered, shortened, voiceOf } from './correspondent.js';
import type { Block, Rendered } from './letter.js';

/** A bike's name in a subject leaves room for the rest. */
const BIKE_SIGNS = 40;
const paragraph = (text: string): Block => ({ kind: 'paragraph', text });

/** Returns the mail that invites into a quiet week: for what, when, and how to ask for a day. */
export const renderInvitation = (of: InvitationContent): Rendered => {
  const { workshop, rider, today, week, before, jobs, freeDays, links } = of;
  const voice = voiceOf(rider.language);
  const { texts, words } = voice;
  const { invitation: says, reminder } = texts;
  const contact = contactOf(workshop, texts);
  const days = freeDays.map((day) => words.weekday(day, today));
  const [only] = jobs.length === 1 ? jobs : [];
  return rendered(workshop, voice, {
    subject: says.subject(shortened(oneLine(jobs[0]!.bike), BIKE_SIGNS)),
    blocks: [
      paragraph(texts.greeting(oneLine(rider.name))),
      paragraph(
        says.room(words.range(week.from, week.to, today), words.months([Number(before.slice(5, 7))])),
      ),
      ...(only ? oneJob(only, voice) : jobs.flatMap((job) => oneOfMany(job, voice))),
      ...(days.length === 0 ? [] : [{ kind: 'list', title: reminder.freeDays, items: days } as const]),
      ...(links === null
        ? [paragraph(texts.reminder.withoutLinks(contact))]
        : askLinks(jobs, voice, links.ownPage)),
      paragraph(says.noHurry),
    ],
    footnotes: links === null ? [texts.stopWithout(contact)] : [],
    stop: links === null ? null : { label: texts.stopLink, href: links.stopMails },
  });
};

const jobLine = (job: InvitedJob, { words, texts }: MailVoice): string =>
  texts.invitation.job(
    oneLine(job.bike),
    `${words.unitKind[job.unitKind]} ${oneLine(job.tag)}`,
    oneLine(words.serviceKind(job.serviceKind)),
  );

function rowsOf({ price, turnaround }: InvitedJob, { texts: { reminder } }: MailVoice): Block[] {
  const rows = [
    ...(price === null ? [] : [[reminder.price, oneLine(price)] as const]),
    ...(turnaround === null ? [] : [[reminder.turnaround, oneLine(turnaround)] as const]),
  ];
  return rows.length === 0 ? [] : [{ kind: 'rows', rows }];
}

const oneJob = (job: InvitedJob, voice: MailVoice): Block[] => [
  paragraph(jobLine(job, voice)),
  ...rowsOf(job, voice),
];

const oneOfMany = (job: InvitedJob, voice: MailVoice): Block[] => [
  { kind: 'heading', text: oneLine(job.bike) },
  ...oneJob(job, voice),
];

/** Of one unit its own page; of several the page with all of them. */
function askLinks(
  jobs: readonly InvitedJob[],
  { texts: { reminder, invitation } }: MailVoice,
  own: string,
): Block[] {
  const links = jobs.length === 1 ? jobs[0]!.links : null;
  if (links === null) return [{ kind: 'links', main: { label: invitation.ownPage, href: own }, others: [] }];
  return [
    {
      kind: 'links',
      main: { label: reminder.askForDay, href: links.askForDay },
      others: [{ label: reminder.later, href: links.later }],
    },
  ];
}
