import { expect, test } from 'vitest';
import { getCourse } from '../../../samples/courses.js';
import { fitRide } from '../../../samples/fitRide.js';
import { rideOver } from '../../../samples/ridden.js';
import { fitOptions } from '../../../samples/season.js';
import { allRides } from '../../fixtures/allRides.js';
import { takeFile } from '../takeTrack.js';
import { plain, signedIn } from '../visitor.js';
import { webWorld } from '../webWorld.js';

/** A day on which somebody must say which ways up were in the van. */
const vanDay = (day: string): Uint8Array =>
  fitRide(
    rideOver({
      course: getCourse('van day'),
      seed: `climbs ${day}`,
      startMs: Date.parse(`${day}T07:00:00Z`),
      pace: 1,
      sampling: 'second',
      halts: 0,
      stopsRecorder: false,
    }),
    fitOptions('downhill'),
  );

/** Both sums under the boxes of one ride. */
const sumsIn = (article: string): number[] =>
  [...article.matchAll(/<output data-sum="(?:counted|left)">([\d.]+)\u00a0h</g)].map(([, hours]) =>
    Number(hours),
  );
const entryOf = (markup: string, id: string): string =>
  markup.split('<article').find((part) => part.includes(`/tray/${id}"`))!;

test('both sums stand under the boxes, are told with the answer, and a like day offers what was said', async () => {
  const world = await webWorld();
  for (const [i, day] of ['2026-06-05', '2026-06-07'].entries())
    await takeFile(world, { name: `van-${i}.fit`, rider: 'r1', bytes: vanDay(day) });
  const rides = (await world.store.read((tx) => allRides(tx))).filter((one) => one.source === 'recorded');
  const [first, second] = rides.sort((a, b) => a.start! - b.start!);
  const visitor = await signedIn(world.app);
  const before = await visitor.text('/tray');
  const [counted, left] = sumsIn(entryOf(before, first!.id));
  const boxes = [...entryOf(before, first!.id).matchAll(/name="(climb-\d+)" value="yes"( checked)?>/g)];
  expect(counted! + left!).toBeCloseTo(first!.movingS / 3600 + left!, 1);
  expect(before).not.toContain('As answered for');

  const answered = await visitor.send('/tray', `/tray/${first!.id}`, { say: 'climbs' });
  const after = await visitor.text(answered.headers.get('location')!.split('#')[0]!);
  const [, says, saysLeft] =
    /It counts now: .*? ([\d.]+)\u00a0h count; ([\d.]+)\u00a0h of the way up do not\./
      .exec(plain(after).replaceAll(' h', '\u00a0h'))!
      .map(Number);
  expect(says! + saysLeft!).toBeCloseTo(counted! + left!, 1);
  expect(saysLeft).toBeGreaterThan(0.3);

  const offer = entryOf(after, second!.id);

  expect(plain(offer)).toContain(`As answered for Friday 5 June: 0 of ${boxes.length} ridden`);
  // Offered, not assumed: until somebody presses, the ride waits as it was judged.
  expect((await world.store.read((tx) => tx.rides.find(second!.id)))!.question).toBe('climbs');
  await visitor.send('/tray', `/tray/${second!.id}`, { say: 'climbs' });
  const page = plain(await visitor.text(`/rides/${second!.id}`));
  expect(page).toContain('Charged to F-0001');
});
