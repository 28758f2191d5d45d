import type { ReminderItem } from '../core/notices/mailContent.js';
import { isReached } from '../core/states.js';
import type { About } from '../languages/mailTexts.js';
import type { Day } from '../units.js';
import { capitalised, shortened, type Voice } from './correspondent.js';
import type { Block, LetterLink } from './letter.js';

/** Names and prices as typed, kept short so that the mail stays one. */
const TYPED_SIGNS = 60;
export const typed = (text: string): string => shortened(text, TYPED_SIGNS);

type Row = readonly [label: string, value: string];

/** Returns what a headline or subject says of an item, in words. */
export const aboutItem = (item: ReminderItem, { words }: Voice, today: Day): About => ({
  bike: typed(item.bike),
  unit: words.unitKind[item.unitKind],
  job: typed(words.serviceKind(item.serviceKind)),
  likely: item.about === null ? null : words.about(item.about.from, item.about.to, today),
});

const terrainRow = (item: ReminderItem, { words, texts }: Voice): Row => {
  const { reminder } = texts;
  const total = item.interval.terrainHours;
  if (total === null) return [reminder.terrainHours, words.hours(item.terrainHours)];
  const known = reminder.ofInterval(words.number(item.terrainHours), words.hours(total));
  if (item.hoursLeft === null) return [reminder.terrainHours, known];
  const left = words.hours(Math.abs(item.hoursLeft));
  return [
    reminder.terrainHours,
    `${known}, ${item.hoursLeft < 0 ? reminder.over(left) : reminder.left(left)}`,
  ];
};

const movingRow = (item: ReminderItem, { words, texts }: Voice): Row => {
  const ceiling = item.interval.movingHoursCeiling;
  return [
    texts.reminder.movingHours,
    ceiling === null
      ? words.hours(item.movingHours)
      : texts.reminder.ofAtMost(words.number(item.movingHours), words.hours(ceiling)),
  ];
};

const sinceRows = (item: ReminderItem, { words, texts }: Voice, today: Day): Row[] => {
  if (item.since === null) return [];
  const { months } = item.interval;
  const since = words.day(item.since, today);
  return [
    [
      texts.reminder.countedSince,
      months === null ? since : texts.reminder.atMostMonths(since, words.counted(months, 'month')),
    ],
  ];
};

const limitRows = (item: ReminderItem, { texts }: Voice): Row[] => {
  if (item.limit === 'none' || item.state === 'stop-riding' || item.state === 'history-unknown') return [];
  const label = isReached(item.state) ? texts.reminder.reached : texts.reminder.comesFirst;
  return [[label, texts.reminder.limit[item.limit]]];
};

const offerRow = (label: string, offer: string | null): Row[] =>
  offer === null || typed(offer) === '' ? [] : [[label, typed(offer)]];

const unitRow = (item: ReminderItem, { words }: Voice): Row => {
  const model = item.model === null ? '' : typed(item.model);
  return [
    capitalised(words.unitKind[item.unitKind], words.locale),
    model === '' ? typed(item.tag) : `${typed(item.tag)}, ${model}`,
  ];
};

/** Returns the figures of an item; terrain hours never without moving hours. */
export const itemRows = (item: ReminderItem, voice: Voice, today: Day): Block => ({
  kind: 'rows',
  rows: [
    unitRow(item, voice),
    terrainRow(item, voice),
    movingRow(item, voice),
    ...sinceRows(item, voice, today),
    ...limitRows(item, voice),
    ...offerRow(voice.texts.reminder.price, item.price),
    ...offerRow(voice.texts.reminder.turnaround, item.turnaround),
  ],
});

/** Returns what the rider can do about an item; a stopped bike offers no "later". */
export const itemLinks = (item: ReminderItem, { texts }: Voice): Block[] => {
  if (item.links === null) return [];
  const others: LetterLink[] = [
    { label: texts.reminder.alreadyDone, href: item.links.alreadyDone },
    ...(item.state === 'stop-riding' ? [] : [{ label: texts.reminder.later, href: item.links.later }]),
    { label: texts.reminder.soldOrStored, href: item.links.soldOrStored },
  ];
  return [{ kind: 'links', main: { label: texts.reminder.askForDay, href: item.links.askForDay }, others }];
};
