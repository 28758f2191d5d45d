import type { ReminderItem } from '../core/notices/mailContent.js';
import { isReached } from '../core/states.js';
import type { About, MailTexts } from '../languages/mailTexts.js';
import type { Day } from '../units.js';
import { capitalised, type MailVoice, shortened } from './correspondent.js';
import type { Block, LetterLink } from './letter.js';

/** Names and prices as typed, kept short so that the mail stays one. */
const TYPED_SIGNS = 60;
export const typed = (text: string): string => shortened(text, TYPED_SIGNS);

type LabelledLine = readonly [label: string, value: string];

/** Returns why the item stands where it does, in words: months before hours that nobody asked about. */
function reasonOf(item: ReminderItem, { words, texts }: MailVoice, today: Day): string {
  const { limit, interval, since, monthsEnd } = item;
  const { reason } = texts.reminder;
  const reached = isReached(item.state);
  if (limit === 'months' && interval.months !== null && since !== null && monthsEnd !== null) {
    const [months, from] = [words.counted(interval.months, 'month'), words.day(since, today)];
    if (reached) return reason.months(months, from);
    return item.state === 'coming-up' ? reason.monthsAhead(months, from, words.day(monthsEnd, today)) : '';
  }
  if (!reached) return '';
  if (limit === 'terrain-hours' && interval.terrainHours !== null)
    return reason[limit](words.number(item.terrainHours), words.hours(interval.terrainHours));
  if (limit === 'moving-hours' && interval.movingHoursCeiling !== null)
    return reason[limit](words.number(item.movingHours), words.hours(interval.movingHoursCeiling));
  return '';
}

/** Returns what a headline or subject says of an item, in words. */
export const aboutItem = (item: ReminderItem, voice: MailVoice, today: Day): About => ({
  bike: typed(item.bike),
  unit: voice.words.unitKind[item.unitKind],
  job: typed(voice.words.serviceKind(item.serviceKind)),
  likely: item.about === null ? null : voice.words.about(item.about.from, item.about.to, today),
  reason: reasonOf(item, voice, today),
});

/** Returns an item as one line among others of its bike: the unit, the job, and why. */
export function itemLine(item: ReminderItem, voice: MailVoice, today: Day): string {
  const { unit, job, likely, reason } = aboutItem(item, voice, today);
  const { words } = voice;
  const why =
    reason !== '' ? `: ${reason}` : item.state === 'coming-up' && likely !== null ? ` ${likely}` : '';
  return `${capitalised(unit, words.locale)} ${typed(item.tag)}: ${job}, ${words.state[item.state]}${why}`;
}

/** Returns what a job is, in a sentence; null for one of the workshop's own. */
export const jobText = (item: ReminderItem, { texts }: MailVoice): string | null =>
  (texts.reminder.jobs as Readonly<Partial<MailTexts['reminder']['jobs']>>)[
    item.offered as keyof MailTexts['reminder']['jobs']
  ] ?? null;

/** Hours of a unit whose history nobody knows say nothing. */
const hasHours = ({ state }: ReminderItem): boolean => state !== 'history-unknown';

const terrainText = (item: ReminderItem, { words, texts }: MailVoice): string => {
  const { reminder } = texts;
  const total = item.interval.terrainHours;
  if (total === null) return words.hours(item.terrainHours);
  const known = reminder.ofInterval(words.number(item.terrainHours), words.hours(total));
  const isOther = isReached(item.state) && item.limit !== 'terrain-hours';
  if (item.hoursLeft === null || isOther) return known;
  const left = words.hours(Math.abs(item.hoursLeft));
  return `${known}, ${item.hoursLeft < 0 ? reminder.over(left) : reminder.left(left)}`;
};

const movingText = ({ interval, movingHours }: ReminderItem, { words, texts }: MailVoice): string =>
  interval.movingHoursCeiling === null
    ? words.hours(movingHours)
    : texts.reminder.ofAtMost(words.number(movingHours), words.hours(interval.movingHoursCeiling));

/** What nobody recorded says so. */
const declaredRows = (
  { declaredHours = 0, terrainHours }: ReminderItem,
  { words, texts }: MailVoice,
): LabelledLine[] =>
  declaredHours <= 0
    ? []
    : [
        [
          texts.reminder.declared,
          declaredHours >= terrainHours ? texts.reminder.declaredAll : words.hours(declaredHours),
        ],
      ];

