/** The pages behind links in mails: what opens them, what they show, and that only a form changes anything. */

import { describe, expect, it } from 'vitest';
import { LINK_PURPOSES } from '../../../src/core/links.js';
import { addHours } from '../../../src/flow/facts/enterFacts.js';
import { feedPath } from '../../../src/flow/mail/links.js';
import { bookLead } from '../../../src/flow/plan/leads.js';
import { listLeads } from '../../../src/flow/plan/listLeads.js';
import { day } from '../../../src/units.js';
import { allRides } from '../../fixtures/allRides.js';
import { runs } from '../../fixtures/runs.js';
import { rideFile } from '../../flow/flowWorld.js';
import {
  DOCUMENT,
  linkOf,
  linksOf,
  NOW,
  PUBLIC_URL,
  RiderWorld,
  SEAL,
  withWorkshop,
} from '../../flow/riderWorld.js';
import { plain } from '../visitor.js';

/** On a server, which is asked over a wire, ten. */
const OPENED = runs(100, 10);
const LATER = '2026-08-20T09:00:00Z';

async function opened(options: Parameters<typeof RiderWorld.open>[0] = {}) {
  const world = await RiderWorld.open(options);
  const mail = await world.reminderTo('r1@example.org');
  return { world, mail, link: (purpose: string) => linkOf(mail, purpose) };
}

