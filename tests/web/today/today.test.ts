import { randomUUID } from 'node:crypto';
import { expect, it } from 'vitest';
import { READER_VERSION } from '../../../src/core/ground/samples/reading.js';
import { queueNotices } from '../../../src/flow/mail/queueNotices.js';
import { findFilesLeft, sayFilesLeft } from '../../../src/flow/take/filesLeft.js';
import type { Heartbeat, LoopPulse } from '../../../src/ports/loops.js';
import { instant, MINUTE_MS, seconds, thousandths } from '../../../src/units.js';
import { createApp } from '../../../src/web/app.js';
import { STYLE_PATH } from '../../../src/web/styles/style.js';
import { allRides } from '../../fixtures/allRides.js';
import { booked } from '../../fixtures/booked.js';
import { take, takeFile } from '../takeTrack.js';
import { teamWorld } from '../teamWorld.js';
import { plain, signedIn } from '../visitor.js';
import { DOCUMENT, NOW, webWorld } from '../webWorld.js';

it('the first page tells what came in, what is due, what waits, and how the machine is', async () => {
  const world = await teamWorld();
  await takeFile(world, {
    name: 'holiday.txt',
    rider: 'r1',
    bytes: new TextEncoder().encode('no ride at all'),
  });
  const text = plain(await (await world.as('owner')).text('/'));
  expect(text).toContain('Today, Wednesday 10 June');
  expect(text).toMatch(/2 files since Tuesday 9 June\. .*1 set aside/);
  expect(text).toMatch(/holiday\.txt .*Pia Lanternby set aside/);
  expect(text).toContain('1 ride needs an answer.');
  expect(text).toMatch(/1 coming up/);
  expect(text).toContain('Nobody asks for a day, and none is booked.');
  expect(text).toContain('No mail was refused in the last 30 days.');
  expect(text).toContain('run elsewhere');
});

it('a file of a fleet’s bike is the fleet’s', async () => {
  const world = await teamWorld();
  await take(world, { name: 'pit.gpx', bike: 'x1' });
  expect(plain(await (await world.as('owner')).text('/'))).toMatch(/pit\.gpx .*Team Bramblewick with rides/);
});

it('says before reminders begin that nothing goes, and of mails without a relay that nobody gets them', async () => {
  const { workshop, ...rest } = DOCUMENT;
  const { app, store } = await webWorld({
    document: { ...rest, workshop: { ...workshop, remindersFrom: null } },
  });
  const visitor = await signedIn(app);
  const before = await visitor.text('/');
  expect(plain(before)).toContain('Reminders have not begun: nothing goes to riders but “stop riding”.');
  expect(before).toContain('href="/reminders"');
  await visitor.send('/reminders', '/reminders', { begin: 'yes' });
  expect(plain(await visitor.text('/'))).not.toContain('have not begun');
  await queueNotices({ store, clock: { now: () => NOW }, ids: { uuid: randomUUID } });
  await store.write(async (tx) => {
    for (const { id } of await tx.mails.list()) await tx.mails.update(id, { state: 'not-sent' });
  });
  const text = await visitor.text('/');
  expect(plain(text)).toContain('No mail relay is set: mails are only saved as files, and nobody gets them.');
  expect(text).toContain('href="/mails?state=not-sent"');
  expect(plain(await visitor.text('/mails?state=not-sent'))).toMatch(/Pia Lanternby reminder .*not sent/);
});

it('a rider without an address whose fork must not be ridden stands on it by name and phone, until told', async () => {
  const riders = [
    { id: 'r1', name: 'Pia Lanternby', email: null, phone: '+000 555 0101' },
    DOCUMENT.riders[1],
  ];
  const { app } = await webWorld({ document: { ...DOCUMENT, riders } });
  const visitor = await signedIn(app);
  await visitor.send('/units/F-0001', '/units/F-0001/mark', { why: 'a crack at the crown' });
  const call = /1 call to make .*Pia Lanternby .*\+000 555 0101 .*F-0001/;
  expect(plain(await visitor.text('/'))).toMatch(call);
  expect(plain(await visitor.text('/riders/r1'))).toContain('F-0001');
  await visitor.send('/reminders', '/reminders/F-0001/told', { kind: 'lower-leg' });
  expect(plain(await visitor.text('/'))).not.toMatch(call);
});

