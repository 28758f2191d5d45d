import type { Deps } from './deps.js';
import { type HandedOver, ingestFile, type Taken } from './ingestFile.js';

/** Takes the file at a path, or each file in it where it is an archive; one at a time, so that memory stays flat. */
export async function* takePath(
  deps: Deps,
  handed: Omit<HandedOver, 'bytes'> & { readonly path: string },
): AsyncGenerator<Taken> {
  const { path, ...rest } = handed;
  for await (const member of deps.reader.open(path, handed.name)) {
    if ('bytes' in member) {
      yield await ingestFile(deps, { ...rest, name: member.name, bytes: member.bytes });
    } else {
      const { code, message } = member.problem;
      yield {
        file: member.name,
        outcome: 'set-aside',
        code,
        reason: message,
        rides: [],
        bikeId: null,
        bikeRule: null,
      };
    }
  }
}