describe('a link', () => {
  it('stands in the mail for each thing that a rider can answer', async () => {
    const { mail } = await opened();
    expect([...linksOf(mail).keys()].sort()).toEqual(['ask', 'done', 'gone', 'later', 'page', 'stop']);
    for (const url of linksOf(mail).values()) {
      expect(url.startsWith('https://bench.example.org/r/')).toBe(true);
      expect(mail.html).toContain(url);
    }
  });

  it('is not made where no public address is set', async () => {
    const world = await RiderWorld.open();
    const mails = await world.flow.mail();
    expect(mails).toHaveLength(3);
    for (const mail of world.flow.sent) {
      expect(mail.text).not.toContain('http');
      expect(mail.html).not.toContain('href');
    }
  });

  it('changes nothing when it is opened, a hundred times each', async () => {
    const world = await RiderWorld.open();
    await world.flow.take(rideFile('2026-06-08T08:00:00Z', 60));
    await world.beat();
    world.now = '2026-06-10T09:05:00Z';
    const before = await state(world);
    const urls = world.sent.flatMap((mail) => [...linksOf(mail).values()]);
    expect(urls.length).toBeGreaterThanOrEqual(11);
    for (const url of urls) {
      for (let i = 0; i < OPENED; i++) {
        expect((await world.get(url)).status, url).toBe(200);
        if (i % (OPENED / 2) === OPENED / 2 - 1)
          world.now = new Date(Date.parse(world.now) + 16 * 60_000).toISOString();
      }
      // Some scanners ask for the head alone.
      expect((await world.app.request(new URL(url).pathname, { method: 'HEAD' })).status).toBe(200);
    }
    expect(await state(world)).toEqual(before);
  }, 300_000);

  it('shows nobody’s address, phone or name, and lets no one frame, keep or refer to it', async () => {
    const { world, mail } = await opened();
    for (const [purpose, url] of linksOf(mail)) {
      const response = await world.get(url);
      const text = await response.text();
      for (const secret of ['r1@example.org', '555 0101', 'Rider 1']) expect(text).not.toContain(secret);
      expect(response.headers.get('referrer-policy')).toBe('no-referrer');
      expect(response.headers.get('cache-control')).toBe('no-store');
      expect(response.headers.get('content-security-policy')).toContain("default-src 'none'");
      // A device keeps the rider's own page, and nothing else.
      const cookie = response.headers.get('set-cookie');
      if (purpose === 'page') expect(cookie).toMatch(/^(?:__Host-)?own=.*HttpOnly/);
      else expect(cookie).toBeNull();
    }
  });

  it('that was cut is told of in the browser’s language, else the workshop’s, with what to do next', async () => {
    const { world, link } = await opened();
    const cut = new URL(link('page').slice(0, -3)).pathname;
    const inLanguage = async (language?: string): Promise<string> => {
      const headers = language === undefined ? {} : { 'accept-language': language };
      const response = await world.app.request(cut, { headers });
      expect(response.status).toBe(404);
      return response.text();
    };
    const portuguese = await inLanguage('pt,en;q=0.5');
    expect(portuguese).toContain('<html lang="pt">');
    expect(plain(portuguese)).toContain('Abra outra vez a ligação na mensagem, ou peça uma nova à oficina.');
    for (const language of ['fr', undefined])
      expect(plain(await inLanguage(language))).toContain(
        'Open the link in the mail again, or ask the workshop',
      );
  });

  it('opens no page but its own', async () => {
    const { world, link } = await opened();
    const token = link('ask').split('/').at(-1)!;
    for (const purpose of LINK_PURPOSES.filter((one) => one !== 'ask')) {
      const before = await state(world);
      const url = `https://bench.example.org/r/${purpose}/${token}`;
      expect((await world.get(url)).status).toBe(404);
      expect((await world.post(url, { action: 'stop', 'List-Unsubscribe': 'One-Click' })).status).toBe(404);
      expect(await state(world)).toEqual(before);
    }
  });

  it('opens nothing once a sign of it is changed', async () => {
    const { world, link } = await opened();
    const url = link('stop');
    for (let i = url.lastIndexOf('/') + 1; i < url.length; i += 3) {
      const other = url[i] === 'a' ? 'b' : 'a';
      const forged = url.slice(0, i) + other + url.slice(i + 1);
      expect([404, 429]).toContain((await world.post(forged, { action: 'stop' })).status);
    }
    expect((await contact(world)).unsubscribedAt).toBeNull();
  });

  it('is void once the address is another, or the links were revoked', async () => {
    const { world, link } = await opened();
    const riderId = await world.flow.id('rider', 'r1');
    await world.store.write((tx) => tx.contacts.revokeLinks(riderId));
    expect((await world.get(link('later'))).status).toBe(404);
    const second = await opened();
    await second.world.flow.import({
      ...DOCUMENT,
      riders: [{ ...DOCUMENT.riders[0]!, email: 'new@example.org' }, DOCUMENT.riders[1]!],
    });
    expect((await second.world.get(second.link('later'))).status).toBe(404);
    // Reminders stop from any mail that was ever sent.
    expect((await second.world.get(second.link('stop'))).status).toBe(200);
  });

  it('too old: changes nothing, and sends a fresh one to the known address only', async () => {
    const { world, link } = await opened();
    world.now = LATER;
    await world.beat();
    const before = await state(world);
    const page = await world.text(link('gone'));
    expect(page).toContain('Send me a fresh link');
    expect((await world.post(link('gone'), { why: 'sold' })).status).toBe(422);
    expect(await state(world)).toEqual(before);
    const fields = { action: 'fresh', email: 'thief@example.com', to: 'thief@example.com' };
    expect(await (await world.post(link('gone'), fields)).text()).toContain('on its way');
    await world.post(link('gone'), fields);
    const mails = await world.beat();
    expect(mails.map((mail) => mail.to.address)).toEqual(['r1@example.org']);
    const fresh = linkOf(mails[0]!, 'gone');
    expect(fresh).not.toBe(link('gone'));
    expect((await world.post(fresh, { why: 'stored' })).status).toBe(200);
    expect(await world.flow.due('F-1')).toMatchObject({ bike: null });
  });

  it('never stands in the log, even where its page breaks', async () => {
    const { world, link } = await opened();
    const token = link('later').split('/').at(-1)!;
    const broken = async (): Promise<never> => {
      throw new Error('the disk is gone');
    };
    const app = world.appOver({ ...world.store, read: broken, write: broken });
    const response = await app.request(new URL(link('later')).pathname);
    expect(response.status).toBe(500);
    expect(await response.text()).toContain('Nothing was changed.');
    expect(world.logged.join('\n')).toContain('the disk is gone');
    expect(world.logged.join('\n')).not.toContain(token.slice(-32));
  });

  it('is limited in how often it may be used, and a place in how many it may guess', async () => {
    const { world, link } = await opened();
    const answers: number[] = [];
    for (let i = 0; i < 22; i++) answers.push((await world.post(link('stop'), { action: 'stop' })).status);
    expect(answers.slice(0, 20)).toEqual(new Array(20).fill(200));
    expect(answers.slice(20)).toEqual([429, 429]);
    const guesses: number[] = [];
    for (let i = 0; i < 62; i++)
      guesses.push((await world.get(`https://bench.example.org/r/stop/guess${i}`)).status);
    expect(guesses.slice(0, 60)).toEqual(new Array(60).fill(404));
    expect(guesses.slice(60)).toEqual([429, 429]);
    world.now = '2026-06-10T09:16:00Z';
    expect((await world.post(link('stop'), { action: 'again' })).status).toBe(200);
  });

  it('opens its page some hundred times in a quarter of an hour, and that shuts no other link', async () => {
    const { world, link } = await opened();
    const answers = new Map<number, number>();
    for (let i = 0; i < 403; i++) {
      const { status } = await world.get(link('later'));
      answers.set(status, (answers.get(status) ?? 0) + 1);
    }
    expect([...answers]).toEqual([
      [200, 400],
      [429, 3],
    ]);
    expect((await world.get(link('stop'))).status).toBe(200);
    expect((await world.post(link('stop'), { action: 'stop' })).status).toBe(200);
    world.now = '2026-06-10T09:16:00Z';
    expect((await world.get(link('later'))).status).toBe(200);
  });

  it('speaks the rider’s language', async () => {
    const riders = DOCUMENT.riders.map((one) => ({ ...one, language: 'pt' }));
    const { world, mail } = await opened({ document: { ...DOCUMENT, riders } });
    for (const url of linksOf(mail).values()) expect(await world.text(url)).toContain('<html lang="pt">');
  });
});

