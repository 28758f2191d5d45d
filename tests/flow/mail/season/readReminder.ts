/** Reads a reminder to the last line. */
import type { Kind } from './pencil.js';
import { blocksOf, flat, isFrame, kindOf, LINK, linesOf } from './readMail.js';

export interface ReadItem {
  bike: string;
  tag: string;
  kind: Kind;
  state: 'due' | 'over interval' | 'coming up' | 'history unknown';
  /** As said: `12 months since 3 May 2025`, `66 of 50 h (terrain hours)`. */
  reason: string | null;
  /** `about 12–20 June`. */
  likely: string | null;
  /** In the place of the job. */
  offered: string | null;
  terrain: { used: string; of: string; left: string | null } | null;
  moving: { used: string; of: string } | null;
  since: string | null;
  months: string | null;
  first: string | null;
  isGuess: boolean;
}
export interface ReadReminder {
  subject: string;
  items: ReadItem[];
  freeDays: { bike: string; days: string[] }[];
  rides: { day: string; bike: string; moving: string; terrain: string; ground: string; byHand: boolean }[];
  links: string[];
}

const UNIT = '(fork|air shock)';
const HEADLINES: readonly [RegExp, ReadItem['state']][] = [
  [new RegExp(`^(?:(?<reason>.+): the|The) ${UNIT} on (?<bike>.+) is due for its (?<job>.+)\\.$`), 'due'],
  [
    new RegExp(`^(?:(?<reason>.+): the|The) ${UNIT} on (?<bike>.+) is overdue for its (?<job>.+)\\.$`),
    'over interval',
  ],
  [new RegExp(`^(?<reason>.+): by then the ${UNIT} on (?<bike>.+) needs its (?<job>.+)\\.$`), 'coming up'],
  [
    new RegExp(
      `^The ${UNIT} on (?<bike>.+) will likely need its (?<job>.+?) (?<likely>(?:about|in|from|between) .+)\\.$`,
    ),
    'coming up',
  ],
  [new RegExp(`^The ${UNIT} on (?<bike>.+) will soon need its (?<job>.+)\\.$`), 'coming up'],
  [
    new RegExp(
      `^Nobody knows when the ${UNIT} on (?<bike>.+) was last opened\\. Please have that done: (?<job>.+)\\.$`,
    ),
    'history unknown',
  ],
];

const bare = (bike: string, job: string, state: ReadItem['state']): ReadItem => ({
  ...{ bike, tag: '', kind: kindOf(job), state, reason: null, likely: null, offered: null, terrain: null },
  ...{ moving: null, since: null, months: null, first: null, isGuess: false },
});

function hoursSaid(item: ReadItem, terrain: string, moving: string): void {
  const [, used = '', of = '', left = null] =
    /^([\d.]+) of ([\d.]+) h(?:, ([\d.]+ h (?:left|over)))?$/.exec(terrain) ?? [];
  const [, rode = '', most = ''] = /^([\d.]+) of at most ([\d.]+) h$/.exec(moving) ?? [];
  if (used === '' || rode === '') throw new Error(`no hours: ${terrain} / ${moving}`);
  item.terrain = { used, of, left };
  item.moving = { used: rode, of: most };
}

const INSTEAD = /We suggest the (.+?) instead.*?(?=No rides since|$)/;
const GUESS = /No rides since [^:]+: a guess\./;
function readNotes(item: ReadItem, said: string): boolean {
  const job = INSTEAD.exec(said)?.[1];
  if (job !== undefined) item.offered = kindOf(job);
  item.isGuess = GUESS.test(said);
  return said.replace(INSTEAD, '').replace(GUESS, '').trim() === '';
}

function readRows(item: ReadItem, block: string): boolean {
  const rows = new Map(linesOf(block).map((line) => line.split(/: (.*)/s) as [string, string]));
  const tag = rows.get('Fork') ?? rows.get('Air shock');
  if (tag === undefined) return false;
  item.tag = tag;
  if (rows.has('Moving hours'))
    hoursSaid(item, rows.get('Terrain hours (estimate)')!, rows.get('Moving hours')!);
  const [since = null, months = null] = rows.get('Counted since')?.split('; at most ') ?? [];
  [item.since, item.months, item.first] = [since, months, rows.get('Comes first') ?? null];
  const known = [
    'Fork',
    'Air shock',
    'Terrain hours (estimate)',
    'Moving hours',
    'Counted since',
    'Comes first',
    'Price',
    'Takes',
  ];
  const other = [...rows.keys()].filter((key) => !known.includes(key));
  if (other.length > 0) throw new Error(`unread rows: ${other}`);
  return true;
}

