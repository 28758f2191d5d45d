/** A rider's own page: what it shows, what can be done from it, and that only a form changes anything. */

import { gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { READER_VERSION } from '../../src/core/ground/samples/reading.js';
import { markUnit } from '../../src/flow/facts/enterFacts.js';
import { instant } from '../../src/units.js';
import { allRides } from '../fixtures/allRides.js';
import { gpxText, straightTrack, textBytes } from '../fixtures/gpxFile.js';
import { zipFile } from '../fixtures/zipFile.js';
import { rideFile } from '../flow/flowWorld.js';
import { DOCUMENT, followed, linkOf, linksOf, RiderWorld } from '../flow/riderWorld.js';
import { plain, signedIn } from './visitor.js';
import { cheapHash, NAME, PASSWORD } from './webWorld.js';

const BELOW = [
  '',
  '/rides',
  '/files',
  '/mails',
  '/data',
  '/forget',
  '/units/F-1',
  '/units/F-1/lower-leg/ask',
];

async function opened(options: Parameters<typeof RiderWorld.open>[0] = {}) {
  const world = await RiderWorld.open(options);
  return { world, home: linkOf(await world.reminderTo('r1@example.org'), 'page') };
}

const contact = async (world: RiderWorld) => {
  const riderId = await world.flow.id('rider', 'r1');
  return world.store.read((tx) => tx.contacts.find(riderId));
};

type Sent = readonly (readonly [name: string, bytes: Uint8Array])[];

async function send(world: RiderWorld, home: string, files: Sent, rest: Record<string, string> = {}) {
  const body = new FormData();
  for (const [name, bytes] of files) body.append('files', new File([new Uint8Array(bytes)], name));
  for (const [name, value] of Object.entries(rest)) body.append(name, value);
  return followed(
    world.app,
    await world.app.request(`${new URL(home).pathname}/files`, { method: 'POST', body }),
  );
}

describe('a rider’s own page', () => {
  it('marks a ride that was not read again because its file is gone, there and on the unit’s page', async () => {
    const { world, home } = await opened();
    const { rides } = await world.flow.take(rideFile('2026-06-08T08:00:00Z', 60));
    const shown = async () => plain(await world.text(`${home}/rides`));
    expect(await shown()).not.toContain('not read again');
    await world.store.write(async (tx) => {
      const { readingIds } = (await tx.rides.find(rides[0]!))!;
      await tx.rereads.put(readingIds[0]!, READER_VERSION, { outcome: 'kept' }, world.flow.entry.at);
    });
    expect(await shown()).toMatch(/1\.0 h not read again/);
    const account = { name: NAME, passwordHash: cheapHash(PASSWORD), role: 'owner' } as const;
    await world.store.write((tx) => tx.accounts.add(account));
    const visitor = await signedIn(world.app);
    expect(plain(await visitor.text('/units/F-1'))).toMatch(/1\.0 h not read again/);
    expect(plain(await visitor.text('/units/F-1/card'))).toContain(
      'Of the latest rides one was not read again: its file is gone.',
    );
    // Once its file came again it is like any other.
    await world.store.write(async (tx) => {
      const ride = (await tx.rides.find(rides[0]!))!;
      const [row] = await tx.readings.getMany(ride.readingIds);
      await tx.rereads.put(
        row!.id,
        READER_VERSION,
        { outcome: 'read', reading: { ...row!.reading, profile: '[]' } },
        world.flow.entry.at,
      );
    });
    expect(await shown()).not.toContain('not read again');
  });

  it('shows bikes and units with hours, state and likely date, and names nobody', async () => {
    const { world, home } = await opened();
    const text = plain(await world.text(home));
    expect(text).toContain('Moss Hopper fork F-1 Comes next lower-leg service, due');
    expect(text).toContain('Terrain hours (estimate) 52.0 h of 50 h Moving hours 52.0 h of 75 h');
    expect(text).toContain('Second bike No fork or shock is entered for this bike yet.');
    expect(text).not.toContain('Brine');
    for (const below of BELOW) {
      const response = await world.get(home + below);
      expect(response.status, below).toBe(200);
      const markup = await response.text();
      for (const secret of ['r1@example.org', '555 0101', 'Rider 1']) expect(markup).not.toContain(secret);
      expect(response.headers.get('referrer-policy')).toBe('no-referrer');
      expect(response.headers.get('cache-control')).toBe('no-store');
    }
  });

  it('runs its own scripts on the pages for files and rides, sends by one alone, and none anywhere else', async () => {
    const { world, home } = await opened();
    for (const below of BELOW) {
      const csp = (await world.get(home + below)).headers.get('content-security-policy');
      const within = (pages: readonly string[]): string => (pages.includes(below) ? "'self'" : "'none'");
      expect(csp).toContain(`script-src ${within(['/files', '/rides'])}; connect-src ${within(['/files'])}`);
    }
    const script = /<script type="module" src="([^"]+)"/.exec(await world.text(`${home}/files`))![1]!;
    const response = await world.app.request(script);
    expect(response.headers.get('content-type')).toContain('text/javascript');
    expect((await response.text()).length).toBeGreaterThan(500);
  });

  it('changes nothing when it is opened, all of it, many times', async () => {
    const { world, home } = await opened();
    const before = [await world.facts(), await contact(world), (await world.mails()).length];
    for (const below of [...BELOW, '/history']) for (let i = 0; i < 10; i++) await world.get(home + below);
    expect([await world.facts(), await contact(world), (await world.mails()).length]).toEqual(before);
  });

  it('leads to nothing of another rider', async () => {
    const { world, home } = await opened();
    const before = await world.facts();
    for (const tag of ['F-2', 'F-99']) {
      const pages = await Promise.all(
        ['', '/lower-leg/ask', '/lower-leg/done'].map((act) => world.text(`${home}/units/${tag}${act}`)),
      );
      for (const text of pages) expect(plain(text)).toContain('No longer on this bike');
      const fields = { on: '2026-06-03', kind: 'lower-leg' };
      expect((await world.post(`${home}/units/${tag}/lower-leg/done`, fields)).status).toBe(422);
    }
    const [theirs, unknown] = await Promise.all(
      ['F-2', 'F-99'].map((tag) => world.text(`${home}/units/${tag}/lower-leg/ask`)),
    );
    expect(theirs!.replaceAll('F-2', 'F-99')).toBe(unknown);
    expect(await world.facts()).toBe(before);
  });

  it('is void once the links were taken back, and after 60 days gives way to a fresh one', async () => {
    const { world, home } = await opened();
    world.now = '2026-08-20T09:00:00Z';
    for (const below of BELOW) expect(await world.text(home + below)).toContain('Send me a fresh link');
    const files = await send(world, home, [['a.fit', rideFile('2026-06-09T08:00:00Z', 60)]]);
    expect(files.status).toBe(422);
    expect(await (await world.post(home, { action: 'fresh' })).text()).toContain('on its way');
    const fresh = (await world.beat()).find((mail) => mail.subject.includes('a fresh link'))!;
    const now = linkOf(fresh, 'page');
    expect((await world.get(now)).status).toBe(200);
    const riderId = await world.flow.id('rider', 'r1');
    await world.store.write((tx) => tx.contacts.revokeLinks(riderId));
    for (const below of BELOW) expect((await world.get(now + below)).status).toBe(404);
    expect((await send(world, now, [['a.fit', rideFile('2026-06-09T08:00:00Z', 60)]])).status).toBe(404);
  });

  it('asks for a day and logs a service by the same forms as the mails', async () => {
    const { world, home } = await opened();
    const asked = await world.post(`${home}/units/F-1/lower-leg/ask`, { day: '2026-06-11' });
    expect(plain(await asked.text())).toContain('You asked for Thursday 11 June');
    expect(plain(await world.text(home))).toContain('Thursday 11 June, asked for. Change or cancel');
    const path = /href="([^"]+)">Change or cancel/.exec(await world.text(home))![1]!;
    expect(path).toBe(`${new URL(home).pathname}/units/F-1/lower-leg/ask`);
    const withdraw = () => world.post(`${home}/units/F-1/lower-leg/ask`, { action: 'withdraw' });
    expect(plain(await (await withdraw()).text())).toContain('You no longer ask for that day');
    expect(await world.lead('F-1')).toMatchObject({ state: 'open', day: null });
    expect((await withdraw()).status).toBe(422);
    const mails = (await world.beat()).map((mail) => mail.subject);
    expect(mails.filter((subject) => subject.includes('asks for'))).toEqual([]);
    await world.post(`${home}/units/F-1/lower-leg/ask`, { day: '2026-06-12' });
    expect(plain(await world.text(home))).toContain('Friday 12 June, asked for');
    const done = { on: '2026-06-03', kind: 'lower-leg' };
    const answer = plain(await (await world.post(`${home}/units/F-1/lower-leg/done`, done)).text());
    expect(answer).toContain('lower-leg service of 3 June');
    expect(answer).toContain('Back to your bikes');
    expect(plain(await world.text(`${home}/units/F-1`))).toContain(
      '3 June lower-leg service at another workshop',
    );
    await world.flow.expectSound();
  });

  it('moves an older ride, or takes it off all bikes, and nothing before it is chosen', async () => {
    const { world, home } = await opened();
    for (let on = 1; on <= 9; on++)
      await world.flow.take(rideFile(`2026-06-0${on}T10:00:00Z`, 60), { bike: 'b1' });
    const before = (await world.flow.due('F-1')).movingHoursSince;
    const page = await world.text(`${home}/rides`);
    const rideOf = (day: number) => new RegExp(`<option value="(\\w+)">${day} June`).exec(page)![1]!;
    expect((await world.post(`${home}/rides`, { say: 'move', ride: '', bike: '' })).status).toBe(422);
    const move = { say: 'move', ride: rideOf(1), bike: await world.flow.id('bike', 'b1b') };
    expect(plain(await (await world.post(`${home}/rides`, move)).text())).toContain(
      'now counts for Second bike',
    );
    const off = { say: 'move', ride: rideOf(9), bike: 'none' };
    expect(plain(await (await world.post(`${home}/rides`, off)).text())).toContain('no longer counts');
    expect((await world.flow.due('F-1')).movingHoursSince).toBeCloseTo(before - 2, 4);
    await world.flow.expectSound();
  });

  it('says in a box of a marked fork what the mail says: do not ride, why, whom to call; no hours, no date, no day', async () => {
    const { world, home } = await opened();
    const unitId = await world.flow.id('unit', 'F-1');
    await world.store.write((tx) => markUnit(tx, unitId, true, 'a crack at the crown', world.flow.entry));
    const page = await world.text(home);
    const [box = ''] = /<div class="said" role="alert">.*?<\/div>/s.exec(page) ?? [];
    expect(plain(box)).toBe(
      'Stop riding: have it checked first. Why: a crack at the crown Please write to bench@example.org.',
    );
    expect(page).not.toMatch(/lower-leg\/ask"/);
    expect(plain(page)).not.toMatch(/52 of 50 h/);
  });

  it('stops reminders and takes them up again, and speaks another language', async () => {
    const { world, home } = await opened();
    await world.post(`${home}/mails`, { action: 'stop' });
    expect((await contact(world))?.unsubscribedAt).not.toBeNull();
    await world.post(`${home}/mails`, { action: 'again' });
    expect((await contact(world))?.unsubscribedAt).toBeNull();
    const answer = await (await world.post(`${home}/mails`, { action: 'language', language: 'pt' })).text();
    expect(answer).toContain('A língua está guardada.');
    expect(await world.text(home)).toContain('<html lang="pt">');
    expect(await contact(world)).toMatchObject({ name: 'Rider 1', email: 'r1@example.org', language: 'pt' });
    const wrong = { action: 'language', language: 'xx' };
    expect((await world.post(`${home}/mails`, wrong)).status).toBe(422);
  });

  it('shows all that is held as a page to read: bikes, units, services, rides, files, mails, days', async () => {
    const { world, home } = await opened();
    await world.flow.take(rideFile('2026-06-08T08:00:00Z', 90), { name: 'read-me.fit' });
    await world.post(`${home}/units/F-1/lower-leg/done`, {
      on: '2026-06-01',
      kind: 'lower-leg',
      by: 'at-home',
    });
    const page = plain(await world.text(`${home}/data`));
    for (const said of ['Moss Hopper, trail', 'fork F-1', '8 June ride Moss Hopper 1.5 h'])
      expect(page).toContain(said);
    for (const said of ['1 June service: lower-leg service', 'read-me.fit', 'known, and confirmed by you'])
      expect(page).toContain(said);
    const file = await (await world.post(`${home}/data`, {})).json();
    expect(file).toMatchObject({
      units: [{ tag: 'F-1' }],
      services: [{ unit: 'F-1', serviceKind: 'lower-leg', on: '2026-06-01', by: 'at-home' }],
    });
    expect(JSON.stringify(file)).not.toContain('F-2');
  });

  it('gives all that is held of the rider as a file, by a form only', async () => {
    const { world, home } = await opened();
    expect((await world.get(`${home}/data`)).headers.get('content-disposition')).toBeNull();
    const response = await world.post(`${home}/data`, {});
    expect(response.headers.get('content-disposition')).toBe(
      'attachment; filename="my-data-2026-06-10.json"',
    );
    const held = (await response.json()) as { rider: object; bikes: object[] };
    expect(held.rider).toMatchObject({ id: 'r1', email: 'r1@example.org' });
    expect(held.bikes).toHaveLength(2);
    expect(JSON.stringify(held)).not.toMatch(/"r2"|r2@|Rider 2/);
  });

  it('gives the rider’s history as a list in the rider’s words, by a form only', async () => {
    const { world, home } = await opened();
    expect((await world.get(`${home}/history`)).status).toBe(404);
    const english = await world.post(`${home}/history`, {});
    expect(english.headers.get('content-type')).toBe('text/csv; charset=utf-8');
    expect(english.headers.get('content-disposition')).toBe('attachment; filename="history-2026-06-10.csv"');
    const lines = (await english.text()).split('\n');
    expect(lines[0]).toBe('Day,What,Bike,Unit,Service,Moving hours,Terrain hours (estimate)');
    expect(lines.some((line) => line.includes(',on the bike,'))).toBe(true);
    expect(lines.join()).not.toContain('Rider 2');
    await world.post(`${home}/mails`, { action: 'language', language: 'pt' });
    expect(await (await world.post(`${home}/history`, {})).text()).toContain('posta na bicicleta');
  });

  it('forgets the rider after the box was ticked, and not before', async () => {
    const { world, home } = await opened();
    expect((await world.post(`${home}/forget`, {})).status).toBe(422);
    expect(await contact(world)).toBeDefined();
    const response = await world.post(`${home}/forget`, { sure: 'yes' });
    expect(await response.text()).toContain('You are forgotten');
    expect(await world.store.read((tx) => tx.contacts.list())).toHaveLength(1);
    for (const below of BELOW) expect((await world.get(home + below)).status).toBe(404);
    expect(await world.flow.due('F-1')).toMatchObject({ terrainHoursSince: 52 });
    await world.flow.expectSound();
  });

  it('stands in every reminder, and files are handed over from the mail that misses rides', async () => {
    const world = await RiderWorld.open();
    for (let week = 0; week < 6; week++)
      await world.flow.take(rideFile(`2026-04-${String(2 + 4 * week).padStart(2, '0')}T08:00:00Z`, 60));
    const mail = await world.reminderTo('r1@example.org');
    expect([...linksOf(mail).keys()]).toContain('page');
    // Files came on one day alone, so nobody knows how often they come: six weeks without any are asked about.
    world.now = '2026-07-27T09:00:00Z';
    await world.beat();
    const silence = world.sent.find((one) => one.subject.startsWith('No rides since'));
    expect(linksOf(silence!).get('page')).toMatch(/\/files$/);
    expect((await world.get(linksOf(silence!).get('page')!)).status).toBe(200);
  });
});

