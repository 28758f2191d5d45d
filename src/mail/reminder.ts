import { oneLine } from '../core/lines.js';
import type { ReminderBike, ReminderContent, ReminderItem } from '../core/notices/mailContent.js';
import type { Day } from '../units.js';
import { contactOf, type MailVoice, ownLine, rendered, shortened, voiceOf } from './correspondent.js';
import type { Block, Rendered } from './letter.js';
import {
  aboutItem,
  bikeRows,
  itemLine,
  itemLinks,
  itemRows,
  jobsList,
  jobText,
  typed,
} from './reminderItem.js';

const SHOWN = 3;
/** A bike's name in a subject leaves room for the job. */
const BIKE_SIGNS = 24;

const paragraph = (text: string): Block => ({ kind: 'paragraph', text });
const link = (label: string, href: string): Block => ({
  kind: 'links',
  main: null,
  others: [{ label, href }],
});

const itemsOf = ({ bikes }: ReminderContent): ReminderItem[] => bikes.flatMap(({ items }) => items);

const subjectOf = (input: ReminderContent, voice: MailVoice): string => {
  const [first, ...more] = itemsOf(input);
  if (first === undefined) throw new RangeError('A reminder needs at least one item.');
  const about = aboutItem(first, voice, input.today);
  const { reminder } = voice.texts;
  const subject = reminder.subject[first.state]({ ...about, bike: shortened(about.bike, BIKE_SIGNS) });
  return more.length === 0 ? subject : reminder.andMore(subject, more.length);
};

const inItsPlace = (item: ReminderItem, { words, texts }: MailVoice): string[] =>
  item.offered === item.serviceKind
    ? []
    : [
        texts.reminder.inItsPlace(
          typed(words.serviceKind(item.offered)),
          item.because && words.because(item.because),
        ),
      ];

/** A mail about one unit: why first, then what the job is, the figures, the days and the ways on. */
function oneItem(item: ReminderItem, { freeDays }: ReminderBike, voice: MailVoice, today: Day): Block[] {
  const { words, texts } = voice;
  const { reminder } = texts;
  const guess =
    item.noRidesSince === null ? [] : [reminder.noRidesSince(words.day(item.noRidesSince, today))];
  const notes = [...inItsPlace(item, voice), ...guess];
  const job = jobText(item, voice);
  const days = daysOf(freeDays, voice, today);
  return [
    paragraph(reminder.headline[item.state](aboutItem(item, voice, today))),
    ...(notes.length === 0 ? [] : [paragraph(notes.join(' '))]),
    ...(job === null ? [] : [paragraph(notes.length === 0 ? `${job} ${reminder.bring}` : job)]),
    itemRows(item, voice, today),
    ...(days.length === 0 ? [] : [{ kind: 'list', title: reminder.freeDays, items: days } as const]),
    ...itemLinks(item, voice),
  ];
}

const daysOf = (freeDays: readonly Day[], { words }: MailVoice, today: Day): string[] =>
  freeDays.slice(0, SHOWN).map((day) => words.weekday(day, today));

/** One of several: a line a unit, its figures below, and one visit for the bike. */
function bikeBlocks({ bike, items, freeDays }: ReminderBike, voice: MailVoice, today: Day): Block[] {
  const { reminder } = voice.texts;
  const days = daysOf(freeDays, voice, today);
  const ask = items[0]?.links?.askForDay;
  return [
    { kind: 'heading', text: typed(bike) },
    {
      kind: 'list',
      title: null,
      items: items.map((item, i) => {
        // Of several jobs that one larger takes the place of, the last says so.
        const isSaidLater = items
          .slice(i + 1)
          .some((one) => one.tag === item.tag && one.offered === item.offered);
        return [itemLine(item, voice, today), ...(isSaidLater ? [] : inItsPlace(item, voice))].join('. ');
      }),
    },
    ...bikeRows(items, voice),
    ...(days.length === 0 ? [] : [paragraph(`${reminder.freeDays}: ${voice.words.list(days)}`)]),
    ...(ask === undefined
      ? []
      : [{ kind: 'links', main: { label: reminder.askForDay, href: ask }, others: [] } as const]),
  ];
}

