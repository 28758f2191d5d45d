/** Threads that misbehave, and the one that the program runs: no file takes the program, or the next file, with it. */
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, it, onTestFinished } from 'vitest';
import { readContent } from '../../../src/files/readFile.js';
import { decodeThread } from '../../../src/files/threads/decodeThread.js';
import { decodeFile } from '../../../src/flow/take/decodeFile.js';
import { instant } from '../../../src/units.js';
import { rideFit, straightRide } from '../../fixtures/fitFile.js';
import { gpxText, straightTrack, textBytes } from '../../fixtures/gpxFile.js';
import { BUILT } from '../../fixtures/program.js';

const NOW = instant(Date.UTC(2024, 5, 1));
const T = Date.UTC(2024, 4, 1, 9);
const THREAD = pathToFileURL(join(BUILT, 'workers/decode.js'));
const NO_RIDE = { readings: [], outcome: 'no-ride', problem: null };

/** A thread that does what a file's name says. */
const script = (cases: string): URL =>
  new URL(
    `data:text/javascript,${encodeURIComponent(`
      import { parentPort } from 'node:worker_threads';
      parentPort.on('message', ({ file }) => {
        switch (file.name) { ${cases} }
        parentPort.postMessage(${JSON.stringify(NO_RIDE)});
      });`)}`,
  );

function started(cases: string, options: Parameters<typeof decodeThread>[1] = {}) {
  const thread = decodeThread(script(cases), options);
  onTestFinished(() => thread.close());
  return (name: string) => thread.decode({ name, bytes: new Uint8Array(8) }, NOW);
}

const setAside = (words: RegExp) => ({
  readings: [],
  outcome: 'set-aside',
  problem: { code: 'unreadable', message: expect.stringMatching(words), source: 'bad' },
});

describe('a file', () => {
  it('that never ends is given up, and the next is read', async () => {
    const decode = started("case 'bad': for (;;);", { longestMs: 1000 });
    expect(await decode('good')).toEqual(NO_RIDE);
    expect(await decode('bad')).toEqual(setAside(/took too long.*Export the ride again/));
    expect(await decode('good')).toEqual(NO_RIDE);
  });

  it('that fills the memory is given up, and the next is read', async () => {
    const decode = started("case 'bad': { const all = []; for (;;) all.push({ all: [...all] }); }", {
      heapMb: 32,
    });
    expect(await decode('bad')).toEqual(setAside(/more memory than any ride needs/));
    expect(await decode('good')).toEqual(NO_RIDE);
  });

  it.each([
    ['throws', "case 'bad': throw new Error('a secret of the inside');"],
    ['ends the thread', "case 'bad': process.exit(0);"],
    ['throws nothing much', "case 'bad': throw null;"],
  ])('that %s is a fault that tells nothing of the inside, and the next is read', async (_, cases) => {
    const decode = started(cases);
    const decoded = await decode('bad');
    expect(decoded).toEqual(setAside(/by a fault of this program/));
    expect(decoded.problem!.message).not.toContain('secret');
    expect(await decode('good')).toEqual(NO_RIDE);
  });

  it('waits for those before it, whatever becomes of them', async () => {
    const decode = started("case 'bad': throw new Error('x');");
    const all = await Promise.all(['good', 'good', 'bad', 'bad', 'good', 'bad', 'good'].map(decode));
    expect(all.map((one) => one.outcome)).toEqual([
      'no-ride',
      'no-ride',
      'set-aside',
      'set-aside',
      'no-ride',
      'set-aside',
      'no-ride',
    ]);
  });
});

it('what is under way when it is closed is not told to be unreadable', async () => {
  const thread = decodeThread(script("case 'bad': for (;;);"));
  const under = thread.decode({ name: 'bad', bytes: new Uint8Array(8) }, NOW);
  const after = thread.decode({ name: 'good', bytes: new Uint8Array(8) }, NOW);
  const told = Promise.all([
    expect(under).rejects.toThrow('The program ends'),
    expect(after).rejects.toThrow('The program ends'),
  ]);
  await new Promise((resolve) => setTimeout(resolve, 50));
  await thread.close();
  await told;
});

it('the built thread reads what is read without it, and leaves the bytes as they were', async () => {
  const thread = decodeThread(THREAD);
  onTestFinished(() => thread.close());
  const files = [
    rideFit({ samples: straightRide(T, 600) }).bytes(),
    Buffer.from(gpxText([{ segments: [straightTrack(T, 300)] }])),
    rideFit({ samples: straightRide(T, 600) })
      .bytes()
      .subarray(0, 4000),
    textBytes('<gpx><trk>&lol;'),
    textBytes('Dear workshop'),
    new Uint8Array(),
  ];
  for (const [i, bytes] of files.entries()) {
    const file = { name: `file ${i}`, bytes };
    const before = Uint8Array.from(bytes);
    expect(await thread.decode(file, NOW)).toEqual(decodeFile(readContent, file, NOW));
    expect(Uint8Array.from(bytes)).toEqual(before);
  }
});
