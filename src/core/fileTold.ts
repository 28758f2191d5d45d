import type { ToldOutcome } from './tokens.js';

/** What became of a file, and the code of why; a language has the words. */
export interface FileTold {
  readonly outcome: ToldOutcome;
  readonly code: string | null;
}

/** What became of the files in an archive. */
export interface ArchiveTold {
  readonly counts: readonly (readonly [outcome: ToldOutcome, files: number])[];
  /** Those that did not simply count, up to some. */
  readonly named: readonly (FileTold & { readonly file: string })[];
  readonly more: number;
}

/** A folder that was to say whose a file is, or on which bike, and says nothing. */
export interface Stray {
  readonly folder: string;
  readonly kind: 'rider' | 'bike';
}

/** What there is to say of a path beside what became of it and why. */
export interface PathSaid {
  readonly archive?: ArchiveTold;
  /** Of an archive's files, so far. */
  readonly filesRead?: number;
  readonly stray?: Stray;
  /** In English, by a version that kept no codes. */
  readonly former?: string;
}

/** What became of a path in the drop folder, or why it waits. */
export interface PathTold {
  readonly path: string;
  /** Nothing more comes of it as long as it stays as it is. */
  readonly settled: boolean;
  readonly outcome: ToldOutcome | 'archive' | null;
  readonly code: string | null;
  readonly said: PathSaid | null;
}
