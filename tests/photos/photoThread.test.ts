/** A thread that misbehaves takes neither the program nor the next photograph with it. */
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { expect, it, onTestFinished } from 'vitest';
import { photoThread } from '../../src/photos/photoThread.js';
import { ringsPicture } from '../fixtures/photos.js';
import { BUILT } from '../fixtures/program.js';

const THREAD = pathToFileURL(join(BUILT, 'workers/photo.js'));

const script = (body: string): URL =>
  new URL(
    `data:text/javascript,${encodeURIComponent(`import { parentPort } from 'node:worker_threads';
      parentPort.on('message', ([first]) => { if (first === 1) { ${body} } parentPort.postMessage('heic'); });`)}`,
  );

function started(url: URL, longestMs = 2000) {
  const thread = photoThread(url, { longestMs });
  onTestFinished(() => thread.close());
  return (first: number) => thread.make(Uint8Array.of(first));
}

it('the built thread makes a photograph, and refuses what is none', async () => {
  const thread = photoThread(THREAD);
  onTestFinished(() => thread.close());
  expect(await thread.make(await ringsPicture())).toMatchObject({ width: 800, height: 600 });
  expect(await thread.make(Buffer.from('no picture'))).toBe('no-picture');
});

it('one that hangs is ended, and the next is made', async () => {
  const make = started(script('for (;;);'), 1000);
  expect(await make(1)).toBe('too-slow');
  expect(await make(0)).toBe('heic');
});

it('one that breaks is told as damaged, and the next is made', async () => {
  const make = started(script('process.exit(3)'));
  expect(await make(1)).toBe('broken');
  expect(await make(0)).toBe('heic');
});

it('many at once are told to wait', async () => {
  const make = started(script(''));
  const all = await Promise.all(Array.from({ length: 10 }, () => make(0)));
  expect(all.filter((one) => one === 'busy')).toHaveLength(4);
});
