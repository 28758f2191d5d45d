import { expect, test } from 'vitest';
import { type CourseName, getCourse } from '../../../samples/courses.js';
import { fitRide, type SUB_SPORT } from '../../../samples/fitRide.js';
import { rideOver } from '../../../samples/ridden.js';
import { fitOptions } from '../../../samples/season.js';
import { takeFile } from '../takeTrack.js';
import { plain, signedIn } from '../visitor.js';
import { type WebWorld, webWorld } from '../webWorld.js';

const WEIGHTS = '/settings/weights';

/** Invented, each on a day of its own. */
async function hand(
  world: WebWorld,
  course: CourseName,
  subSport: keyof typeof SUB_SPORT,
  on: string,
): Promise<void> {
  const ridden = rideOver({
    course: getCourse(course),
    seed: `example ${course}`,
    startMs: Date.parse(`${on}T07:00:00Z`),
    pace: 1,
    sampling: 'second',
    halts: 2,
    stopsRecorder: false,
  });
  await takeFile(world, { name: `${on}.fit`, bytes: fitRide(ridden, fitOptions(subSport)), rider: 'r1' });
}

test('the three numbers are explained by the workshop’s own rides, each with its sentence', async () => {
  const world = await webWorld();
  const visitor = await signedIn(world.app);
  expect(plain(await visitor.text(WEIGHTS))).toContain(
    'Rough ground No ride with good elevation was on such ground yet.',
  );
  await hand(world, 'evening trail', 'mountain', '2026-06-01');
  await hand(world, 'park day', 'downhill', '2026-06-02');
  const markup = await visitor.text(WEIGHTS);
  const text = plain(markup);
  expect(text).toMatch(
    /Typical trail 1 June, 08:00 , Pia Lanternby, Green trail bike: [\d.]+ h, an hour weighs [01]\.\d\d\. An estimate: ground like a typical trail; the elevation in the file is good\./,
  );
  expect(text).toMatch(/Rough ground 2 June, 08:00 , Pia Lanternby, .*?An estimate: rough ground;/);
  expect(text).toContain('Smooth ground No ride with good elevation was on such ground yet.');
  expect(text).toContain('Roots, rocks and braking bumps are not seen.');
  expect(text).toMatch(/trail 1 too few rides/);
  const [path] = /\/rides\/[a-z0-9]+/.exec(markup)!;
  expect(plain(await visitor.text(path))).toContain('Ride of 1 June');
});

test('what the examples would weigh stands beside what they weigh, before other weights are saved', async () => {
  const world = await webWorld();
  await hand(world, 'park day', 'downhill', '2026-06-02');
  const visitor = await signedIn(world.app);
  const text = plain(await visitor.text(`${WEIGHTS}?smooth=0.5&typical=1&rough=3`));
  const [, now, then] = /an hour weighs ([\d.]+) now and would weigh ([\d.]+)\./.exec(text)!.map(Number);
  expect(now).toBeGreaterThan(1.6);
  expect(now).toBeLessThanOrEqual(2);
  expect(then).toBeGreaterThan(now! * 1.2);
  await visitor.send(WEIGHTS, WEIGHTS, { smooth: '0.5', typical: '1', rough: '3', landing: '10' });
  expect(plain(await visitor.text(WEIGHTS))).toContain(`an hour weighs ${then!.toFixed(2)}.`);
});
