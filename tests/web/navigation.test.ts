import { expect, test } from 'vitest';
import { ROUTES } from '../../src/web/routes.js';
import { teamWorld } from './teamWorld.js';

const navOf = (page: string): string[] =>
  [.../<header[\s\S]*?<\/header>/.exec(page)![0].matchAll(/<nav[\s\S]*?<\/nav>/g)].map(([nav]) => nav);
const linksOf = (nav: string): { path: string; text: string; isHere: boolean }[] =>
  [...nav.matchAll(/<a href="([^"]*)"( aria-current="(?:page|true)")?>([^<]*)<\/a>/g)].map(
    ([, path = '', current, text = '']) => ({ path, text, isHere: current !== undefined }),
  );

test('few names lead everywhere: each page marks its way and itself, and every list of pages is one or two taps away', async () => {
  const world = await teamWorld();
  const owner = await world.as('owner');
  const first = linksOf(navOf(await owner.text('/'))[0]!);
  expect(first.map(({ text }) => text)).toEqual([
    ...['Today', 'Tray (1)', 'Due', 'Bookings', 'Bench', 'Riders', 'Races', 'Settings'],
  ]);
  const reached = new Set<string>();
  for (const { path, text } of first) {
    const [top, within] = navOf(await owner.text(path));
    expect(linksOf(top!).filter(({ isHere }) => isHere)).toEqual([{ path, text, isHere: true }]);
    reached.add(path);
    for (const one of within === undefined ? [] : linksOf(within)) {
      reached.add(one.path);
      const [upper, own] = navOf(await owner.text(one.path));
      expect(linksOf(upper!).filter(({ isHere }) => isHere)).toEqual([{ path, text, isHere: true }]);
      expect(
        linksOf(own!)
          .filter(({ isHere }) => isHere)
          .map((here) => here.path),
      ).toEqual([one.path]);
    }
  }
  // What belongs to a page of lists is found from it, in every season.
  for (const from of ['/settings', '/load'])
    for (const [, to = ''] of (await owner.text(from)).matchAll(/href="(\/[^"#?]*)/g)) reached.add(to);
  // Pages for which something must be chosen first have a name in their address; forms stand beside their lists.
  const elsewhere = [
    '/find',
    '/account',
    '/workshop',
    '/units/new',
    '/customers/new',
    '/fleets/new',
    '/races/new',
  ];
  const lists = Object.entries(ROUTES).flatMap(([key, { who }]) => {
    const path = key.startsWith('GET ') ? key.slice(4) : '';
    return Array.isArray(who) && path !== '' && !path.includes(':') && !path.includes('edit') ? [path] : [];
  });
  expect(lists.filter((path) => !reached.has(path) && !elsewhere.includes(path))).toEqual([]);
});

test('a mechanic finds the own fleet, the swap and the races, whatever page is open', async () => {
  const oak = await (await teamWorld()).as('oak');
  for (const path of ['/fleets/t1', '/races', '/units/F-0501']) {
    const [nav, within] = navOf(await oak.text(path));
    expect(linksOf(nav!).map(({ text }) => text)).toEqual(['Fleet', 'Swap', 'Races']);
    expect(linksOf(nav!).filter(({ isHere }) => isHere)).toHaveLength(1);
    expect(within).toBeUndefined();
  }
});