it('a refused mail and a day asked for stand on it', async () => {
  const world = await teamWorld();
  await world.store.write(async (tx) => {
    const [mail] = await tx.mails.list();
    await tx.mails.update(mail!.id, { state: 'refused', settledAt: instant(NOW - MINUTE_MS) });
  });
  await booked(world.store, 'F-0001', '2026-06-12', { at: NOW, as: 'asked-for' });
  const text = plain(await (await world.as('tech')).text('/'));
  expect(text).toContain('1 mail was refused for good in the last 30 days.');
  expect(text).toMatch(/1 rider asks for a day .* Friday 12 June/);
});

it('says when the last round ended, and in words what stands still', async () => {
  const { deps } = await webWorld();
  const pulse = {
    name: 'folder',
    runningS: null,
    sinceEndedS: 12.2,
    pauseS: 30,
    failedInARow: 0,
    longestS: 900,
    doing: null,
    why: null,
  };
  const withLoop = (over: Partial<typeof pulse>) =>
    createApp({ ...deps, vitals: { loops: () => [{ ...pulse, ...over }], sinceScanS: () => 12 } });
  expect(plain(await (await signedIn(withLoop({}))).text('/'))).toContain('ended 12 seconds ago');
  const still = plain(await (await signedIn(withLoop({ sinceEndedS: 4000 }))).text('/'));
  expect(still).toContain('Something is not running as it should');
  expect(still).toContain('The loop "folder" stands still.');
});

it('says that the clock jumped, and believes it again at a press of the button', async () => {
  const { deps, store } = await webWorld();
  const lastAt = instant(NOW - 40 * 86_400_000);
  await store.write((tx) => tx.clockWord.put({ lastAt, doubt: null }));
  const visitor = await signedIn(createApp(deps));
  const page = await visitor.text('/');
  expect(plain(page)).toMatch(/clock of this machine jumped ahead.*no reminder goes out/);
  expect(page).toContain('action="/clock"');
  expect((await visitor.send('/', '/clock', {})).status).toBe(303);
  expect(await visitor.text('/')).not.toContain('action="/clock"');
  expect(await store.read((tx) => tx.clockWord.find())).toEqual({ lastAt: NOW, doubt: null });
});

it('says that the clock jumped in the workshop’s language', async () => {
  const document = { ...DOCUMENT, workshop: { ...DOCUMENT.workshop, language: 'pt' } };
  const { deps, store } = await webWorld({ document });
  const lastAt = instant(NOW + 2 * 86_400_000);
  await store.write((tx) => tx.clockWord.put({ lastAt, doubt: null }));
  const page = plain(await (await signedIn(createApp(deps))).text('/'));
  expect(page).toMatch(/O relógio desta máquina saltou para trás\. Marca [^;]*2026[^;]*; .* nada se apaga/);
  expect(page).not.toContain('clock of this machine');
  expect(page).not.toContain('Mostre isto a quem cuida da máquina');
});

it('the first page with all that it loads is under 50 KB', async () => {
  const world = await teamWorld();
  const owner = await world.as('owner');
  const page = await owner.text('/');
  const loaded = [...page.matchAll(/(?:href|src)="(\/(?:style|icon)[^"]*)"/g)].map(([, path]) => path!);
  expect(loaded).toEqual([STYLE_PATH, '/icon.svg']);
  let bytes = Buffer.byteLength(page);
  for (const path of loaded) bytes += Buffer.byteLength(await owner.text(path));
  expect(bytes).toBeLessThan(50_000);
  expect(bytes).toBeGreaterThan(10_000);
});

