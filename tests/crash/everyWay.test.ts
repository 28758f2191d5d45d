/** One ride through every way that there is, by a program that is killed meanwhile: the same hours, and once. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as later } from 'node:timers/promises';
import { gzipSync } from 'node:zlib';
import { expect, it, onTestFinished } from 'vitest';
import { seeded } from '../../samples/seeded.js';
import { expectSound } from '../faults/serving.js';
import { gpxText, straightTrack, textBytes } from '../fixtures/gpxFile.js';
import { hasMailServer, startMailServer } from '../fixtures/mailServer.js';
import { scratchFolder } from '../fixtures/program.js';
import { runBuilt, runHere } from '../fixtures/runHere.js';
import { hasRclone, hasSyncthing } from '../fixtures/syncTools.js';
import { tcxText } from '../fixtures/tcxFile.js';
import { type RideToHand, WAYS, type Way, WaysWorld } from './waysWorld.js';

const hasAll = hasMailServer && hasRclone && hasSyncthing;
const LEFT_OUT = hasAll ? '' : ' (left out: dovecot-imapd, rclone or syncthing is not installed)';
const ASKED = process.env.STANCHION_KILLS;
const KILLS = ASKED === undefined ? 3 : Number(ASKED);
const SEED = Number(process.env.STANCHION_SEED ?? 1);
const DAY_MS = 86_400_000;
/** Units: seconds. */
const RIDE_S = 1800;
const WAIT = { timeout: 120_000, interval: 500 };

const pointsOf = (n: number) =>
  straightTrack(Math.floor(Date.now() / DAY_MS) * DAY_MS - (n + 1) * DAY_MS, RIDE_S + 1);

/** What their users do again by themselves after no answer; a folder, its tool and a mailbox need nobody. */
const PRESSED_AGAIN: readonly Way[] = ['page', 'share', 'cable', 'command', 'webdav'];

it.runIf(hasAll)(
  `one ride through every way gives the same hours once, killed in the middle and handed over again${LEFT_OUT}`,
  async () => {
    const chance = seeded(`ways ${SEED}`);
    const server = await startMailServer();
    onTestFinished(() => server.stop());
    const world = await WaysWorld.open(server);
    const rides: RideToHand[] = [];
    for (let n = 0; n < KILLS; n += 1) {
      const points = pointsOf(n);
      const ride = {
        name: `ride ${n}.gpx`,
        bytes: textBytes(gpxText([{ type: 'cycling', segments: [points] }])),
      };
      rides.push(ride);
      await world.hand.mail(ride);
      await world.start();
      const handed = WAYS.filter((way) => way !== 'mail').map((way) => world.hand[way](ride));
      await later(chance.between(0, 2500));
      await world.kill();
      await Promise.all(handed);
      await world.start();
      await Promise.all(PRESSED_AGAIN.map((way) => world.hand[way](ride)));
      await expect.poll(() => world.hours(), WAIT).toEqual(await expectedOf(rides));
      await world.stop();
      expectSound(world.data);
      if (ASKED !== undefined) process.stdout.write(`seed ${SEED}: ${n + 1} kills\n`);
    }
    await replay(world, rides);
  },
  300_000 + KILLS * 60_000,
);

/** As the command that only looks at files has it, for each way. */
async function expectedOf(rides: readonly RideToHand[]): Promise<Record<Way, string>> {
  let [movingS, terrainS] = [0, 0];
  for (const { name, bytes } of rides) {
    const file = join(scratchFolder(), name);
    writeFileSync(file, bytes);
    const [row] = (await runBuilt(['look', file, '--json'])).rows;
    const [ride] = row!.rides as { movingS: number; terrainS: number }[];
    expect(ride!.movingS).toBe(RIDE_S);
    movingS += ride!.movingS;
    terrainS += ride!.terrainS;
  }
  const hours = (s: number): number => Number((s / 3600).toFixed(4));
  return Object.fromEntries(WAYS.map((way) => [way, `${hours(movingS)} ${hours(terrainS)}`])) as Record<
    Way,
    string
  >;
}

/** The same rides once more by every way: under another name, packed, and in another format. */
async function replay(world: WaysWorld, rides: readonly RideToHand[]): Promise<void> {
  const before = await world.hours();
  const [first, second = first] = rides;
  const again: RideToHand[] = [
    { name: 'again.gpx', bytes: first!.bytes },
    { name: 'packed.gpx.gz', bytes: gzipSync(second!.bytes) },
    { name: 'other.tcx', bytes: textBytes(tcxText(pointsOf(0))) },
  ];
  const mails = world.mailsDone();
  for (const ride of again) await world.hand.mail(ride);
  await world.start();
  for (const ride of again) {
    for (const way of ['page', 'command'] as const)
      expect(await world.hand[way](ride), `${way} ${ride.name}`).toMatch(
        /counted-already|joined|It counted before|together they count once/,
      );
    for (const way of ['share', 'cable', 'folder', 'synced', 'webdav'] as const) await world.hand[way](ride);
  }
  const isTold = (way: 'folder' | 'synced' | 'webdav'): boolean =>
    again.every(({ name }) => world.told(way).includes(name));
  await expect
    .poll(() => ['folder', 'synced', 'webdav'].filter((way) => !isTold(way as 'folder')), WAIT)
    .toEqual([]);
  await expect.poll(() => world.mailsDone(), WAIT).toBe(mails + again.length);
  expect(await world.hours()).toEqual(before);
  const { rows } = await runHere(['ways', '--json', '--data', world.data]);
  const came = Object.fromEntries(
    rows.map(({ rider, ways }) => [rider, (ways as { way: string }[]).map(({ way }) => way)]),
  );
  expect(came).toEqual({
    ...{ page: ['page'], command: ['command'], mail: ['mail'], share: ['page'], cable: ['cable'] },
    ...{ folder: ['folder'], synced: ['folder'], webdav: ['folder'] },
  });
  await world.stop();
  expectSound(world.data);
}
