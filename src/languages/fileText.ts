import type { FileTold } from '../core/fileTold.js';
import type { ToldOutcome } from '../core/tokens.js';

/** What a language says of files. */
export interface FileWords {
  readonly said: Readonly<Record<ToldOutcome, string>>;
  readonly why: Readonly<Record<string, string>>;
  readonly question: Readonly<Record<string, string>>;
}

/** Returns why that became of a file, or what is asked about it; nothing where there is no more to say. */
export const fileWhy = ({ why, question }: FileWords, { outcome, code }: FileTold): string =>
  code === null || outcome === 'indoors' ? '' : (why[code] ?? question[code] ?? '');