const RIDE = /^- (.+?): ([\d.]+) h, terrain ([\d.]+) h, (smooth|typical|rough)( \(entered by hand\))?$/;
function readRides(mail: ReadReminder, lines: readonly string[], bike: string | null): void {
  for (const line of lines) {
    const [, where = '', moving = '', terrain = '', ground = '', byHand] = RIDE.exec(line) ?? [];
    if (where === '') throw new Error(`no ride: ${line}`);
    const [day = '', on = bike ?? ''] = bike === null ? where.split(', ') : [where];
    mail.rides.push({ day, bike: on, moving, terrain, ground, byHand: byHand !== undefined });
  }
}

const LINE =
  /^- (?:Fork|Air shock) ([FA]-\d+): (.+?), (due|over interval|coming up|history unknown)(?:: (.+?)| (about .+?))?(?:\. (We suggest .+))?$/;

/** Reads a reminder. Errors: Error for a block that no rule knows. */
export function readReminder(subject: string, text: string): ReadReminder {
  const mail: ReadReminder = { subject, items: [], freeDays: [], rides: [], links: [] };
  let bike = '';
  for (const block of blocksOf(text)) {
    const [lines, said] = [linesOf(block), flat(block)];
    const last = mail.items.at(-1);
    const headline = HEADLINES.map(([rule, state]) => ({ found: rule.exec(said)?.groups, state })).find(
      ({ found }) => found,
    );
    const rides = /^Last rides(?: on (.+))?:$/.exec(lines[0]!);
    const free = /^Free days: (.+)$/.exec(said);
    if (isFrame(block)) continue;
    if (headline?.found) {
      const { bike: on = '', job = '', reason = null, likely = null } = headline.found;
      bike = on;
      mail.items.push({ ...bare(on, job, headline.state), reason, likely });
    } else if (lines.length === 2 && /^-+$/.test(lines[1]!)) bike = lines[0]!;
    else if (lines.every((line) => LINE.test(line)))
      for (const line of lines) {
        const [, tag = '', job = '', state, reason = null, likely = null, notes = ''] = LINE.exec(line)!;
        const item = { ...bare(bike, job, state as ReadItem['state']), tag, reason, likely };
        if (!readNotes(item, notes)) throw new Error(`unread: ${notes}`);
        mail.items.push(item);
      }
    else if (rides) readRides(mail, lines.slice(1), rides[1] ?? null);
    else if (free)
      mail.freeDays.push({
        bike,
        days: free[1]!.split(/ - |, (?=[A-Z][a-z]+day)| and /).map((day) => day.replace(/^- /, '')),
      });
    else if (lines.every((line) => LINK.test(line)))
      mail.links.push(...lines.map((line) => LINK.exec(line)![1]!));
    else if (last && /^(Price, )?[FA]-\d+(, .+?)?: /.test(lines[0]!)) readTable(mail, lines);
    else if (!(last && (readRows(last, block) || readNotes(last, said))))
      throw new Error(`unread in “${subject}”: ${block}`);
  }
  return mail;
}

/** The figures below the lines of several units; of two jobs of a unit in their order. */
function readTable(mail: ReadReminder, lines: readonly string[]): void {
  const waiting = mail.items.filter(({ state, terrain }) => state !== 'history unknown' && terrain === null);
  for (const line of lines) {
    const [, tag = '', terrain = '', moving = ''] =
      /^([FA]-\d+)(?:, .+?)?: terrain (.+) \(estimate\), moving (.+)$/.exec(line) ?? [];
    if (tag === '' && !line.startsWith('Price, ')) throw new Error(`unread figures: ${line}`);
    const item = waiting.find((one) => one.tag === tag && one.terrain === null);
    // Words come between: `16 h over (estimate)` or `66 of 50 h, 16 h over (estimate)`.
    if (item) hoursSaid(item, terrain, moving);
  }
}