it('what reading files again changed stands on it by unit, before and after, for two weeks', async () => {
  const world = await webWorld();
  const visitor = await signedIn(world.app);
  expect(plain(await visitor.text('/'))).not.toContain('Files read again');
  const unitId = await world.store.read(async (tx) => (await tx.handles.find('unit', 'F-0001'))!);
  const change = {
    unitId,
    serviceKind: 'lower-leg',
    before: { movingS: seconds(36_000), terrainMs: thousandths(45_000_000) },
    after: { movingS: seconds(34_200), terrainMs: thousandths(39_600_000) },
  };
  const body = { version: READER_VERSION, files: 12, lost: 1, kept: 2, changes: [change] };
  await world.store.write((tx) => tx.facts.add({ kind: 'reread', body, at: NOW, by: 'stanchion' }));
  const text = plain(await visitor.text('/'));
  expect(text).toMatch(/Files read again Kept ride files were read again \(12\), /);
  expect(text).toContain('Hours changed in 1 service periods.');
  expect(text).toContain('Rides that were not found again wait in the tray: 1.');
  expect(text).toContain('Recordings whose file is no longer kept stay as they were: 2.');
  expect(text).toMatch(
    /Unit Service Hours before Hours now F-0001 lower-leg service 10 h moving, 12\.5 h terrain 9\.5 h moving, 11 h terrain/,
  );
  world.setNow(instant(NOW + 15 * 24 * 60 * MINUTE_MS));
  expect(plain(await (await signedIn(world.app)).text('/'))).not.toContain('Files read again');
});

it('recordings that are still to be read again are counted on it', async () => {
  const world = await webWorld();
  await take(world, { name: 'old.gpx', rider: 'r1', type: 'cycling' });
  await world.store.write(async (tx) => {
    const [ride] = await allRides(tx).then((rides) => rides.filter(({ source }) => source === 'recorded'));
    await tx.rereads.retry(ride!.readingIds);
  });
  expect(plain(await (await signedIn(world.app)).text('/'))).toContain(
    'better than before: 1 recordings are still to be read again.',
  );
});

it('units that must not be ridden stand first, each in a box with its reason and its next job', async () => {
  const world = await teamWorld();
  const owner = await world.as('owner');
  await owner.send('/units/F-0001', '/units/F-0001/mark', { why: 'a crack at the crown' });
  const page = await owner.text('/');
  expect(plain(page)).toMatch(
    /What is due .*F-0001 fork.* lower-leg service stop riding a crack at the crown .*Green trail bike Pia Lanternby F-0003 .*history unknown/,
  );
  const box = /class="stop"><strong>stop riding<\/strong><small>a crack at the crown/;
  for (const path of ['/', '/due', '/units', '/riders/r1', '/leads', '/find?q=fork'])
    expect({ path, isBoxed: box.test(await owner.text(path)) }).toEqual({ path, isBoxed: true });
  await owner.send('/bench', '/bench/arrive', { tag: 'F-0001' });
  expect(await owner.text('/bench')).toMatch(box);
  expect(await owner.text('/units/F-0001')).toMatch(/class="stop"><strong>.*a crack at the crown/);
});

it('a mailbox that does not answer stands above the units; what is well stands below them', async () => {
  const world = await webWorld();
  const pulse = {
    ...{ name: 'mailbox', runningS: null, sinceEndedS: 3, pauseS: 5, longestS: 900, doing: null },
    ...{ failedInARow: 0, why: null },
  };
  const today = async (failing: object): Promise<string> => {
    const vitals = { loops: () => [{ ...pulse, ...failing }], sinceScanS: () => 4 };
    return plain(await (await signedIn(createApp({ ...world.deps, vitals }))).text('/'));
  };
  expect(await today({})).toMatch(/What is due .*The machine Folder, reminders and delivery run/);
  expect(await today({ failedInARow: 3, failingS: 600, why: 'The mailbox does not answer.' })).toMatch(
    /The machine Something is not running.*mail are not taken: The mailbox does not answer\..*Who comes today.*What is due/,
  );
});

it.each([
  ['en', 'The command “import” is running: 1,200 left. The command “check” is running: 7 left.'],
  ['pt', 'O comando “import” está a correr: faltam 1200. O comando “check” está a correr: faltam 7.'],
])('says of commands at work how much is left, in %s', async (language, says) => {
  const world = await webWorld({ document: { ...DOCUMENT, workshop: { ...DOCUMENT.workshop, language } } });
  const calm = { freeBytes: 9e9, diskBytes: 9e9, storeBytes: 1, backups: null, ranS: 1 };
  const atWork = [
    { command: 'import', left: 1200 },
    { command: 'check', left: 7 },
  ];
  const machine = async () => ({ ...calm, decoder: { inHandS: null, brokeInARow: 0 }, atWork });
  expect(plain(await (await signedIn(createApp({ ...world.deps, machine }))).text('/'))).toContain(says);
});

