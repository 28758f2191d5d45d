/** In a workshop without anything yet, every page says what it is for and leads on: by one step, a form or links. */
import { describe, expect, it, test } from 'vitest';
import { ownPageLink } from '../../src/flow/mail/links.js';
import { LANGUAGES } from '../../src/languages/index.js';
import { DOCUMENT as RIDERS, RiderWorld } from '../flow/riderWorld.js';
import { entries } from './everyRoute.js';
import { plain, signedIn, type Visitor } from './visitor.js';
import { DOCUMENT, webWorld } from './webWorld.js';

/** Those that would be a bare list without their step. */
const LISTS = [
  ...['/', '/due', '/units', '/riders', '/tray', '/leads', '/ways', '/reminders', '/mails', '/find'],
  ...[
    '/load',
    '/load/quiet',
    '/day',
    '/findings',
    '/findings/year',
    '/comebacks',
    '/kits',
    '/races',
    '/fleets',
  ],
  '/settings/home',
];

const EMPTY = { workshop: { ...DOCUMENT.workshop, remindersFrom: undefined } };

const mainOf = (page: string): string => /<main[^>]*>([\s\S]*)<\/main>/.exec(page)?.[1] ?? '';
const addressesIn = (markup: string): string[] =>
  [...markup.matchAll(/<a\b[^>]*\bhref="(\/[^"#]*)/g)].map(([, address]) =>
    address!.replaceAll('&amp;', '&'),
  );
const stepsIn = (markup: string): string[] =>
  [...markup.matchAll(/<div class="next-step">([\s\S]*?)<\/div>/g)].map(([, step]) => step!);

/** Every page of the table of routes that names nothing, as somebody sees it. */
async function pagesOf(visitor: Visitor): Promise<Map<string, string>> {
  const seen = new Map<string, string>();
  for (const { method, path, names, who } of entries) {
    if (method !== 'GET' || !Array.isArray(who) || Object.keys(names).length > 0) continue;
    const answer = await visitor.get(path);
    if (answer.status === 200 && (answer.headers.get('content-type') ?? '').includes('html'))
      seen.set(path, mainOf(await answer.text()));
  }
  return seen;
}

describe.each(LANGUAGES)('the pages of an empty workshop, in %s', (language) => {
  const opened = async (): Promise<Visitor> => {
    const { app } = await webWorld({ document: { workshop: { ...EMPTY.workshop, language } } });
    return signedIn(app);
  };

  it('say what they are for', async () => {
    const pages = await pagesOf(await opened());
    expect(pages.size).toBeGreaterThan(38);
    for (const [path, main] of pages) {
      expect(main, path).toMatch(/<h1>[^<]{2,}<\/h1>/);
      expect(plain(main.replace(/<form[\s\S]*?<\/form>/g, '')).length, path).toBeGreaterThan(40);
    }
  });

  it('lead on: a list by exactly one step, each other page by a form or a link that opens', async () => {
    const visitor = await opened();
    const pages = await pagesOf(visitor);
    for (const path of LISTS) {
      const [step, ...more] = stepsIn(pages.get(path) ?? '');
      expect([path, more.length], path).toEqual([path, 0]);
      expect(plain(step ?? '').length, path).toBeGreaterThan(30);
      expect(addressesIn(step ?? ''), path).toHaveLength(1);
    }
    for (const [path, main] of pages) {
      const links = addressesIn(main);
      expect(links.length + main.split('<button').length - 1, path).toBeGreaterThan(0);
      for (const link of links)
        expect([path, link, (await visitor.get(link)).status]).toEqual([path, link, 200]);
    }
  });
});

test('a step is not offered where there is something to show', async () => {
  const { app } = await webWorld();
  const pages = await pagesOf(await signedIn(app));
  for (const path of ['/due', '/units', '/riders', '/ways', '/'])
    expect([path, stepsIn(pages.get(path)!)]).toEqual([path, []]);
});

test.each(LANGUAGES)('a rider without a bike or a ride is led on, in %s', async (language) => {
  const riders = [...RIDERS.riders, { ...RIDERS.riders[0]!, id: 'r9', email: 'r9@example.org', language }];
  const world = await RiderWorld.open({
    document: { ...RIDERS, riders: riders.map((one) => ({ ...one, language })) },
  });
  const { clock, links } = world.deps;
  const home = await world.store.read(async (tx) => {
    const contact = await tx.contacts.find((await tx.handles.find('rider', 'r9'))!);
    return ownPageLink(tx, contact!, links!, clock.now());
  });
  for (const [below, onto] of [
    ['', '/bikes/new'],
    ['/rides', '/files'],
  ]) {
    const { pathname } = new URL(home + below);
    const [step, ...more] = stepsIn(await (await world.app.request(pathname)).text());
    expect([below, more]).toEqual([below, []]);
    expect(addressesIn(step ?? '')).toEqual([new URL(home + onto).pathname]);
  }
});
