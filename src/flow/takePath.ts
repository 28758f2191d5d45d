import type { FileMember } from '../ports.js';
import type { Deps } from './deps.js';
import { type HandedOver, ingestFiles, type TakeDeps, type Taken } from './ingestFile.js';

/** So many files, of so much together, go into one transaction. */
const FILES_AT_ONCE = 32;
const BYTES_AT_ONCE = 4_000_000;

/** What is said of all files that come one way. */
export type HandedHow = Omit<HandedOver, 'bytes' | 'name'>;

/** Takes the file at a path, or each file in it where it is an archive. Errors: ServiceError `disk-failed`. */
export const takePath = (
  deps: Deps,
  { path, name, ...how }: HandedHow & { readonly path: string; readonly name: string },
): AsyncGenerator<Taken> => takeMembers(deps, deps.reader.open(path, name), how);

/** Takes files some at a time, so that memory stays flat however many there are; told in their order. */
export async function* takeMembers(
  deps: TakeDeps,
  members: AsyncIterable<FileMember>,
  how: HandedHow,
): AsyncGenerator<Taken> {
  let some: FileMember[] = [];
  let bytes = 0;
  for await (const member of members) {
    some.push(member);
    if ('bytes' in member) bytes += member.bytes.length;
    if (some.length < FILES_AT_ONCE && bytes < BYTES_AT_ONCE) continue;
    yield* await takeSome(deps, some, how);
    [some, bytes] = [[], 0];
  }
  yield* await takeSome(deps, some, how);
}

async function takeSome(deps: TakeDeps, members: readonly FileMember[], how: HandedHow): Promise<Taken[]> {
  const files = members.flatMap((one) => ('bytes' in one ? [{ ...how, ...one }] : []));
  const taken = files.length > 0 ? await ingestFiles(deps, files) : [];
  return members.map((one) => ('bytes' in one ? taken.shift()! : setAside(one)));
}

const setAside = ({ name, problem }: Exclude<FileMember, { bytes: Uint8Array }>): Taken => ({
  file: name,
  outcome: 'set-aside',
  code: problem.code,
  reason: problem.message,
  rides: [],
  bikeId: null,
  bikeRule: null,
});
