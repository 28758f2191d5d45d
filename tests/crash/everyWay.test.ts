/** One ride through every way that there is, by a program that is killed meanwhile: the same hours, and once. */
import { mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as later } from 'node:timers/promises';
import { gzipSync } from 'node:zlib';
import { expect, it, onTestFinished } from 'vitest';
import { seeded } from '../../samples/seeded.js';
import { expectSound } from '../faults/serving.js';
import { gpxText, straightTrack, textBytes } from '../fixtures/gpxFile.js';
import { madeMail } from '../fixtures/madeMail.js';
import { hasMailServer, startMailServer } from '../fixtures/mailServer.js';
import { scratchFolder } from '../fixtures/program.js';
import { runBuilt, runHere } from '../fixtures/runHere.js';
import { hasRclone, hasSyncthing } from '../fixtures/syncTools.js';
import { tcxText } from '../fixtures/tcxFile.js';
import { zipFile } from '../fixtures/zipFile.js';
import { type RideToHand, WAYS, type Way, WaysWorld } from './waysWorld.js';

const FOLDERS = ['folder', 'synced', 'webdav'] as const;
const hasAll = hasMailServer && hasRclone && hasSyncthing;
const LEFT_OUT = hasAll ? '' : ' (left out: dovecot-imapd, rclone or syncthing is not installed)';
const ASKED = process.env.STANCHION_KILLS;
const KILLS = ASKED === undefined ? 3 : Number(ASKED);
const SEED = Number(process.env.STANCHION_SEED ?? 1);
const DAY_MS = 86_400_000;
const TODAY_MS = Math.floor(Date.now() / DAY_MS) * DAY_MS;
/** Units: seconds. */
const RIDE_S = 1800;
const WAIT = { timeout: 120_000, interval: 500 };

const pointsOf = (n: number) => straightTrack(TODAY_MS - (n + 1) * DAY_MS, RIDE_S + 1);

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

/** A sound ride with what careless or hostile people send along with it. */
const GOOD: RideToHand = {
  name: 'good.gpx',
  bytes: textBytes(gpxText([{ type: 'cycling', segments: [pointsOf(0)] }])),
};
const BAD: readonly RideToHand[] = [
  {
    name: 'entities.gpx',
    bytes: textBytes('<?xml version="1.0"?><!DOCTYPE gpx [<!ENTITY a "aa">]><gpx>&a;</gpx>'),
  },
  {
    name: 'broken.fit',
    bytes: Uint8Array.of(14, 16, 0, 0, 4, 0, 0, 0, 46, 70, 73, 84, 0, 0, 1, 2, 3, 4, 5, 6),
  },
  { name: 'bomb.gpx.gz', bytes: gzipSync(Buffer.alloc(40_000_000, 32)) },
  { name: 'outside.zip', bytes: zipFile([{ name: '../../outside.gpx', bytes: GOOD.bytes }]) },
];

it.runIf(hasAll)(
  `what is abused is told where each looks, the sound ride beside it counts, and no stranger gets in${LEFT_OUT}`,
  async () => {
    const server = await startMailServer();
    onTestFinished(() => server.stop());
    const world = await WaysWorld.open(server);
    const rides = [BAD[0]!, GOOD, ...BAD.slice(1)];
    for (const ride of rides) await world.hand.mail(ride);
    await world.start();
    const atOnce: readonly Way[] = ['page', 'share', 'cable', 'command'];
    for (const ride of rides) {
      for (const way of atOnce) {
        const said = await world.hand[way](ride);
        expect(said, `${way} ${ride.name}`).toContain(
          ride.name === GOOD.name && way === 'cable' ? 'It counts.' : ride.name,
        );
        if (ride !== GOOD) expect(said, `${way} ${ride.name}`).toMatch(/set-aside|could not be used/);
      }
      for (const way of FOLDERS) await world.hand[way](ride);
    }
    await strangersTry(world);
    const expected = await expectedOf([GOOD]);
    await expect.poll(() => world.hours(), WAIT).toEqual(expected);
    for (const way of FOLDERS)
      await expect
        .poll(() => [GOOD, ...BAD].filter(({ name }) => !world.told(way).includes(`${name}`)), WAIT)
        .toEqual([]);
    await expect.poll(() => world.told('folder'), WAIT).toContain('link.gpx');
    await world.stop();
    // A mail is answered some minutes after the last one came.
    await world.start(new Date(Date.now() + 15 * 60_000));
    await expect.poll(() => world.mailed('mail'), WAIT).toContain('One ride counts');
    for (const { name } of BAD) expect(world.mailed('mail')).toContain(name);
    await world.stop();
    expect(await world.hours()).toEqual(expected);
    expectSound(world.data);
  },
  300_000,
);

/** Nobody has this one: whatever it counted for would show. */
const STRANGE: RideToHand = {
  name: 'strange.gpx',
  bytes: textBytes(gpxText([{ type: 'cycling', segments: [pointsOf(9).slice(0, 300)] }])),
};

/** Without what each user holds nothing is taken: refused, sent to sign in, or broken off while it is sent. */
async function strangersTry(world: WaysWorld): Promise<void> {
  const { keys, url } = world;
  const forged = `${keys.page.slice(0, -3)}AAA/files`;
  const cable = { token: keys.token, rider: keys.riderId };
  const elsewhere = { 'sec-fetch-site': 'cross-site', origin: 'https://elsewhere.example' };
  const said = [
    await world.send(forged, STRANGE, { accept: 'application/json' }),
    await world.send('/r/own/share', STRANGE, { 'sec-fetch-site': 'none' }),
    await world.send('/r/own/share', STRANGE, { cookie: keys.device, ...elsewhere }),
    await world.send('/ways/files', STRANGE, { origin: url }, cable),
    await world.send(
      '/ways/files',
      STRANGE,
      { cookie: keys.cookie, origin: url },
      { ...cable, token: 'x'.repeat(43) },
    ),
  ];
  for (const one of said) expect(one ?? '').toMatch(/^$|^40[34] /);
  expect(await world.command(STRANGE, 'nobody')).toContain('"error"');
  const to = keys.mail.replace(/-[0-9a-f]{4}/, '-0000');
  expect(to).not.toBe(keys.mail);
  await world.mail.put(await madeMail({ to, files: [STRANGE] }));
  mkdirSync(join(world.inbox, 'nobody'));
  writeFileSync(join(world.inbox, 'nobody', STRANGE.name), STRANGE.bytes);
  symlinkSync(join(world.inbox, 'nobody', STRANGE.name), join(world.inbox, 'folder', 'link.gpx'));
}

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
  const [first] = rides;
  const again: RideToHand[] = [
    { name: 'again.gpx', bytes: first!.bytes },
    { name: 'packed.tcx.gz', bytes: gzipSync(tcxText(pointsOf(rides.length - 1))) },
    { name: 'other.tcx', bytes: textBytes(tcxText(pointsOf(0))) },
  ];
  const mails = world.mailsDone();
  for (const ride of again) await world.hand.mail(ride);
  await world.start();
  for (const ride of again) {
    for (const way of ['page', 'command', 'share', 'cable'] as const)
      expect(await world.hand[way](ride), `${way} ${ride.name}`).toMatch(
        /counted-already|joined|It counted before|together they count once/,
      );
    for (const way of FOLDERS) await world.hand[way](ride);
  }
  for (const way of FOLDERS)
    await expect.poll(() => again.filter(({ name }) => !world.told(way).includes(name)), WAIT).toEqual([]);
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