describe('ask for a day', () => {
  it('is two taps: the mail, and a day; the workshop is told, and the mails are quiet', async () => {
    const { world, link } = await opened();
    const page = await world.text(link('ask'));
    expect(plain(page)).toContain('Moss Hopper, fork F-1');
    const [first = ''] = [...page.matchAll(/name="day" value="([\d-]+)"/g)].map(([, on]) => on);
    expect(first).toBe('2026-06-11');
    const answer = await world.post(link('ask'), { day: first });
    expect(plain(await answer.text())).toContain('You asked for Thursday 11 June, and the place is held.');
    expect(await world.lead('F-1')).toMatchObject({ state: 'asked-for', day: first });
    const mails = await world.beat();
    expect(mails.map((mail) => `${mail.to.address}: ${mail.subject}`)).toEqual([
      'bench@example.org: Rider 1 asks for Thursday 11 June',
    ]);
    expect(plain(await world.text(link('ask')))).toContain('You asked for Thursday 11 June.');
  });

  it('gives one place to one of two, and offers the other the next days', async () => {
    const world = await RiderWorld.open({ document: withWorkshop({ placesAWeek: 1 }) });
    const first = linkOf(await world.reminderTo('r1@example.org'), 'ask');
    const second = linkOf(await world.reminderTo('r2@example.org'), 'ask');
    const answers = await Promise.all([
      world.post(first, { day: '2026-06-11' }),
      world.post(second, { day: '2026-06-11' }),
    ]);
    expect(answers.map((one) => one.status).sort()).toEqual([200, 422]);
    const held = await world.store.read((tx) => tx.leads.list(['asked-for', 'booked']));
    expect(held.filter((lead) => lead.day === '2026-06-11')).toHaveLength(1);
    const late = answers.find((one) => one.status === 422)!;
    const page = await late.text();
    expect(page).toContain('That day has just been taken.');
    const offered = [...page.matchAll(/name="day" value="([\d-]+)"/g)].map(([, on]) => on!);
    // The week is full: the next Monday is the first day that is left.
    expect(offered[0]).toBe('2026-06-15');
    const winner = held.find((lead) => lead.day === '2026-06-11')!;
    await world.store.write((tx) =>
      bookLead(tx, winner.id, day('2026-06-11'), world.flow.entry, world.deps.ids),
    );
    const at = world.flow.entry.at;
    const { rows, path } = await world.store.read(async (tx) => ({
      rows: await listLeads(tx, at),
      path: feedPath(SEAL, tx.workshopId, await tx.leads.feedEpoch()),
    }));
    const feed = await (await world.app.request(path)).text();
    // The rows of the file for a spreadsheet, and the calendar that others read along.
    expect(rows.map(({ id, state, day: on }) => [id === winner.id, state, on]).sort()).toEqual([
      [false, 'open', null],
      [true, 'booked', '2026-06-11'],
    ]);
    expect(feed.match(/^DTSTART.*$/gm)).toEqual(['DTSTART;VALUE=DATE:20260611']);
    expect(feed).toContain('STATUS:CONFIRMED');
  });

  it('refuses a day that was not offered: closed, gone by, or far away', async () => {
    const { world, link } = await opened({ document: withWorkshop({ closedDays: ['2026-06-12'] }) });
    for (const on of ['2026-06-12', '2026-06-13', '2026-06-10', '2026-06-01', '2027-06-10', 'nonsense'])
      expect((await world.post(link('ask'), { day: on })).status, on).toBe(422);
    expect((await world.lead('F-1'))?.state).toBe('open');
  });
});

