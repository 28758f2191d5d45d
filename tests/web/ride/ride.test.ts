import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';
import { type CourseName, getCourse } from '../../../samples/courses.js';
import { fitRide } from '../../../samples/fitRide.js';
import { gpxRide } from '../../../samples/gpxRide.js';
import { type Ridden, rideOver } from '../../../samples/ridden.js';
import { fitOptions } from '../../../samples/season.js';
import type { Recording } from '../../../src/core/ground/samples/recording.js';
import { listDue } from '../../../src/flow/due/listDue.js';
import { pages as en } from '../../../src/languages/en/pages/index.js';
import { pages as pt } from '../../../src/languages/pt/pages/index.js';
import { allRides } from '../../fixtures/allRides.js';
import { take, takeFile } from '../takeTrack.js';
import { plain, signedIn, Visitor } from '../visitor.js';
import { DOCUMENT, NOW, type WebWorld, webWorld } from '../webWorld.js';

const ROOT = resolve(import.meta.dirname, '../../..');

/** Invented, on the morning of 8 June. */
const ridden = (course: CourseName): Ridden =>
  rideOver({
    course: getCourse(course),
    seed: `page ${course}`,
    startMs: Date.parse('2026-06-08T07:00:00Z'),
    pace: 1,
    sampling: 'second',
    halts: 2,
    stopsRecorder: false,
  });

const evening = ridden('evening trail');
const asFit = (ride: Ridden, subSport: 'mountain' | 'downhill' = 'mountain'): Uint8Array =>
  fitRide(ride, fitOptions(subSport));

const recordedRides = async ({ store }: WebWorld) =>
  (await store.read((tx) => allRides(tx))).filter((ride) => ride.source === 'recorded');

async function opened(...files: readonly { readonly name: string; readonly bytes: Uint8Array }[]) {
  const world = await webWorld();
  for (const file of files) await takeFile(world, { ...file, rider: 'r1' });
  const visitor = await signedIn(world.app);
  const [ride] = await recordedRides(world);
  const markup = ride === undefined ? '' : await visitor.text(`/rides/${ride.id}`);
  return { world, visitor, ride: ride!, markup, text: plain(markup) };
}

const lowerLegOf = async ({ store }: WebWorld) =>
  (await store.read((tx) => listDue(tx, NOW))).find(
    (row) => row.unit === 'F-0001' && row.serviceKind === 'lower-leg',
  )!;

test('a ride shows the hours that its unit was charged, and why an hour weighs what it does', async () => {
  const { world, text, markup } = await opened({ name: 'a <b>.fit', bytes: asFit(evening) });
  const due = await lowerLegOf(world);
  const [, moving, weight, terrain] =
    /Moving hours ([\d.]+) h Weight of an hour ([\d.]+) Terrain hours ([\d.]+) h/.exec(text)!.map(Number);
  // 45 hours by hand are charged to the unit besides it.
  expect(moving).toBeCloseTo(due.movingHoursSince - 45, 1);
  expect(terrain).toBeCloseTo(due.terrainHoursSince - 45, 1);
  expect(weight! * (due.movingHoursSince - 45)).toBeCloseTo(due.terrainHoursSince - 45, 1);
  expect(text).toMatch(/An estimate: ground .*; the elevation in the file is good\./);
  expect(text).toMatch(/Severity \(estimate\) [\d.]+ Elevation good \(0\.9\d of 1\) Assumed before 1\.00/);
  expect(text).toContain('Green trail bike , by the type of ride Rider Pia Lanternby');
  expect(text).toContain('Charged to F-0001');
  expect(text).toContain('Kind, by the file mountain');
  expect(text).toContain('Nothing was left out of the moving time.');
  expect(text).toContain('a <b>.fit FIT 8 June, 08:00');
  expect(markup).not.toMatch(/\blat|\blon\b/);
});

test('moving time by severity adds up to the ride, and its weights to the weight', async () => {
  const { text, ride } = await opened({ name: 'a.fit', bytes: asFit(evening) });
  const [, minutes, weight] = /all (\d+) min ([\d.]+)/.exec(text)!.map(Number);
  expect(minutes).toBe(Math.round(ride.movingS / 60));
  expect(weight).toBeCloseTo(ride.terrainMs / ride.movingS / 1000, 2);
  const rows = [...text.matchAll(/([\d.]+) (smooth|typical|rough) (under 1|\d+) min ([\d.]+)/g)];
  const told = rows.reduce((sum, row) => sum + (Number(row[3]) || 0), 0);
  expect(Math.abs(told - minutes!)).toBeLessThanOrEqual(rows.length);
  const weights = rows.map((row) => Number(row[4]));
  expect(weights).toEqual([...weights].sort((a, b) => a - b));
});

test('two recordings of one ride stand side by side, with what each gives', async () => {
  const { text, world, ride } = await opened(
    { name: 'wrist.fit', bytes: asFit(evening) },
    { name: 'phone.gpx', bytes: gpxRide(evening, { type: 'cycling' }) },
  );
  expect(await recordedRides(world)).toHaveLength(1);
  expect(ride.readingIds).toHaveLength(2);
  expect(text).toMatch(/wrist\.fit FIT /);
  expect(text).toMatch(/phone\.gpx GPX /);
  expect([...text.matchAll(/its ground is used/g)]).toHaveLength(1);
  expect([...text.matchAll(/joined: moving time that the other did not see/g)]).toHaveLength(1);
});