it('says how many files are still to be read: by the drop folder, and by a command elsewhere', async () => {
  const { deps, store } = await webWorld();
  const pulse = (left: number | null): LoopPulse => ({
    ...{ name: 'folder', runningS: 2, sinceEndedS: null, pauseS: 5, failedInARow: 0, longestS: 900 },
    ...{ doing: null, why: null, left },
  });
  const at = async (left: number | null) =>
    plain(
      await (
        await signedIn(createApp({ ...deps, vitals: { loops: () => [pulse(left)], sinceScanS: () => 1 } }))
      ).text('/'),
    );
  expect(await at(1480)).toContain('1,480 files in the drop folder are still to be read.');
  // So few are read before anybody has read that.
  expect(await at(3)).not.toContain('still to be read');
  expect(await at(null)).not.toContain('still to be read');
  const heartbeats = (silentS: number): Heartbeat[] => [
    {
      ...{ host: 'bench-2', isOwn: false, isGone: false, home: 'x', silentS },
      loops: [{ ...pulse(400), name: 'take' }],
    },
  ];
  const left = (silentS: number) =>
    store.read((tx) =>
      findFilesLeft({ ...tx, heartbeats: { ...tx.heartbeats, list: async () => heartbeats(silentS) } }, []),
    );
  expect(await left(30)).toEqual({ folder: 0, take: 400 });
  expect(await left(121)).toEqual({ folder: 0, take: 0 });
  // What a command said of itself is gone once it has ended.
  await store.write((tx) => sayFilesLeft(tx, 400));
  expect(await store.read((tx) => tx.heartbeats.list())).toMatchObject([
    { isOwn: true, loops: [{ name: 'take', left: 400 }] },
  ]);
  await store.write((tx) => sayFilesLeft(tx, null));
  expect(await store.read((tx) => tx.heartbeats.list())).toEqual([]);
});

it('a unit on loan whose day has passed stands on it with its bike, until it is off', async () => {
  const fittings = [
    ...DOCUMENT.fittings,
    { unit: 'A-0001', bike: 'b1', from: '2026-06-01', to: null, loanUntil: '2026-06-09' },
  ];
  const { app } = await webWorld({ document: { ...DOCUMENT, fittings } });
  const visitor = await signedIn(app);
  const late = 'A-0001 : on loan on Green trail bike, and was to be back on 9 June.';
  const page = await visitor.text('/');
  expect(plain(page)).toContain(`Waits for an answer ${late}`);
  expect(page).toMatch(/<a href="\/units\/A-0001">A-0001<\/a>/);
  expect((await visitor.send('/units/A-0001', '/units/A-0001/off', { offFrom: '2026-06-10' })).status).toBe(
    303,
  );
  expect(plain(await visitor.text('/'))).not.toContain('on loan on');
});

it('mails with rides that could not be read stand on it for 30 days, with the way to whose they were', async () => {
  const world = await webWorld();
  const left = { name: '', outcome: 'set-aside', indoor: false, code: 'mail-left', rides: [] } as const;
  const come = (key: string, files: (typeof left)[], days: number): Promise<void> =>
    world.store.write(async (tx) => {
      const at = instant(NOW - days * 24 * 60 * MINUTE_MS);
      const riderId = (await tx.handles.find('rider', 'r1'))!;
      const { id } = await tx.mailed.begin(key, riderId, at);
      await tx.mailed.finish(id, { files, answer: null }, at);
    });
  const visitor = await signedIn(world.app);
  const said = async (): Promise<string | undefined> =>
    /\d+ mails? with rides could not be read in the last 30 days\. How files come/.exec(
      plain(await visitor.text('/')),
    )?.[0];
  await come('read', [], 1);
  await come('long ago', [left], 31);
  expect(await said()).toBeUndefined();
  await come('one', [left], 29);
  expect(await said()).toMatch(/^1 mail with rides/);
  await come('two', [left], 1);
  expect(await said()).toMatch(/^2 mails with rides/);
  expect(plain(await visitor.text('/ways'))).toContain('could not be read');
});