it('the page of a unit says where its hours come from: an unrecorded share of 10 % and hours by hand on their own lines', async () => {
  const world = await RiderWorld.open();
  const mail = await world.reminderTo('r1@example.org');
  await world.flow.import({
    ...DOCUMENT,
    hours: [{ bike: 'b1', on: '2026-06-02', minutes: 60 }],
    unrecorded: [{ bike: 'b1', from: '2026-06-01', share: 0.1 }],
  });
  for (const on of [4, 6]) await world.flow.take(rideFile(`2026-06-0${on}T08:00:00Z`, 135), { bike: 'b1' });
  expect(plain(await world.text(linkOf(mail, 'ask')))).not.toContain('Known when the unit came');
  const text = plain(await world.text(`${linkOf(mail, 'page')}/units/F-1`));
  // A tenth of all riding is a ninth of the 4.5 h recorded.
  expect(text).toMatch(/Known when the unit came moving 52\.0 h, terrain 52\.0 h/);
  expect(text).toMatch(/from ride files moving 4\.5 h, terrain /);
  expect(text).toMatch(/unrecorded riding an estimate, from the share that somebody gave moving 0\.5 h, /);
  expect(text).toMatch(/entered by hand moving 1\.0 h, terrain 1\.0 h/);
  expect(text).toMatch(/All together moving 58\.0 h, /);
});

