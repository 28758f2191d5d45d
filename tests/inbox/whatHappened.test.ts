import { describe, expect, it } from 'vitest';
import type { PathTold } from '../../src/core/fileTold.js';
import { whatHappenedText } from '../../src/inbox/whatHappened.js';

const told = (path: string, of: Partial<PathTold>): PathTold => ({
  path,
  settled: true,
  outcome: 'counted',
  code: null,
  said: null,
  ...of,
});
const PATHS: readonly PathTold[] = [
  told('b1/a.gpx', {}),
  told('note.txt', { outcome: 'set-aside', code: 'not-fit-or-gpx' }),
  told('b.fit', { outcome: 'ask', code: 'who', said: { stray: { folder: 'r\u202e9', kind: 'rider' } } }),
  told('slow.fit', { settled: false, outcome: null }),
  told('restless.fit', { settled: false, outcome: null, code: 'restless' }),
  told('big.zip', { settled: false, outcome: 'archive', said: { filesRead: 200 } }),
  told('all.zip', {
    outcome: 'archive',
    said: {
      archive: {
        counts: [
          ['counted', 2],
          ['no-ride', 21],
        ],
        named: [{ file: 'all.zip/walk.gpx', outcome: 'no-ride', code: 'other-sport' }],
        more: 20,
      },
    },
  }),
  told('old.zip', { outcome: 'archive', said: { former: '2 counted' } }),
];

describe('what happened', () => {
  it('tells of each file in a line, and of an archive by counts and by what did not simply count', () => {
    expect(whatHappenedText({ language: 'en', paths: PATHS })).toBe(`\
What happened to the files in this folder. None was moved or changed.

b1/a.gpx: counted
note.txt: set aside. It is no ride file: neither FIT nor GPX nor TCX. Export the ride as one of these.
b.fit: waiting for an answer. The workshop has to say whose it is. The folder “r\\u{202e}9” is no rider’s id.
slow.fit: It is still being copied, it seems. It is looked at again soon.
restless.fit: It keeps changing. It is taken once it has not changed for a minute. It is looked at again soon.
big.zip: So far 200 of the files in it are read. It is looked at again soon.
all.zip: counted: 2; not a ride: 21
  all.zip/walk.gpx: not a ride. The recorder was set to another sport. If it was a bike ride, tell the workshop.
  and 20 more
old.zip: 2 counted
`);
  });

  it('is told in the language of whose folder it is', () => {
    const text = whatHappenedText({ language: 'pt-BR', paths: PATHS.slice(0, 2) });
    expect(text).toBe(`\
O que aconteceu aos ficheiros desta pasta. Nenhum foi movido nem alterado.

b1/a.gpx: conta
note.txt: posto de lado. Não é um ficheiro de volta: nem FIT, nem GPX, nem TCX. Exporte a volta num destes.
`);
  });
});
