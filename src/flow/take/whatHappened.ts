import { shownName } from '../../core/lines.js';
import type { ToldOutcome } from '../../core/tokens.js';
import type { InboxRow } from '../../ports/inbox.js';
import type { Stray } from './folderMeaning.js';
import { type Taken, toldOutcome } from './ingestFile.js';

const TOLD: Readonly<Record<ToldOutcome, string>> = {
  counted: 'counted',
  'counted-already': 'counted before, nothing added',
  'counts-now': 'counts now',
  moved: 'moved from another bike',
  'kept-only': 'kept, counts for no fork or shock',
  indoors: 'ridden indoors, no hours added',
  joined: 'joined with another recording of the same ride',
  ask: 'waiting for an answer',
  'no-ride': 'not a ride',
  'set-aside': 'set aside',
};

/** Of an archive's files that did not simply count, so many are named. */
const MOST_NAMED = 20;

/** Returns what became of a path: of its one file, or of those in an archive. */
export function summaryOf(taken: readonly Taken[]): Summary {
  const [first] = taken;
  if (first === undefined)
    return { outcome: 'set-aside', code: 'empty', reason: 'There is no file in this archive.' };
  if (taken.length === 1) return { outcome: toldOutcome(first), code: first.code, reason: first.reason };
  const isUseless = taken.every((one) => one.outcome === 'set-aside');
  return { outcome: isUseless ? 'set-aside' : 'archive', code: null, reason: archiveText(taken) };
}

type Summary = Pick<InboxRow, 'outcome' | 'code' | 'reason'>;

const STRAY: Readonly<Record<Stray['kind'], (folder: string) => string>> = {
  rider: (folder) => `The folder "${shownName(folder)}" is no rider's id.`,
  bike: (folder) => `The folder "${shownName(folder)}" is no bike's id or name.`,
};

/** Names the folder that says nothing, where that is why it is asked. */
export const withStray = (summary: Summary, { stray }: { readonly stray: Stray | null }): Summary =>
  stray !== null && isAskedBy(stray, summary.code)
    ? { ...summary, reason: `${summary.reason ?? ''} ${STRAY[stray.kind](stray.folder)}`.trim() }
    : summary;

/** Whether a question is asked because the folder says nothing. */
export const isAskedBy = ({ kind }: Stray, code: string | null): boolean =>
  code === 'who' || (code === 'which-bike' && kind === 'bike');

function archiveText(taken: readonly Taken[]): string {
  const counts = new Map<ToldOutcome, number>();
  for (const one of taken) counts.set(toldOutcome(one), (counts.get(toldOutcome(one)) ?? 0) + 1);
  const sums = [...counts].map(([outcome, count]) => `${count} ${TOLD[outcome]}`).join(', ');
  const others = taken.filter(({ reason }) => reason !== null);
  const lines = others
    .slice(0, MOST_NAMED)
    .map((one) => `\n  ${shownName(one.file)}: ${TOLD[toldOutcome(one)]}. ${one.reason}`);
  const more = others.length > MOST_NAMED ? `\n  and ${others.length - MOST_NAMED} more` : '';
  return `${sums}${lines.join('')}${more}`;
}

/** Returns the text that tells a rider what became of each file in their folder, a line a file. */
export function whatHappenedText(folder: string, rows: readonly InboxRow[]): string {
  const prefix = folder === '' ? '' : `${folder}/`;
  const lines = rows
    .filter(({ path }) => (folder === '' ? path !== '' && !path.includes('/') : path.startsWith(prefix)))
    .map((row) => `${shownName(row.path.slice(prefix.length))}: ${toldOf(row)}`);
  return `What happened to the files in this folder. None was moved or changed.\n\n${lines.join('\n')}\n`;
}

function toldOf({ settled, outcome, reason }: InboxRow): string {
  if (outcome === 'archive') return reason ?? '';
  if (!settled) return `${reason ?? 'still being copied, it seems'}; looked at again soon`;
  const told = TOLD[outcome as ToldOutcome];
  return reason === null ? told : `${told}. ${reason}`;
}
