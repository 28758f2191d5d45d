import type { FileMember } from '../../ports/reader.js';
import { problem } from '../../problems.js';
import type { ReadFile } from './ingestFile.js';

type Opened = Extract<FileMember, { readonly bytes: Uint8Array }>;
/** A file of an archive that could not be opened. */
export type Unopened = Exclude<FileMember, Opened>;

/** So many files wait for a decoder or are in one: each has the next at hand. */
const MOST_UNREAD = 6;
/** With so many bytes in hand no more are fetched. */
const MOST_BYTES = 4 * 1024 * 1024;
/** So many files that were read wait to be stored. */
const MOST_READ = 64;

const TOO_SLOW =
  'Reading the files in it takes too long, so the rest was left. Unpack it and hand over a few files at a time.';

/** Fetches files and has them read, some ahead of whoever takes them. */
export class FilesAhead {
  readonly #members: AsyncIterator<FileMember>;
  readonly #slowness: { readonly isTooMuch: boolean };
  readonly #read: (member: Opened) => Promise<ReadFile>;
  /** In the order in which they came. */
  readonly #files: Promise<ReadFile | Unopened>[] = [];
  #unread = 0;
  #bytes = 0;
  #isEnd = false;
  #fetching: Promise<void> | null = null;

  constructor(
    members: AsyncIterable<FileMember>,
    slowness: { readonly isTooMuch: boolean },
    read: (member: Opened) => Promise<ReadFile>,
  ) {
    this.#members = members[Symbol.asyncIterator]();
    this.#slowness = slowness;
    this.#read = read;
  }

  /** Returns the next files, at most so many and those that are read in a time; none at the end. Units: milliseconds. */
  async next(most: number, longestMs: number): Promise<(ReadFile | Unopened)[]> {
    const some: (ReadFile | Unopened)[] = [];
    const began = performance.now();
    while (some.length < most) {
      this.#fetch();
      const [file] = this.#files;
      if (file !== undefined) {
        some.push(await file);
        this.#files.shift();
      } else if (this.#fetching !== null) await this.#fetching;
      else break;
      if (some.length > 0 && performance.now() - began >= longestMs) break;
    }
    this.#fetch();
    return some;
  }

  /** Lets go of what was not fetched. */
  async close(): Promise<void> {
    this.#isEnd = true;
    await this.#members.return?.();
  }

  #fetch(): void {
    const isFull =
      this.#unread >= MOST_UNREAD || this.#bytes >= MOST_BYTES || this.#files.length >= MOST_READ;
    if (this.#isEnd || this.#fetching !== null || isFull) return;
    this.#fetching = this.#fetchOne().finally(() => {
      this.#fetching = null;
      this.#fetch();
    });
  }

  async #fetchOne(): Promise<void> {
    try {
      const { value: member, done } = await this.#members.next();
      if (done || this.#isEnd) this.#isEnd = true;
      else this.#take(member);
    } catch (error) {
      this.#isEnd = true;
      this.#add(Promise.reject(error));
    }
  }

  #take(member: FileMember): void {
    if (this.#slowness.isTooMuch) {
      this.#isEnd = true;
      this.#add(Promise.resolve({ name: member.name, problem: tooSlow(member.name) }));
    } else if ('bytes' in member) this.#add(this.#readOne(member));
    else this.#add(Promise.resolve(member));
  }

  async #readOne(member: Opened): Promise<ReadFile> {
    // A large one's bytes are gone when it was read.
    const size = member.bytes.length;
    this.#unread += 1;
    this.#bytes += size;
    try {
      return await this.#read(member);
    } finally {
      this.#unread -= 1;
      this.#bytes -= size;
      this.#fetch();
    }
  }

  #add(file: Promise<ReadFile | Unopened>): void {
    // Whoever waits for it is told of its failure, unless one before it failed already.
    file.catch(() => undefined);
    this.#files.push(file);
  }
}

const tooSlow = (name: string): Unopened['problem'] => problem('archive-slow', TOO_SLOW, name);
