import type { FileMember } from '../../ports/reader.js';
import { problem } from '../../problems.js';
import type { Deps } from '../deps.js';
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
const TOO_SLOW =
  'Reading the files in it took too long, so the rest was left out. Unpack it and hand over a few files at a time.';

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

type Unopened = Exclude<FileMember, { readonly bytes: Uint8Array }>;

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
 * Takes files some at a time, with the bytes of two in hand: one is decoded while the next is fetched and kept. So memory
 * stays flat however many there are. Told in their order.
 */
export async function* takeMembers(
  deps: TakeDeps,
  members: AsyncIterable<FileMember>,
  howOf: HowOf,
  slowness = new Slowness(Number.POSITIVE_INFINITY),
): AsyncGenerator<Taken> {
  let some: Promise<ReadFile | Unopened>[] = [];
  let began = performance.now();
  const took = (ms: number): void => slowness.took(ms);
  for await (const member of members) {
    if (slowness.isTooMuch) {
      some.push(
        Promise.resolve({ name: member.name, problem: problem('archive-slow', TOO_SLOW, member.name) }),
      );
      break;
    }
    const next =
      'bytes' in member
        ? keepAndRead(deps, { ...howOf(member.name), ...member }, took)
        : Promise.resolve(member);
    // Whoever waits for it below is told of its failure, unless one before it failed already.
    next.catch(() => undefined);
    await some.at(-1);
    some.push(next);
    if (some.length < FILES_AT_ONCE && performance.now() - began < LONGEST_WAIT_MS) continue;
    yield* await takeSome(deps, await Promise.all(some));
    some = [];
    began = performance.now();
  }
  yield* await takeSome(deps, await Promise.all(some));
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