test('a damaged recording is named, and covered by a sound one', async () => {
  const whole = asFit(evening);
  const { text } = await opened({ name: 'cut.fit', bytes: whole.slice(0, Math.round(whole.length * 0.7)) });
  expect(text).toContain('its ground is used damaged: only a part could be read');
  const both = await opened(
    { name: 'cut.fit', bytes: whole.slice(0, Math.round(whole.length * 0.7)) },
    { name: 'whole.fit', bytes: whole },
  );
  expect(both.text).toMatch(
    /cut\.fit .* damaged, and covered by the other damaged: only a part could be read/,
  );
});

test('what was not ridden up is told as left out, and what is unsure is asked with every climb to tick', async () => {
  const lifts = await opened({ name: 'park.fit', bytes: asFit(ridden('park day'), 'downhill') });
  expect(lifts.text).toMatch(/An estimate: .*; \d+ min up that was not ridden left out\./);
  expect(lifts.text).toMatch(/Left out \d+ min up that was not ridden/);
  const van = await opened({ name: 'van.fit', bytes: asFit(ridden('van day'), 'downhill') });
  expect(van.text).toContain('This ride waits in the tray and does not count yet: Not all of the way up may');
  expect(van.markup).toContain(`href="/tray#q-${van.ride.id}"`);
  expect(van.text).not.toContain('Charged to');
  const tray = await van.visitor.text('/tray');
  const boxes = [...tray.matchAll(/name="(climb-\d+)" value="yes"( checked)?>([^<]+)/g)];
  expect(boxes.length).toBeGreaterThanOrEqual(3);
  for (const [, , , label] of boxes) expect(label).toMatch(/^\d+: \d\d:\d\d, \d+ min, \d+ metres up$/);
  expect(tray).toContain('stroke-width="4"');
  const none = await van.visitor.send('/tray', `/tray/${van.ride.id}`, { say: 'climbs' });
  expect(none.headers.get('location')).toContain('done=counted');
  const without = plain(await van.visitor.text(`/rides/${van.ride.id}`));
  expect(without).toMatch(/Left out 4\d min up that was not ridden/);
  expect(without).toContain('Charged to F-0001');
});

test('landings that the recorder felt stand on ride and unit, and add what the workshop says', async () => {
  const world = await webWorld();
  const jumps = Array.from({ length: 30 }, (_, i) => ({
    atMs: evening.timeMs[0]! + (i + 1) * 20_000,
    hangS: i === 7 ? 0.8 : 0.5,
    distanceM: null,
  }));
  const heard = (one: Recording): Recording => ({
    ...one,
    recorder: { profileName: null, localOffsetMs: null, motor: null, ...one.recorder, jumpCount: 30, jumps },
  });
  await takeFile(world, { name: 'felt.fit', rider: 'r1', bytes: asFit(evening), heard });
  const visitor = await signedIn(world.app);
  const [ride] = await recordedRides(world);
  const page = plain(await visitor.text(`/rides/${ride!.id}`));
  expect(page).toContain('Landings 30, 15.3 s in the air, longest 0.8 s: at up to 3.9 m/s');
  expect(page).toContain('landings recorded: 30, 15 s in the air, which add 3 min');
  expect(plain(await visitor.text('/units/F-0001'))).toContain(
    'Landings 30 since the last service, longest 0.8 s',
  );
  const form = { smooth: '0.5', typical: '1', rough: '2', landing: '0' };
  const saved = await visitor.send('/settings/weights', '/settings/weights', form);
  expect(saved.headers.get('location')).toContain('saved');
  const [without] = await recordedRides(world);
  expect(ride!.groundMs - without!.groundMs).toBe(153_000);
  expect(await visitor.text('/settings/weights')).toMatch(/name="landing"[^>]*value="0"/);
  const wrong = await visitor.send('/settings/weights', '/settings/weights', { ...form, landing: '61' });
  expect(wrong.status).toBe(422);
});

test('hours entered by hand have no ground to draw, and say who entered them', async () => {
  const { world, visitor } = await opened();
  const [hand] = await world.store.read((tx) => allRides(tx));
  const text = plain(await visitor.text(`/rides/${hand!.id}`));
  expect(text).toContain('Weight of an hour 1.00 Terrain hours 3.0 h Severity (estimate) 1.00, typical');
  expect(text).toContain('Entered by hand, by import');
  expect(text).not.toMatch(/An estimate:|Recordings|The ground/);
});

test('a track without times says so, and claims no weight', async () => {
  const world = await webWorld();
  await take(world, { name: 'plan.gpx', rider: 'r1', hasTimes: false, type: 'cycling' });
  const [ride] = await recordedRides(world);
  const text = plain(await (await signedIn(world.app)).text(`/rides/${ride!.id}`));
  expect(text).toContain('Ride, no time known This ride waits in the tray');
  expect(text).not.toContain('Weight of an hour');
});

