import type { ArchiveTold, FileTold, PathTold, Stray } from '../../core/fileTold.js';
import type { ToldOutcome } from '../../core/tokens.js';
import { type Taken, toldOutcome } from './ingestFile.js';

/** Of an archive's files that did not simply count, so many are named. */
const MOST_NAMED = 20;

/** What people are told of a file. */
export const toldOf = (taken: Taken): FileTold => ({
  outcome: toldOutcome(taken),
  code: taken.about === 'damaged-and-covered' ? taken.about : taken.code,
});

type ToldOfPath = Pick<PathTold, 'outcome' | 'code' | 'said'>;

/** Returns what became of a path: of its one file, or of those in an archive. A stray folder is named where it is why it is asked. */
export function pathTold(taken: readonly Taken[], stray: Stray | null): ToldOfPath {
  const [first] = taken;
  if (first === undefined) return { outcome: 'set-aside', code: 'empty-archive', said: null };
  if (taken.length > 1) return archiveTold(taken);
  const told = toldOf(first);
  return { ...told, said: stray !== null && isAskedBy(stray, told.code) ? { stray } : null };
}

function archiveTold(taken: readonly Taken[]): ToldOfPath {
  const counts = new Map<ToldOutcome, number>();
  for (const one of taken) counts.set(toldOutcome(one), (counts.get(toldOutcome(one)) ?? 0) + 1);
  const others = taken
    .map((one) => ({ file: one.file, ...toldOf(one) }))
    .filter(({ outcome, code }) => outcome === 'indoors' || outcome === 'kept-only' || code !== null);
  const archive: ArchiveTold = {
    counts: [...counts],
    named: others.slice(0, MOST_NAMED),
    more: Math.max(0, others.length - MOST_NAMED),
  };
  const isUseless = taken.every((one) => one.outcome === 'set-aside');
  return isUseless
    ? { outcome: 'set-aside', code: 'useless-archive', said: { archive } }
    : { outcome: 'archive', code: null, said: { archive } };
}

/** Whether a question is asked because the folder says nothing. */
export const isAskedBy = ({ kind }: Stray, code: string | null): boolean =>
  code === 'who' || (code === 'which-bike' && kind === 'bike');