const sinceRows = (item: ReminderItem, { words, texts }: MailVoice, today: Day): LabelledLine[] => {
  if (item.since === null) return [];
  const { months } = item.interval;
  const since = words.day(item.since, today);
  return [
    [
      texts.reminder.countedSince,
      months === null || isReached(item.state)
        ? since
        : texts.reminder.atMostMonths(since, words.counted(months, 'month')),
    ],
  ];
};

/** Hours on the ground are what anybody expects. */
const limitRows = (item: ReminderItem, { texts }: MailVoice): LabelledLine[] =>
  item.limit === 'none' || item.limit === 'terrain-hours' || item.state !== 'coming-up'
    ? []
    : [[texts.reminder.comesFirst, texts.reminder.limit[item.limit]]];

const offerRow = (label: string, offer: string | null): LabelledLine[] =>
  offer === null || typed(offer) === '' ? [] : [[label, typed(offer)]];

const offerRows = (item: ReminderItem, { texts }: MailVoice): LabelledLine[] => [
  ...offerRow(texts.reminder.price, item.price),
  ...offerRow(texts.reminder.turnaround, item.turnaround),
];

/** Price and time in one line, for one of several. */
function offerLine(item: ReminderItem, voice: MailVoice): LabelledLine[] {
  const [first, second] = offerRows(item, voice);
  if (first === undefined) return [];
  const [label, value] = first;
  const takes = second === undefined ? value : `${value}, ${voice.texts.reminder.takes(second[1])}`;
  return [[`${label}, ${typed(item.tag)}`, takes]];
}

const unitName = (item: ReminderItem): string =>
  [item.tag, item.model ?? '']
    .map(typed)
    .filter((part) => part !== '')
    .join(', ');

/** Returns the figures of an item; terrain hours never without moving hours. */
export const itemRows = (item: ReminderItem, voice: MailVoice, today: Day): Block => ({
  kind: 'rows',
  rows: [
    [capitalised(voice.words.unitKind[item.unitKind], voice.words.locale), unitName(item)],
    ...(hasHours(item)
      ? ([
          [voice.texts.reminder.terrainHours, terrainText(item, voice)],
          [voice.texts.reminder.movingHours, movingText(item, voice)],
          ...declaredRows(item, voice),
        ] as const)
      : []),
    ...sinceRows(item, voice, today),
    ...limitRows(item, voice),
    ...offerRows(item, voice),
  ],
});

/** Returns the figures of all items of a bike, a row a job, and the price of each job that is offered. */
export const bikeRows = (items: readonly ReminderItem[], voice: MailVoice): Block[] => {
  const name = (item: ReminderItem): string =>
    items.filter(({ tag }) => tag === item.tag).length === 1
      ? typed(item.tag)
      : `${typed(item.tag)}, ${typed(voice.words.serviceKind(item.serviceKind))}`;
  const isOfferedAgain = (item: ReminderItem, i: number): boolean =>
    items.slice(0, i).some(({ tag, offered }) => tag === item.tag && offered === item.offered);
  const rows = items.flatMap((item, i): LabelledLine[] => [
    ...(hasHours(item)
      ? [
          [
            name(item),
            voice.texts.reminder.hoursOf(terrainText(item, voice), movingText(item, voice)),
          ] as const,
          ...declaredRows(item, voice),
        ]
      : []),
    ...(isOfferedAgain(item, i) ? [] : offerLine(item, voice)),
  ]);
  return rows.length === 0 ? [] : [{ kind: 'rows', rows }];
};

/** Returns what each of several jobs is, and what to bring. */
export function jobsList(items: readonly ReminderItem[], voice: MailVoice): Block[] {
  const texts = new Map(items.map((item) => [item.offered, jobText(item, voice)]));
  const { words } = voice;
  const lines = [...texts].flatMap(([kind, text]) =>
    text === null ? [] : [`${capitalised(typed(words.serviceKind(kind)), words.locale)}: ${text}`],
  );
  const { theJobs, bring } = voice.texts.reminder;
  return lines.length === 0 ? [] : [{ kind: 'list', title: theJobs, items: [...lines, bring] }];
}

/** Returns what the rider can do about the only item of a mail. */
export const itemLinks = (item: ReminderItem, { texts }: MailVoice): Block[] => {
  if (item.links === null) return [];
  const others: LetterLink[] = [
    { label: texts.reminder.alreadyDone, href: item.links.alreadyDone },
    { label: texts.reminder.later, href: item.links.later },
    { label: texts.reminder.soldOrStored, href: item.links.soldOrStored },
  ];
  return [{ kind: 'links', main: { label: texts.reminder.askForDay, href: item.links.askForDay }, others }];
};