describe('the workshop', () => {
  const HERE = 'http://bench.example.org';
  async function atTheDesk(riders: readonly object[] = DOCUMENT.riders) {
    const document = { ...DOCUMENT, riders };
    const world = await RiderWorld.open({ document, publicUrl: HERE, isOneClick: false });
    const account = { name: NAME, passwordHash: cheapHash(PASSWORD), role: 'owner' } as const;
    await world.store.write((tx) => tx.accounts.add(account));
    const visitor = await signedIn(world.app, HERE);
    const act = (name: string) => visitor.send('/riders/r1', `/riders/r1/${name}`, {});
    return { world, visitor, act };
  }
  const linkOn = (page: string): string => /href="([^"]+\/r\/page\/[^"]+)"/.exec(page)![1]!;

  it('makes a link that is shown once, and takes all links back', async () => {
    const { world, visitor, act } = await atTheDesk();
    const link = linkOn(await (await act('link')).text());
    expect((await world.get(link)).status).toBe(200);
    expect(await visitor.text('/riders/r1')).not.toContain('/r/page/');
    expect(plain(await (await act('revoke')).text())).toContain('All links of this rider are taken back.');
    expect((await world.get(link)).status).toBe(404);
    const next = linkOn(await (await act('link')).text());
    expect((await world.get(next)).status).toBe(200);
    expect((await visitor.get('/riders/nobody')).status).toBe(404);
  });

  it('mails the link to a confirmed address, once however often it is asked, and to no other', async () => {
    const { world, act } = await atTheDesk();
    await act('mail');
    expect((await act('mail')).status).toBe(200);
    const mails = (await world.beat()).filter((mail) => mail.subject.endsWith('your bikes and hours'));
    expect(mails.map((mail) => mail.to.address)).toEqual(['r1@example.org']);
    expect((await world.get(linkOf(mails[0]!, 'page'))).status).toBe(200);
    const unsure = await atTheDesk([
      { ...DOCUMENT.riders[0]!, addressConfirmed: false },
      DOCUMENT.riders[1]!,
    ]);
    expect(plain(await (await unsure.act('mail')).text())).toContain('A mail asks the rider first');
    const sent = await unsure.world.beat();
    expect(sent.filter((mail) => mail.subject.includes('your bikes'))).toEqual([]);
    const asks = sent.find((mail) => [...linksOf(mail).keys()].includes('address'))!;
    expect([asks.to.address, [...linksOf(asks).keys()]]).toEqual(['r1@example.org', ['address']]);
    expect((await unsure.world.post(linkOf(asks, 'address'), { action: 'confirm' })).status).toBe(200);
    const follow = (await unsure.world.beat()).filter((mail) =>
      mail.subject.endsWith('your bikes and hours'),
    );
    expect(follow.map((mail) => mail.to.address)).toEqual(['r1@example.org']);
    expect((await unsure.world.get(linkOf(follow[0]!, 'page'))).status).toBe(200);
    const nowhere = await atTheDesk([{ ...DOCUMENT.riders[0]!, email: null }, DOCUMENT.riders[1]!]);
    const refused = await nowhere.act('mail');
    expect(refused.status).toBe(409);
    expect(plain(await refused.text())).toContain('No mail goes out');
  });
});