function whatBlocks(input: ReminderContent, voice: MailVoice): Block[] {
  const { bikes, today, links } = input;
  const [only, ...more] = itemsOf(input);
  if (only !== undefined && more.length === 0) return oneItem(only, bikes[0]!, voice, today);
  const { reminder } = voice.texts;
  return [
    ...bikes.flatMap((bike) => bikeBlocks(bike, voice, today)),
    ...(links === null ? [] : [link(reminder.somethingElse, links.ownPage)]),
  ];
}

const withoutLinks = (input: ReminderContent, { texts }: MailVoice): Block[] =>
  itemsOf(input).every((item) => item.links !== null)
    ? []
    : [paragraph(texts.reminder.withoutLinks(contactOf(input.workshop, texts)))];

/** What was advised of a unit and not wanted then, once a unit. */
const advisedBlocks = (input: ReminderContent, { words, texts: { reminder } }: MailVoice): Block[] => {
  const byTag = new Map(itemsOf(input).map(({ tag, advised = [] }) => [tag, advised]));
  return [...byTag].flatMap(([tag, advised]) =>
    advised.map(({ job, why, on }) => {
      const said = [typed(words.serviceKind(job)), words.day(on, input.today), typed(why)] as const;
      return paragraph(reminder.advised(typed(tag), ...said));
    }),
  );
};

/** Asks, with a mail that goes anyway, whether what was declared is still so. */
const stillSo = ({ bikes, links }: ReminderContent, { words, texts: { reminder } }: MailVoice): Block[] =>
  bikes.flatMap(({ bike, asked }) => {
    if (!asked) return [];
    const { hoursAWeek, ground, months } = asked;
    const said = [typed(bike), words.hours(hoursAWeek), words.ground[ground], words.months(months)] as const;
    const question = paragraph(reminder.stillSo(...said));
    return links === null ? [question] : [question, link(reminder.stillSoLink, links.ownPage)];
  });

const wrongBikeBlock = (links: ReminderContent['links'], { reminder }: MailVoice['texts']): Block =>
  links === null ? paragraph(reminder.wrongBikeWithout) : link(reminder.wrongBike, links.wrongBike);

const ridesBlocks = ({ lastRides, links, today }: ReminderContent, { words, texts }: MailVoice): Block[] => {
  const rides = lastRides.slice(0, SHOWN);
  const [bike, ...others] = new Set(rides.map((ride) => typed(ride.bike)));
  if (bike === undefined) return [];
  const isOne = others.length === 0;
  const lines = rides.map((ride) => {
    const day = words.day(ride.day, today);
    const line = texts.reminder.ride(
      isOne ? day : `${day}, ${typed(ride.bike)}`,
      words.hours(ride.movingHours),
      words.hours(ride.terrainHours),
      words.ground[ride.ground],
    );
    return ride.isByHand ? `${line} (${texts.reminder.byHand})` : line;
  });
  return [
    { kind: 'list', title: texts.reminder.lastRides(isOne ? bike : null), items: lines },
    wrongBikeBlock(links, texts),
  ];
};

/**
 * Returns the mail that tells a rider what falls due: at most 150 words before the cautions for one item.
 * Errors: RangeError without any item.
 */
export const renderReminder = (input: ReminderContent): Rendered => {
  const { workshop, rider, links } = input;
  const voice = voiceOf(rider.language);
  const { texts } = voice;
  const isOne = itemsOf(input).length === 1;
  return rendered(workshop, voice, {
    subject: subjectOf(input, voice),
    blocks: [
      paragraph(texts.greeting(oneLine(rider.name))),
      ...whatBlocks(input, voice),
      ...withoutLinks(input, voice),
      ...advisedBlocks(input, voice),
      ...stillSo(input, voice),
      ...ridesBlocks(input, voice),
      ...ownLine(workshop, 'reminder'),
      { kind: 'cautions', ...texts.cautions },
      ...(isOne ? [] : jobsList(itemsOf(input), voice)),
      ...(links === null || !isOne ? [] : [link(texts.reminder.ownPage, links.ownPage)]),
    ],
    footnotes: [
      texts.estimateNote,
      ...(links === null ? [texts.stopWithout(contactOf(workshop, texts))] : []),
    ],
    stop: links === null ? null : { label: texts.stopLink, href: links.stopMails },
  });
};
