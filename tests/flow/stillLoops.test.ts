import { expect, test } from 'vitest';
import { stillLoops } from '../../src/flow/stillLoops.js';
import type { Heartbeat, LoopPulse } from '../../src/ports/loops.js';
import { instant } from '../../src/units.js';
import { openTestStore } from '../fixtures/storePlace.js';

const WELL: LoopPulse = {
  name: 'deliver',
  runningS: null,
  sinceEndedS: 3,
  pauseS: 5,
  failedInARow: 0,
  longestS: 900,
  doing: null,
  why: null,
};
const beatOf = (change: Partial<Heartbeat> = {}, pulse: Partial<LoopPulse> = {}): Heartbeat => ({
  ...{ host: 'bench-1', isOwn: false, isGone: false, home: '', silentS: 10 },
  loops: [{ ...WELL, ...pulse }],
  ...change,
});
const still = { loop: 'deliver', host: 'bench-1' };

test('a loop that was heard of and turns is no news', () => {
  expect(stillLoops([beatOf()])).toEqual([]);
  expect(stillLoops([beatOf({ silentS: 119 })])).toEqual([]);
});

test.each([
  ['its process ended without a word', beatOf({ isGone: true, silentS: 40 }), 40],
  ['nothing was heard for two minutes', beatOf({ silentS: 120 }), 120],
  ['it hangs in a step, though its process speaks', beatOf({}, { runningS: 901 }), 10],
  ['it is a minute late with its next step', beatOf({}, { sinceEndedS: 66 }), 10],
])('a loop of another process stands still when %s', (_, heartbeat, silentS) => {
  expect(stillLoops([heartbeat])).toEqual([{ ...still, silentS }]);
});

test('whoever was replaced is not missed, and of several the one heard of last is named', () => {
  const gone = beatOf({ isGone: true, silentS: 500 });
  expect(stillLoops([gone, beatOf()])).toEqual([]);
  expect(stillLoops([gone, beatOf({ isGone: true, silentS: 300, host: 'bench-2' })])).toEqual([
    { loop: 'deliver', host: 'bench-2', silentS: 300 },
  ]);
});

test('another drop folder is another loop, for its files are taken by nobody else', () => {
  const pulse = { name: 'folder' };
  const heartbeats = [
    beatOf({ home: 'a' }, pulse),
    beatOf({ home: 'b', host: 'bench-2', silentS: 600 }, pulse),
  ];
  expect(stillLoops(heartbeats)).toEqual([{ loop: 'folder', host: 'bench-2', silentS: 600 }]);
});

test('a loop that only an earlier version had is nobody’s to turn', () => {
  expect(stillLoops([beatOf({ isGone: true, silentS: 300 }, { name: 'all' })])).toEqual([]);
});

test('what this process says of itself is asked of itself', () => {
  expect(stillLoops([beatOf({ isOwn: true }, { runningS: 901 })])).toEqual([]);
});

test('the last word of a process is kept until it ends in order', async () => {
  const store = await openTestStore(instant(0));
  const list = () => store.read((tx) => tx.heartbeats.list());
  await store.write((tx) => tx.heartbeats.put([WELL]));
  await store.write((tx) => tx.heartbeats.put([{ ...WELL, failedInARow: 2 }]));
  const [own, ...others] = await list();
  expect(others).toEqual([]);
  expect(own).toMatchObject({ isOwn: true, isGone: false, home: '', loops: [{ ...WELL, failedInARow: 2 }] });
  expect(own!.silentS).toBeGreaterThanOrEqual(0);
  expect(own!.silentS).toBeLessThan(60);
  await store.write((tx) => tx.heartbeats.remove());
  expect(await list()).toEqual([]);
});
