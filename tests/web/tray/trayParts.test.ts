/** A tray with more than fits on a page, in a workshop with more riders than fit in a list. */
import { expect, test } from 'vitest';
import { take } from '../takeTrack.js';
import { plain, signedIn, type Visitor } from '../visitor.js';
import { DOCUMENT, type WebWorld, webWorld } from '../webWorld.js';

const DAY_MS = 86_400_000;

async function takeMany(world: WebWorld, count: number): Promise<void> {
  for (let i = 0; i < count; i++)
    await take(world, {
      name: `${i}/ride.gpx`,
      type: 'cycling',
      startMs: Date.parse('2026-04-01T07:00:00Z') + i * DAY_MS,
    });
}

const filesOn = (markup: string): string[] =>
  [...markup.matchAll(/>(\d+)\/ride\.gpx</g)].map(([, name]) => name!);
const linkTo = (markup: string, name: string): string | undefined =>
  new RegExp(`<a href="([^"]+)">${name}</a>`).exec(markup)?.[1]?.replaceAll('&amp;', '&');
const numbers = (from: number, to: number): string[] =>
  Array.from({ length: to - from }, (_, i) => String(from + i));

test('what waits is shown in parts, each question once, and an answer goes on in the part that it was given in', async () => {
  const world = await webWorld();
  const visitor = await signedIn(world.app);
  await takeMany(world, 43);
  const first = await visitor.text('/tray');
  expect(plain(first)).toContain('Tray (43)');
  expect(plain(first)).toContain('20 of 43 questions');
  expect(linkTo(first, 'To the first')).toBeUndefined();
  const second = await visitor.text(linkTo(first, 'Next')!);
  const third = await visitor.text(linkTo(second, 'Next')!);
  expect([first, second, third].map(filesOn)).toEqual([numbers(0, 20), numbers(20, 40), numbers(40, 43)]);
  expect(linkTo(third, 'Next')).toBeUndefined();
  expect(linkTo(third, 'To the first')).toBe('/tray');

  const [form] = [...second.matchAll(/action="(\/tray\/[^"]+)"/g)].map(([, path]) =>
    path!.replaceAll('&amp;', '&'),
  );
  const sent = await visitor.send('/tray', form!, { say: 'bike', bike: 'b1' });
  const after = await visitor.text(sent.headers.get('location')!.split('#')[0]!);
  expect(filesOn(after)).toEqual(numbers(21, 41));
  expect(plain(after)).toContain('It counts now');
  expect(plain(after)).toContain('20 of 42 questions');
});

test('once all of the last part is answered the first is shown, and no made-up place is believed', async () => {
  const world = await webWorld();
  const visitor = await signedIn(world.app);
  await takeMany(world, 21);
  const last = linkTo(await visitor.text('/tray'), 'Next')!;
  const [form] = [...(await visitor.text(last)).matchAll(/action="(\/tray\/[^"]+)"/g)].map(
    ([, path]) => path!,
  );
  await visitor.send('/tray', form!, { say: 'no' });
  for (const place of [last, '/tray?from=9999999999999.x', '/tray?from=', "/tray?from=1.a'b", '/tray?from=.'])
    expect(filesOn(await visitor.text(place)), place).toEqual(numbers(0, 20));
});

/** More than a list of all is of use for. */
const MANY = {
  ...DOCUMENT,
  riders: [...DOCUMENT.riders, ...numbers(100, 260).map((i) => ({ id: `m${i}`, name: `Mara Sample ${i}` }))],
  bikes: [
    ...DOCUMENT.bikes,
    { id: 'm101-1', rider: 'm101', name: 'Blue bike', type: 'trail' },
    { id: 'm102-1', rider: 'm102', name: 'Amber bike', type: 'trail' },
    { id: 'm102-2', rider: 'm102', name: 'Grey bike', type: 'trail' },
  ],
  units: [
    ...DOCUMENT.units,
    { tag: 'F-9001', unitKind: 'fork', history: 'new' },
    { tag: 'F-9002', unitKind: 'fork', history: 'new' },
  ],
  fittings: [
    ...DOCUMENT.fittings,
    { unit: 'F-9001', bike: 'm102-1', from: '2025-01-01' },
    { unit: 'F-9002', bike: 'm102-2', from: '2025-01-01' },
  ],
};

async function answered(
  visitor: Visitor,
  fields: Record<string, string>,
): Promise<{ readonly text: string }> {
  const [, path] = /action="(\/tray\/[^"]+)"/.exec(await visitor.text('/tray'))!;
  const sent = await visitor.send('/tray', path!, fields);
  const to = sent.headers.get('location');
  return { text: plain(to === null ? await sent.text() : await visitor.text(to.split('#')[0]!)) };
}

test('with many riders one is typed by part of the name: found by it, told apart by the id, or said not to be found', async () => {
  const world = await webWorld({ document: MANY });
  const visitor = await signedIn(world.app);
  await takeMany(world, 2);
  const page = await visitor.text('/tray');
  expect(page).not.toContain('Mara Sample');
  expect(plain(page)).toContain('Rider: part of the name, or the id');
  const say = 'who';
  const many = await answered(visitor, { say, rider: 'mara sample 10', bike: '' });
  expect(many.text).toContain('“mara sample 10” may be Mara Sample 100 (m100), Mara Sample 101 (m101)');
  const none = await answered(visitor, { say, rider: 'zebra', bike: '' });
  expect(none.text).toContain('Nothing found for “zebra”.');
  expect((await answered(visitor, { say, rider: 'sample 101', bike: '' })).text).toContain('Tray (1)');
  expect((await answered(visitor, { say, rider: '', bike: 'm101-1' })).text).toContain('The tray is empty.');
});

test('with many riders the bikes of the ride’s own rider are chosen from, and any other is typed', async () => {
  const world = await webWorld({ document: MANY });
  const visitor = await signedIn(world.app);
  for (const i of [0, 1])
    await take(world, {
      ...{ name: `m102/${i}.gpx`, rider: 'm102', type: 'cycling' },
      startMs: Date.parse('2026-04-01T07:00:00Z') + i * DAY_MS,
    });
  const page = await visitor.text('/tray');
  expect(plain(page)).toContain('All on Amber bike (m102-1), Mara Sample 102');
  expect(plain(page)).not.toContain('Blue bike');
  const typed = await answered(visitor, { say: 'bike', bike: 'm102-1', other: 'blue bike' });
  expect(typed.text).toContain('Tray (1)');
  expect((await answered(visitor, { say: 'bike', bike: 'm102-2', other: '' })).text).toContain(
    'The tray is empty.',
  );
});
