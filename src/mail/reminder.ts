import { oneLine } from '../core/lines.js';
import type { ReminderContent, ReminderItem } from '../core/notices/mailContent.js';
import type { Day } from '../units.js';
import { contactOf, rendered, shortened, type Voice, voiceOf } from './correspondent.js';
import type { Block, Rendered } from './letter.js';
import { aboutItem, itemLinks, itemRows, typed } from './reminderItem.js';

const SHOWN = 3;
/** A bike's name in a subject leaves room for the job. */
const BIKE_SIGNS = 24;

const subjectOf = (items: readonly ReminderItem[], voice: Voice, today: Day): string => {
  const [first] = items;
  if (first === undefined) throw new RangeError('A reminder needs at least one item.');
  const about = aboutItem(first, voice, today);
  const { reminder } = voice.texts;
  const subject = reminder.subject[first.state]({ ...about, bike: shortened(about.bike, BIKE_SIGNS) });
  return items.length === 1 ? subject : reminder.andMore(subject, items.length - 1);
};

const itemBlocks = (item: ReminderItem, voice: Voice, today: Day): Block[] => {
  const { texts, words } = voice;
  const headline = texts.reminder.headline[item.state](aboutItem(item, voice, today));
  const offer = item.offered === item.serviceKind ? null : typed(words.serviceKind(item.offered));
  const notes = [
    ...(offer === null ? [] : [texts.reminder.inItsPlace(offer)]),
    ...(item.noRidesSince === null ? [] : [texts.reminder.noRidesSince(words.day(item.noRidesSince, today))]),
  ];
  return [
    item.state === 'stop-riding'
      ? { kind: 'warning', text: headline, items: [] }
      : { kind: 'paragraph', text: headline },
    ...(notes.length === 0 ? [] : [{ kind: 'paragraph', text: notes.join(' ') } as const]),
    itemRows(item, voice, today),
  ];
};

const itemsBlocks = ({ items, today }: ReminderContent, voice: Voice): Block[] =>
  items.flatMap((item) => [
    ...(items.length === 1
      ? []
      : [{ kind: 'heading', text: `${typed(item.bike)}, ${voice.words.unitKind[item.unitKind]}` } as const]),
    ...itemBlocks(item, voice, today),
    ...(items.length === 1 ? [] : itemLinks(item, voice)),
  ]);

const daysBlocks = ({ freeDays, today }: ReminderContent, { words, texts }: Voice): Block[] => {
  const days = freeDays.slice(0, SHOWN).map((day) => words.weekday(day, today));
  return days.length === 0 ? [] : [{ kind: 'list', title: texts.reminder.freeDays, items: days }];
};

const ownPageBlock = (href: string, { reminder }: Voice['texts']): Block => ({
  kind: 'links',
  main: null,
  others: [{ label: reminder.ownPage, href }],
});

const wrongBikeBlock = (links: ReminderContent['links'], { reminder }: Voice['texts']): Block =>
  links === null
    ? { kind: 'paragraph', text: reminder.wrongBikeWithout }
    : { kind: 'links', main: null, others: [{ label: reminder.wrongBike, href: links.wrongBike }] };

const ridesBlocks = ({ lastRides, links, today }: ReminderContent, { words, texts }: Voice): Block[] => {
  const rides = lastRides.slice(0, SHOWN);
  const [bike, ...others] = new Set(rides.map((ride) => typed(ride.bike)));
  if (bike === undefined) return [];
  const isOne = others.length === 0;
  const lines = rides.map((ride) => {
    const day = words.day(ride.day, today);
    return texts.reminder.ride(
      isOne ? day : `${day}, ${typed(ride.bike)}`,
      words.hours(ride.movingHours),
      words.hours(ride.terrainHours),
      words.ground[ride.ground],
    );
  });
  return [
    { kind: 'list', title: texts.reminder.lastRides(isOne ? bike : null), items: lines },
    wrongBikeBlock(links, texts),
  ];
};

const actionBlocks = ({ items, workshop }: ReminderContent, voice: Voice): Block[] => {
  const [only] = items;
  const hasAllLinks = items.every((item) => item.links !== null);
  return [
    ...(items.length === 1 && only !== undefined ? itemLinks(only, voice) : []),
    ...(hasAllLinks
      ? []
      : [
          {
            kind: 'paragraph',
            text: voice.texts.reminder.withoutLinks(contactOf(workshop, voice.texts)),
          } as const,
        ]),
  ];
};

/**
 * Returns the mail that tells a rider what falls due: at most 150 words before the cautions for one item.
 * Errors: RangeError without any item.
 */
export const renderReminder = (input: ReminderContent): Rendered => {
  const { workshop, rider, links, today } = input;
  const voice = voiceOf(rider.language);
  const { texts } = voice;
  return rendered(workshop, voice, {
    subject: subjectOf(input.items, voice, today),
    blocks: [
      { kind: 'paragraph', text: texts.greeting(oneLine(rider.name)) },
      ...itemsBlocks(input, voice),
      ...daysBlocks(input, voice),
      ...actionBlocks(input, voice),
      ...ridesBlocks(input, voice),
      { kind: 'cautions', ...texts.cautions },
      ...(links === null ? [] : [ownPageBlock(links.ownPage, texts)]),
    ],
    footnotes: [
      texts.estimateNote,
      ...(links === null ? [texts.stopWithout(contactOf(workshop, texts))] : []),
    ],
    stop: links === null ? null : { label: texts.stopLink, href: links.stopMails },
  });
};
