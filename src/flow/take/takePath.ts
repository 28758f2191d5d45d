import type { FileMember } from '../../ports/reader.js';
import type { Deps } from '../deps.js';
import { FilesAhead, type Unopened } from './filesAhead.js';
import {
  type HandedOver,
  ingestRead,
  keepAndRead,
  type ReadFile,
  type TakeDeps,
  type Taken,
  untaken,
} from './ingestFile.js';

/** So many files go into one transaction, or those of so long: nobody waits for slow ones. Units: milliseconds. */
const FILES_AT_ONCE = 32;
const LONGEST_WAIT_MS = 1000;

/** Decoding a file takes less; what all of a handing-over take beyond it is their slowness. Units: milliseconds. */
const BRISK_MS = 1000;
const MOST_SLOWNESS_MS = 120_000;

/** What all the files of one handing-over take beyond a second each: whoever hands over slow ones is given no more. */
export class Slowness {
  #ms = 0;
  constructor(readonly mostMs = MOST_SLOWNESS_MS) {}

  took(ms: number): void {
    this.#ms += Math.max(0, ms - BRISK_MS);
  }

  get isTooMuch(): boolean {
    return this.#ms > this.mostMs;
  }
}

/** What is said of all files that come one way. */
export type HandedHow = Omit<HandedOver, 'bytes' | 'name'>;

/** What is said of one file among them, by its name. */
export type HowOf = (name: string) => HandedHow;

/** Takes the file at a path, or each file in it where it is an archive. Errors: ServiceError `disk-failed`. */
export const takePath = (
  deps: Deps,
  { path, name, howOf }: { readonly path: string; readonly name: string; readonly howOf: HowOf },
): AsyncGenerator<Taken> => takeMembers(deps, deps.reader.open(path, name), howOf, new Slowness());

/**
 * Takes files some at a time. While some are stored the next are fetched, kept and decoded, as many as the decoders need
 * and no more: so memory stays flat however many there are. Told in their order.
 */
export async function* takeMembers(
  deps: TakeDeps,
  members: AsyncIterable<FileMember>,
  howOf: HowOf,
  slowness = new Slowness(Number.POSITIVE_INFINITY),
): AsyncGenerator<Taken> {
  const ahead = new FilesAhead(members, slowness, (member) =>
    keepAndRead(deps, { ...howOf(member.name), ...member }, (ms) => slowness.took(ms)),
  );
  try {
    for (;;) {
      const some = await ahead.next(FILES_AT_ONCE, LONGEST_WAIT_MS);
      if (some.length === 0) return;
      yield* await takeSome(deps, some);
    }
  } finally {
    await ahead.close();
  }
}

async function takeSome(deps: TakeDeps, some: readonly (ReadFile | Unopened)[]): Promise<Taken[]> {
  const read = some.flatMap((one) => ('sha256' in one ? [one] : []));
  const taken = read.length > 0 ? await ingestRead(deps, read) : [];
  return some.map((one) => ('sha256' in one ? taken.shift()! : setAside(one)));
}

const setAside = ({ name, problem: { code, message } }: Unopened): Taken => ({
  ...untaken(name, { outcome: 'set-aside', code, reason: message }),
  sha256: null,
  changed: [],
});