test('the page of a unit and of a bike lead to the ride', async () => {
  const { visitor, ride } = await opened({ name: 'a.fit', bytes: asFit(evening) });
  for (const page of ['/units/F-0001', '/bikes/b1'])
    expect(await visitor.text(page)).toContain(`<a href="/rides/${ride.id}">8 June</a>`);
});

test('a ride that there is not is not found, and a stranger sees none', async () => {
  const { world, visitor, ride } = await opened({ name: 'a.fit', bytes: asFit(evening) });
  expect((await visitor.get('/rides/no-such-ride')).status).toBe(404);
  const stranger = await new Visitor(world.app).get(`/rides/${ride.id}`);
  expect(stranger.status).toBe(303);
  expect(stranger.headers.get('location')).toContain('/sign-in');
});

test('the page speaks Portuguese, the explanation too', async () => {
  const document = { ...DOCUMENT, workshop: { ...DOCUMENT.workshop, language: 'pt' } };
  const world = await webWorld({ document });
  await takeFile(world, { name: 'a.fit', rider: 'r1', bytes: asFit(evening) });
  const [ride] = await recordedRides(world);
  const text = plain(await (await signedIn(world.app)).text(`/rides/${ride!.id}`));
  expect(text).toMatch(/Uma estimativa: terreno .*; a altitude no ficheiro é boa\./);
  expect(text).toContain('Nada ficou de fora do tempo em movimento.');
  expect(text).not.toMatch(/\b(the|hours|ground)\b/i);
});

/** Every code that is noted of a file, as they stand in the source. */
function noteCodes(): string[] {
  const text = readFileSync(join(ROOT, 'src/core/ground/samples/notes.ts'), 'utf8');
  const [, codes] = /export type NoteCode =([^;]*);/.exec(text)!;
  return [...codes!.matchAll(/'([a-z-]+)'/g)].map(([, code]) => code!).sort();
}

test('everything that is noted of a file has its words, and nothing else has', () => {
  const codes = noteCodes();
  expect(codes).toContain('position-jump');
  expect(codes).toContain('time-without-zone');
  expect(Object.keys(en.ride.notes).sort()).toEqual(codes);
  expect(Object.keys(pt.ride.notes).sort()).toEqual(codes);
});

test('what was odd in a file is told in words', async () => {
  const clean = new TextDecoder().decode(gpxRide(evening, { type: 'cycling' }));
  const bytes = new TextEncoder().encode(clean.replaceAll(/(<time>[^<]*)Z<\/time>/g, '$1</time>'));
  const { text } = await opened({ name: 'local.gpx', bytes });
  expect(text).toMatch(/What was odd in the files Times without a zone were read as UTC \([\d,]+\)\./);
});

test('a joining shows whose clock was off, and is undone and made again from the page', async () => {
  const copy = gpxRide(evening, { type: 'cycling', clockShiftMs: 3_600_000 });
  const { world, visitor, ride, text } = await opened(
    { name: 'a.fit', bytes: asFit(evening) },
    { name: 'copy.gpx', bytes: copy },
  );
  expect(await recordedRides(world)).toHaveLength(1);
  expect(text).toMatch(/its clock was off by 1(\.0)* h/);
  const [, copyId] = ride.readingIds;
  const form = await visitor.send(`/rides/${ride.id}`, `/tray/${ride.id}`, { say: 'apart', about: copyId! });
  const own = form.headers.get('location')!;
  const parted = await recordedRides(world);
  expect(parted).toHaveLength(2);
  const page = await visitor.text(own);
  expect(plain(page)).toContain('Not the same ride, somebody said');
  const other = parted.find((one) => !own.endsWith(one.id))!;
  await visitor.send(own, own.replace('/rides/', '/tray/'), { say: 'with', about: other.id });
  expect((await recordedRides(world)).map(({ movingS, shiftsMs }) => [movingS, shiftsMs])).toEqual([
    [ride.movingS, ride.shiftsMs],
  ]);
});

test('of a bike with a motor nothing is left out without asking', async () => {
  const { world, visitor, ride } = await opened({
    name: 'park.fit',
    bytes: asFit(ridden('park day'), 'downhill'),
  });
  expect(ride.question).toBeNull();
  const page = await visitor.text('/bikes/b1');
  const [, fact] = /name="fact" value="([^"]+)"/.exec(page)!;
  const name = /id="bike-name"[^>]*value="([^"]*)"/.exec(page)![1]!;
  const [, owner] = /name="ownerSeen" value="([^"]*)"/.exec(page)!;
  const form = {
    fact: fact!,
    ownerSeen: owner!,
    owner: owner!,
    name,
    type: 'trail',
    fleet: '',
    motor: 'yes',
  };
  expect((await visitor.send('/bikes/b1', '/bikes/b1/change', form)).headers.get('location')).toContain(
    'saved',
  );
  const [asked] = await recordedRides(world);
  expect(asked!.question).toBe('climbs');
  expect(await visitor.text('/bikes/b1')).toMatch(/name="motor" value="yes" checked/);
});
