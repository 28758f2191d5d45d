import { shownName } from '../../core/lines.js';
import type { ToldOutcome } from '../../core/tokens.js';
import type { FolderWords, InboxRow } from '../../ports/inbox.js';
import type { Stray } from './folderMeaning.js';
import { type Taken, toldOutcome } from './ingestFile.js';

/** Of an archive's files that did not simply count, so many are named. */
const MOST_NAMED = 20;

/** Returns what became of a path: of its one file, or of those in an archive, in the words of who dropped it. */
export function summaryOf(taken: readonly Taken[], words: FolderWords): Summary {
  const [first] = taken;
  if (first === undefined)
    return { outcome: 'set-aside', code: 'empty', reason: 'There is no file in this archive.' };
  if (taken.length === 1) return { outcome: toldOutcome(first), code: first.code, reason: first.reason };
  const isUseless = taken.every((one) => one.outcome === 'set-aside');
  return { outcome: isUseless ? 'set-aside' : 'archive', code: null, reason: archiveText(taken, words) };
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

function archiveText(taken: readonly Taken[], words: FolderWords): string {
  const counts = new Map<ToldOutcome, number>();
  for (const one of taken) counts.set(toldOutcome(one), (counts.get(toldOutcome(one)) ?? 0) + 1);
  const sums = [...counts].map(([outcome, count]) => `${count} ${words.said[outcome]}`).join(', ');
  const others = taken.filter(({ reason }) => reason !== null);
  const lines = others
    .slice(0, MOST_NAMED)
    .map((one) => `\n  ${shownName(one.file)}: ${lineOf(words, toldOutcome(one), one)}`);
  const more = others.length > MOST_NAMED ? `\n  ${words.more(others.length - MOST_NAMED)}` : '';
  return `${sums}${lines.join('')}${more}`;
}

function lineOf(
  { said, why }: FolderWords,
  outcome: ToldOutcome,
  { code, reason }: Pick<InboxRow, 'code' | 'reason'>,
): string {
  const because = why(code, reason);
  return because === null ? said[outcome] : `${said[outcome]}. ${because}`;
}

/** Returns the text that tells a rider what became of each file in their folder, a line a file. */
export function whatHappenedText(folder: string, rows: readonly InboxRow[], words: FolderWords): string {
  const prefix = folder === '' ? '' : `${folder}/`;
  const lines = rows
    .filter(({ path }) => (folder === '' ? path !== '' && !path.includes('/') : path.startsWith(prefix)))
    .map((row) => `${shownName(row.path.slice(prefix.length))}: ${toldOf(row, words)}`);
  return `${words.title}\n\n${lines.join('\n')}\n`;
}

function toldOf(row: InboxRow, words: FolderWords): string {
  if (row.outcome === 'archive') return row.reason ?? '';
  return row.settled ? lineOf(words, row.outcome as ToldOutcome, row) : words.waits(row.reason);
}