describe('the other answers', () => {
  it('already done at home begins with the smallest job; at a workshop with the one that is due', async () => {
    const { world, link } = await opened();
    const page = await world.text(link('done'));
    const chosen = (name: string): string =>
      /value="([^"]+)" selected/.exec(new RegExp(`name="${name}"[\\s\\S]*?</select>`).exec(page)![0])![1]!;
    expect([chosen('by'), chosen('kind'), chosen('homeKind')]).toEqual([
      'another-workshop',
      'lower-leg',
      'lower-leg',
    ]);
    const kinds = [...page.matchAll(/<option value="(lower-leg|air-spring|damper|bushings|full)"/g)].map(
      ([, kind]) => kind,
    );
    expect(kinds.at(-1)).toBe('full');
    const answer = { on: '2026-06-09', by: 'at-home', kind: 'full', homeKind: 'lower-leg' };
    expect(plain(await (await world.post(link('done'), answer)).text())).toContain(
      'We entered the lower-leg service of 9 June',
    );
  });

  it('already done: 3 June, told on 10 June with 4.0 h since, gives 4.0 h and silence', async () => {
    const world = await RiderWorld.open();
    for (const on of [4, 6]) await world.flow.take(rideFile(`2026-06-0${on}T08:00:00Z`, 120), { bike: 'b1' });
    const link = linkOf(await world.reminderTo('r1@example.org'), 'done');
    const ahead = await world.post(link, { on: '2026-06-11', kind: 'full' });
    expect(ahead.status).toBe(422);
    expect(await ahead.text()).toMatch(/value="2026-06-11"[\s\S]*value="full" selected/);
    expect((await world.post(link, { on: '2026-06-03', kind: 'damper-nonsense' })).status).toBe(422);
    const facts = await world.facts();
    const answer = plain(await (await world.post(link, { on: '2026-06-03', kind: 'lower-leg' })).text());
    expect(answer).toContain('lower-leg service of 3 June. Since then: 4 h terrain hours');
    await world.post(link, { on: '2026-06-03', kind: 'lower-leg' });
    expect(await world.facts()).toBe(facts + 1);
    expect(await world.flow.due('F-1')).toMatchObject({ movingHoursSince: 4, state: 'in-time' });
    for (const on of ['11', '12', '15', '25']) {
      world.now = `2026-06-${on}T09:00:00Z`;
      expect((await world.mail()).filter((line) => line.startsWith('r1@'))).toEqual([]);
    }
    expect(await world.lead('F-1')).toBeUndefined();
    await world.flow.expectSound();
  });

  it('later: quiet until the chosen day, and told again after it', async () => {
    const { world, link } = await opened();
    for (const until of ['2026-06-10', '2027-01-01', '', 'x'])
      expect((await world.post(link('later'), { until })).status).toBe(422);
    const tooFar = await world.post(link('later'), { until: 'other', day: '2027-01-01' });
    expect(await tooFar.text()).toMatch(/value="other" checked[\s\S]*value="2027-01-01"/);
    expect((await world.post(link('later'), { until: 'other', day: '2026-07-01' })).status).toBe(200);
    const subjects = await world.store.read((tx) => tx.leads.listLater());
    expect(subjects).toMatchObject([{ until: '2026-07-01' }]);
  });

  it.each(['sold', 'stored'])('%s: off the bike, with no more mail about it', async (why) => {
    const { world, link } = await opened();
    expect((await world.post(link('gone'), {})).status).toBe(422);
    expect((await world.post(link('gone'), { why })).status).toBe(200);
    // What is sold is due no more, and may come back; what is stored stays on the list, on no bike.
    const due = await world.flow.due('F-1');
    if (why === 'sold') expect(due).toBeUndefined();
    else expect(due).toMatchObject({ bike: null, rider: null });
    expect(plain(await world.text(link('ask')))).toContain('No longer on this bike');
    expect((await world.post(link('done'), { on: '2026-06-09', kind: 'lower-leg' })).status).toBe(422);
    world.now = '2026-07-10T09:00:00Z';
    expect((await world.mail()).filter((line) => line.startsWith('r1@'))).toEqual([]);
    expect(await world.lead('F-1')).toBeUndefined();
    await world.flow.expectSound();
  });

  it('wrong bike: moves one of the three rides that the mail showed, to one of the rider’s own bikes', async () => {
    const world = await RiderWorld.open();
    for (const on of [2, 4, 6, 8])
      await world.flow.take(rideFile(`2026-06-0${on}T08:00:00Z`, 60), { bike: 'b1' });
    const mail = await world.reminderTo('r1@example.org');
    world.now = '2026-06-12T09:00:00Z';
    await world.flow.take(rideFile('2026-06-11T08:00:00Z', 60), { bike: 'b1' });
    const url = linkOf(mail, 'bike');
    const page = await world.text(url);
    const rides = [...page.matchAll(/<option value="(\w+)"[^>]*>(\d+ June)/g)].map(([, id, on]) => ({
      id: id!,
      on,
    }));
    expect(rides.map(({ on }) => on)).toEqual(['8 June', '6 June', '4 June']);
    const before = (await world.flow.due('F-1')).movingHoursSince;
    const [b1b, b2] = [await world.flow.id('bike', 'b1b'), await world.flow.id('bike', 'b2')];
    expect((await world.post(url, { ride: rides[0]!.id, bike: b2 })).status).toBe(422);
    expect((await world.post(url, { ride: rides[0]!.id, bike: b1b })).status).toBe(200);
    expect((await world.flow.due('F-1')).movingHoursSince).toBeCloseTo(before - 1, 4);
    await world.flow.expectSound();
  });

  it('wrong bike: moves nothing that was not chosen, and takes a ride off all of the rider’s bikes', async () => {
    const world = await RiderWorld.open();
    await world.flow.take(rideFile('2026-06-08T08:00:00Z', 60), { bike: 'b1' });
    const url = linkOf(await world.reminderTo('r1@example.org'), 'bike');
    const before = (await world.flow.due('F-1')).movingHoursSince;
    const page = await world.text(url);
    const [ride] = /(?<=<option value=")\w+(?="[^>]*>8 June)/.exec(page)!;
    for (const fields of [{}, { ride: '', bike: '' }, { ride: ride!, bike: '' }, { ride: '', bike: 'none' }])
      expect((await world.post(url, fields)).status).toBe(422);
    expect(page).not.toContain(' selected>8 June');
    const answer = await world.post(url, { ride: ride!, bike: 'none' });
    expect(plain(await answer.text())).toContain('That ride no longer counts.');
    expect((await world.flow.due('F-1')).movingHoursSince).toBeCloseTo(before - 1, 4);
    await world.flow.expectSound();
  });

  it('wrong bike: hours that somebody typed move too, or are taken back', async () => {
    const world = await RiderWorld.open();
    const bikeId = await world.flow.id('bike', 'b1');
    for (const on of ['2026-06-08', '2026-06-09'] as const)
      await world.store.write((tx) =>
        addHours(tx, { bikeId, on: day(on), minutes: 60, ground: 'typical', note: null }, world.flow.entry),
      );
    const mail = await world.reminderTo('r1@example.org');
    expect(mail.text).toContain('(entered by hand)');
    const url = linkOf(mail, 'bike');
    const rideOn = (page: string, on: string): string =>
      new RegExp(`(?<=<option value=")[\\w-]+(?="[^>]*>${on})`).exec(page)![0];
    const page = await world.text(url);
    const before = (await world.flow.due('F-1')).movingHoursSince;
    const [b1b, b2] = [await world.flow.id('bike', 'b1b'), await world.flow.id('bike', 'b2')];
    expect((await world.post(url, { ride: rideOn(page, '8 June'), bike: b2 })).status).toBe(422);
    expect((await world.post(url, { ride: rideOn(page, '8 June'), bike: b1b })).status).toBe(200);
    expect((await world.flow.due('F-1')).movingHoursSince).toBeCloseTo(before - 1, 4);
    expect((await world.post(url, { ride: rideOn(page, '9 June'), bike: 'none' })).status).toBe(200);
    expect((await world.flow.due('F-1')).movingHoursSince).toBeCloseTo(before - 2, 4);
    expect(plain(await world.text(url))).toContain('8 June, 1 h, counted for Second bike');
    await world.flow.expectSound();
  });

  it('stop: reminders end, mails about a booked day go on, and only the rider takes them up again', async () => {
    const { world, link } = await opened();
    await world.post(link('ask'), { day: '2026-06-16' });
    expect((await world.post(link('stop'), { action: 'stop' })).status).toBe(200);
    expect((await contact(world)).unsubscribedAt).not.toBeNull();
    expect(await world.text(link('stop'))).toContain('Send me reminders again');
    await world.flow.import(DOCUMENT);
    expect((await contact(world)).unsubscribedAt).not.toBeNull();
    const { bookLead } = await import('../../../src/flow/plan/leads.js');
    const lead = await world.lead('F-1');
    await world.store.write((tx) =>
      bookLead(tx, lead!.id, day('2026-06-16'), world.flow.entry, world.deps.ids),
    );
    expect(await world.mail()).toEqual(
      [
        'bench@example.org: Rider 1 asks for Tuesday 16 June',
        'r1@example.org: Booked: Moss Hopper, Tuesday 16 June',
      ].filter((line) => line.startsWith('r1@')),
    );
    expect((await world.post(link('stop'), { action: 'again' })).status).toBe(200);
    expect((await contact(world)).unsubscribedAt).toBeNull();
  });

  it('address: nothing of a ride goes out before the rider says that it is theirs', async () => {
    const riders = [{ ...DOCUMENT.riders[0]!, addressConfirmed: false }, DOCUMENT.riders[1]!];
    const { world, mail, link } = await opened({ document: { ...DOCUMENT, riders } });
    expect([...linksOf(mail).keys()]).toEqual(['address']);
    expect(mail.text).not.toMatch(/F-1|Moss/);
    expect((await world.post(link('address'), {})).status).toBe(422);
    expect(await world.mail()).toEqual([]);
    const confirmed = await world.post(link('address'), { action: 'confirm' });
    expect(confirmed.status).toBe(200);
    // It leads on to the own page.
    const [, onTo = ''] = /<a class="button primary" href="([^"]+)">Open your page/.exec(
      await confirmed.text(),
    )!;
    expect(await world.text(new URL(onTo, PUBLIC_URL).href)).toContain('Moss Hopper');
    expect(await world.mail()).toEqual(['r1@example.org: Moss Hopper: lower-leg service due']);
  });
});

const contact = async (world: RiderWorld) => {
  const riderId = await world.flow.id('rider', 'r1');
  return (await world.store.read((tx) => tx.contacts.find(riderId)))!;
};

/** All that an answer could change. */
const state = (world: RiderWorld): Promise<unknown> =>
  world.store.read(async (tx) => ({
    facts: await tx.facts.count(),
    contacts: await tx.contacts.list(),
    leads: await tx.leads.list(),
    later: await tx.leads.listLater(),
    mails: (await tx.mails.list()).length,
    rides: await allRides(tx),
  }));

it('is what these tests think it is: a Wednesday', () => expect(new Date(NOW).getUTCDay()).toBe(3));
