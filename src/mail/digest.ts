import { oneLine } from '../core/lines.js';
import type { DigestCall, DigestContent, DigestRow } from '../core/notices/mailContent.js';
import { isReached } from '../core/states.js';
import type { Day } from '../units.js';
import { capitalised, type MailVoice, rendered, voiceOf } from './correspondent.js';
import type { Block, LetterEntry, Rendered } from './letter.js';

/** What is reached comes before every day to come, and what has no date after all of them. */
const dateKey = (row: DigestRow): string => {
  if (row.state === 'over-interval') return '0';
  if (row.state === 'due') return '1';
  return row.likely.p50 ?? '9999-12-31';
};

const inOrder = (rows: readonly DigestRow[]): DigestRow[] =>
  [...rows].sort((a, b) => {
    const [left, right] = [`${dateKey(a)} ${a.tag}`, `${dateKey(b)} ${b.tag}`];
    return left < right ? -1 : left > right ? 1 : 0;
  });

const hoursLine = (row: DigestRow, { words, texts }: MailVoice): string => {
  const { terrainHours, movingHoursCeiling } = row.interval;
  const { ofInterval } = texts.reminder;
  if (row.state === 'history-unknown')
    return texts.digest.sinceItCame(words.hours(row.terrainHours), words.hours(row.movingHours));
  const hours = texts.digest.hours(
    terrainHours === null
      ? words.hours(row.terrainHours)
      : ofInterval(words.number(row.terrainHours), words.hours(terrainHours)),
    movingHoursCeiling === null
      ? words.hours(row.movingHours)
      : ofInterval(words.number(row.movingHours), words.hours(movingHoursCeiling)),
  );
  const { declaredHours = 0 } = row;
  return declaredHours > 0 ? `${hours} (${texts.digest.declared(words.hours(declaredHours))})` : hours;
};

const leadOf = (row: DigestRow, { words, texts }: MailVoice, today: Day): string => {
  if (isReached(row.state)) return texts.digest.now;
  return row.likely.p50 === null ? texts.digest.noDate : words.day(row.likely.p50, today);
};

const leadNoteOf = (row: DigestRow, { words, texts }: MailVoice, today: Day): string | null => {
  const { p10, p90 } = row.likely;
  if (isReached(row.state) || row.likely.p50 === null || p10 === null || p90 === null) return null;
  // A limit in months has but one day.
  if (p10 === p90) return null;
  return texts.digest.between(words.day(p10, today), words.day(p90, today));
};

/** Why the row stands where it does: the limit that was reached, and when, or the one that comes first. */
const limitLine = (row: DigestRow, { words, texts }: MailVoice, today: Day): string | null => {
  const { limit, monthsEnd, likely } = row;
  if (limit === 'none' || row.state === 'stop-riding' || row.state === 'history-unknown') return null;
  const months = row.interval.months;
  const what = limit === 'months' && months !== null ? words.counted(months, 'month') : words.limit[limit];
  const day = limit === 'months' ? monthsEnd : likely.p50;
  if (isReached(row.state) && day !== null) return texts.digest.reached(what, words.day(day, today));
  if (limit === 'months' && day !== null) return texts.digest.monthsUp(what, words.day(day, today));
  return texts.digest.comesFirst(what);
};

const jobOf = (row: DigestRow, { words }: MailVoice): string =>
  `${oneLine(row.tag)} ${words.unitKind[row.unitKind]}: ${oneLine(words.serviceKind(row.serviceKind))}`;

const whoseOf = (row: DigestRow, { texts }: MailVoice): string =>
  [row.rider, row.bike ?? texts.digest.notOnABike]
    .filter((part) => part !== null)
    .map(oneLine)
    .join(', ');

const entryOf = (row: DigestRow, voice: MailVoice, today: Day): LetterEntry => ({
  lead: leadOf(row, voice, today),
  leadNote: leadNoteOf(row, voice, today),
  title: whoseOf(row, voice),
  lines: [
    jobOf(row, voice),
    `${capitalised(voice.words.state[row.state], voice.words.locale)}: ${hoursLine(row, voice)}`,
    ...[limitLine(row, voice, today)].filter((line) => line !== null),
  ],
  mark: row.isNew ? voice.texts.digest.newMark : null,
});

const summaryBlocks = ({ rows, lastDigest, trayCount, today }: DigestContent, voice: MailVoice): Block[] => {
  const { words, texts } = voice;
  const fresh = rows.filter((row) => row.isNew).length;
  const since = lastDigest === null ? null : words.day(lastDigest, today);
  const parts = [
    ...(rows.length === 0
      ? [texts.digest.nothing]
      : [`${texts.digest.newSince(words.counted(fresh, 'new'), since)}.`]),
    ...(trayCount === 0 ? [] : [`${words.counted(trayCount, 'waiting')}.`]),
  ];
  return [{ kind: 'paragraph', text: parts.join(' ') }];
};

const stopBlocks = (rows: readonly DigestRow[], voice: MailVoice): Block[] =>
  rows.length === 0
    ? []
    : [
        {
          kind: 'warning',
          text: voice.texts.digest.stopRiding,
          items: rows.map(
            (row) =>
              `${whoseOf(row, voice)}: ${oneLine(row.tag)} ${voice.words.unitKind[row.unitKind]}${row.isNew ? ` (${voice.texts.digest.newMark})` : ''}`,
          ),
        },
      ];

const tableBlocks = (rows: readonly DigestRow[], voice: MailVoice, today: Day): Block[] =>
  rows.length === 0
    ? []
    : [
        { kind: 'heading', text: voice.texts.digest.byDate },
        {
          kind: 'entries',
          columns: voice.texts.digest.columns,
          entries: inOrder(rows).map((row) => entryOf(row, voice, today)),
        },
      ];

/** Returns whom to call, how, about what, and why no mail does it. */
const callLine = (
  { rider, phone, unit, serviceKind, state, reason }: DigestCall,
  { words }: MailVoice,
): string =>
  `${[rider, phone ?? '']
    .map(oneLine)
    .filter((part) => part !== '')
    .join(
      ', ',
    )}: ${oneLine(unit)} ${oneLine(words.serviceKind(serviceKind))}, ${words.state[state]} (${words.callReason[reason]})`;

/** Returns the workshop's list of the day: what must stop first, then all by date, in the workshop's language. */
export const renderDigest = (input: DigestContent): Rendered => {
  const { workshop, today, rows, toCall, link } = input;
  const voice = voiceOf(workshop.language);
  const { texts, words } = voice;
  const stopped = rows.filter((row) => row.state === 'stop-riding');
  const others = rows.filter((row) => row.state !== 'stop-riding');
  return rendered(workshop, voice, {
    subject: texts.digest.subject(words.weekday(today, today)),
    blocks: [
      ...stopBlocks(stopped, voice),
      ...summaryBlocks(input, voice),
      ...(toCall.length === 0
        ? []
        : [
            {
              kind: 'list',
              title: texts.digest.toCall,
              items: toCall.map((call) => callLine(call, voice)),
            } as const,
          ]),
      ...tableBlocks(others, voice, today),
      ...(link === null
        ? []
        : [{ kind: 'links', main: { label: texts.digest.openList, href: link }, others: [] } as const]),
      ...(rows.length === 0 ? [] : [{ kind: 'cautions', ...texts.cautions } as const]),
    ],
    footnotes: rows.length === 0 ? [] : [texts.digest.dateNote, texts.estimateNote],
  });
};