describe('files that a rider sends', () => {
  const track = (days: number) =>
    textBytes(
      gpxText([{ type: 'cycling', segments: [straightTrack(Date.parse(`2026-05-${days}T08:00:00Z`), 900)] }]),
    );

  it('are answered one by one in plain words, many at once, packed or not', async () => {
    const { world, home } = await opened();
    const response = await send(world, home, [
      ['first.fit', rideFile('2026-06-08T08:00:00Z', 90)],
      ['again.fit', rideFile('2026-06-08T08:00:00Z', 90)],
      ['packed.gpx.gz', gzipSync(track(20))],
      ['all.zip', zipFile([21, 22].map((on) => ({ name: `rides/${on}.gpx`, bytes: track(on) })))],
      ['holiday.jpg', textBytes('no ride at all')],
      ['nothing.fit', new Uint8Array()],
      ['empty.zip', zipFile([])],
    ]);
    expect(response.status).toBe(200);
    const text = plain(await response.text());
    expect(text).toContain('first.fit It counts. 8 June, 1.5 h, on Moss Hopper.');
    expect(text).toContain('again.fit It counted before; nothing was added.');
    expect(text).toContain('packed.gpx.gz It counts. 20 May');
    expect(text).toContain('all.zip/rides/21.gpx It counts. 21 May');
    expect(text).toContain('all.zip/rides/22.gpx It counts. 22 May');
    expect(text).toContain(
      'holiday.jpg It could not be used. It is no ride file: neither FIT nor GPX nor TCX.',
    );
    expect(text).toContain('nothing.fit It could not be used. It is empty.');
    expect(text).toContain('empty.zip There is no file in this archive.');
    expect((await world.flow.due('F-1')).movingHoursSince).toBeCloseTo(53.5, 3);
    await world.flow.expectSound();
  });

  it('leave out what an export holds beside its rides in one row, and name damaged ride files', async () => {
    const { world, home } = await opened();
    const photos = Array.from({ length: 150 }, (_, i) => ({
      name: `media/${i}.jpg`,
      bytes: textBytes(`no ride at all ${i}`),
    }));
    const rest = [
      { name: 'rides/21.gpx', bytes: track(21) },
      { name: 'rides/22.fit', bytes: textBytes('no ride at all') },
    ];
    const response = await send(world, home, [
      ['export.zip', zipFile([...photos, ...rest])],
      ['photos.zip', zipFile(photos.slice(0, 1))],
    ]);
    const markup = await response.text();
    expect(markup.match(/role="rowheader"/g)).toHaveLength(4);
    const text = plain(markup);
    expect(text).toContain('export.zip/rides/21.gpx It counts. 21 May');
    expect(text).toContain(
      'export.zip/rides/22.fit It could not be used. It is no ride file: neither FIT nor GPX nor TCX.',
    );
    expect(text).toContain('export.zip 150 files in it hold no ride and were left out.');
    expect(text).toContain('photos.zip One file in it holds no ride and was left out.');
    const came = await world.store.read((tx) => tx.files.countCameIn(instant(0)));
    expect(came).toEqual({ ride: 1, 'set-aside': 1 });
  });

  it('that were ridden indoors are said to add no hours, and none is', async () => {
    const { world, home } = await opened();
    const indoors = rideFile('2026-06-08T08:00:00Z', 90, { subSport: 'indoor_cycling' });
    for (const name of ['first.fit', 'again.fit']) {
      const text = plain(await (await send(world, home, [[name, indoors]])).text());
      expect(text).toContain('It was ridden indoors: it wears no suspension, so no hours are added.');
      expect(text).not.toContain('counts.');
    }
    expect(await world.flow.due('F-1')).toMatchObject({ movingHoursSince: 52 });
  });

  it('go to the bike that was chosen, and to no other rider’s', async () => {
    const { world, home } = await opened();
    const [second, brine] = [await world.flow.id('bike', 'b1b'), await world.flow.id('bike', 'b2')];
    const first = [['a.fit', rideFile('2026-06-08T08:00:00Z', 60)]] as const;
    expect(plain(await (await send(world, home, first, { bike: second })).text())).toContain(
      'on Second bike.',
    );
    const other = [['b.fit', rideFile('2026-06-07T08:00:00Z', 60)]] as const;
    expect(plain(await (await send(world, home, other, { bike: brine })).text())).not.toContain('Brine');
    expect((await world.flow.due('F-2')).movingHoursSince).toBe(52);
  });

  it('that ask something are answered on the page of rides', async () => {
    const { world, home } = await opened();
    const untimed = textBytes(
      gpxText([
        {
          type: 'cycling',
          segments: [straightTrack(0, 900).map(({ time: _, ...point }) => point)],
        },
      ]),
    );
    const sent = await (await send(world, home, [['no-times.gpx', untimed]])).text();
    expect(plain(sent)).toContain('It waits for an answer.');
    expect(sent).toContain(`${new URL(home).pathname}/rides`);
    expect(plain(await world.text(home))).toContain('One ride needs an answer from you');
    const page = await world.text(`${home}/rides`);
    const ride = /name="ride" value="([^"]+)"/.exec(page)![1]!;
    const fields = { ride, say: 'on-minutes', on: '2026-06-07', at: '09:30', minutes: '60' };
    const wrong = await world.post(`${home}/rides`, { ...fields, minutes: '1h75' });
    expect(wrong.status).toBe(422);
    const again = await wrong.text();
    for (const typed of ['2026-06-07', '09:30', '1h75']) expect(again).toContain(`value="${typed}"`);
    expect((await world.post(`${home}/rides`, { ...fields, ride: 'no-such-ride' })).status).toBe(422);
    const answer = await world.post(`${home}/rides`, { ...fields, minutes: '1h20' });
    const answered = plain(await answer.text());
    expect(answered).toContain('It counts now');
    expect(answered).toContain('7 June Moss Hopper 1.3 h');
    await world.flow.expectSound();
  });

  it('are answered to the script in JSON, with the same words, in the rider’s language', async () => {
    const riders = DOCUMENT.riders.map((one) => ({ ...one, language: 'pt' }));
    const { world, home } = await opened({ document: { ...DOCUMENT, riders } });
    const body = new FormData();
    body.append('files', new File([textBytes('nonsense')], 'x.fit'));
    const response = await world.app.request(`${new URL(home).pathname}/files`, {
      method: 'POST',
      body,
      headers: { accept: 'application/json' },
    });
    expect(await response.json()).toEqual({
      answers: [
        {
          file: 'x.fit',
          asks: false,
          says: 'Não se pôde usar. Não é um ficheiro de volta: nem FIT, nem GPX, nem TCX. Exporte a volta num destes.',
        },
      ],
      sum: '',
    });
  });

  it('are refused whole where there are none, too many or too much, and the limits are told before', async () => {
    const { world, home } = await opened();
    const page = plain(await world.text(`${home}/files`));
    expect(page).toContain('At most 64 MB and 100 files at a time');
    expect((await send(world, home, [])).status).toBe(422);
    const many = Array.from({ length: 101 }, (_, i) => [`${i}.fit`, textBytes('x')] as const);
    const refused = await send(world, home, many);
    expect(refused.status).toBe(422);
    expect(await refused.text()).toContain('At most 100 files at a time. Nothing was taken.');
    const large = await send(world, home, [['large.zip', new Uint8Array(65_000_000)]]);
    expect(large.status).toBe(422);
    expect(await large.text()).toContain('More than 64 MB came at once. Nothing was taken.');
    expect(await world.store.read((tx) => allRides(tx))).toEqual([]);
  });
});
