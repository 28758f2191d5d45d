import { expect, test } from 'vitest';
import { seededRandom } from '../../../src/core/chance/seededRandom.js';
import { addDays } from '../../../src/core/days/calendar.js';
import { GROUNDS } from '../../../src/core/tokens.js';
import { getWeights } from '../../../src/flow/settings.js';
import { plain, signedIn } from '../visitor.js';
import { DOCUMENT, TODAY, webWorld } from '../webWorld.js';

const PAGE = '/settings/weights';
const ago = (days: number): typeof TODAY => addDays(TODAY, -days);
/** Under which the rings of these forks go dark. Invented. */
const TRUE = { smooth: 0.5, typical: 1, rough: 3 };
const random = seededRandom('forks of a workshop');
const spread = (by: number): number => Math.exp(by * (random() + random() + random() - 1.5) * 2);

interface Fork {
  readonly history?: string;
  readonly declared?: true;
}

/** A fork on one ground that was opened twice, each time after some hours. */
function forkOf(i: number, { history = 'new', declared }: Fork = {}) {
  const [unit, bike] = [`F-7${String(i).padStart(2, '0')}`, `o${i}`];
  const ground = GROUNDS[i % 3]!;
  const looks = [600, 200].map((days) => {
    const hours = (50 / TRUE[ground]) * spread(0.5);
    return { on: ago(days), hours, isDark: hours * TRUE[ground] >= 50 * spread(0.2) };
  });
  return {
    bikes: [{ id: bike, rider: 'r2', name: `Bike ${i}`, type: 'trail' }],
    units: [{ tag: unit, unitKind: 'fork', model: 'Sample fork', history }],
    fittings: [{ unit, bike, from: ago(1000), to: null }],
    hours: looks.flatMap(({ on, hours }) =>
      Array.from({ length: 16 }, (_, day) => ({
        bike,
        on: addDays(on, -5 - day),
        minutes: Math.round((hours / 16) * 60),
        ground,
      })),
    ),
    services: looks.map(({ on, isDark }) => ({
      unit,
      serviceKind: 'lower-leg',
      on,
      findings: { foamRings: isDark ? 'dark' : 'honey', foamRingsNow: 'new' },
    })),
    declared: declared
      ? [{ bike, hoursAWeek: 2, ground, months: [1, 2, 3], from: ago(900), to: null, saidOn: ago(900) }]
      : [],
  };
}

const KEYS = ['bikes', 'units', 'fittings', 'hours', 'services', 'declared'] as const;
const documentOf = (forks: readonly ReturnType<typeof forkOf>[]) => {
  const base = DOCUMENT as Readonly<Record<string, unknown>>;
  const list = (key: string): unknown[] => (base[key] as unknown[] | undefined) ?? [];
  return {
    ...base,
    ...Object.fromEntries(
      KEYS.map((key) => [key, [...list(key), ...forks.flatMap((one) => one[key] as unknown[])]]),
    ),
  };
};

test('too few rings seen are said to be too few, with how many more', async () => {
  const world = await webWorld();
  const visitor = await signedIn(world.app);
  expect(plain(await visitor.text(PAGE))).toContain(
    'Missing yet: 80 services, 20 with dark rings, 20 with rings that were not dark.',
  );
});

test('rings of unknown age, and those whose riding was only declared, are not seen', async () => {
  const forks = [forkOf(1), forkOf(2, { history: 'unknown' }), forkOf(3, { declared: true })];
  const visitor = await signedIn((await webWorld({ document: documentOf(forks) })).app);
  // Two of the first; of the second those that were put in new here; none of the third.
  expect(plain(await visitor.text(PAGE))).toContain('Missing yet: 77 services,');
});

test('own weights are offered with their ranges, seen before they are saved, and taken back', async () => {
  const { app, store } = await webWorld({
    document: documentOf(Array.from({ length: 45 }, (_, i) => forkOf(i + 10))),
  });
  const visitor = await signedIn(app);
  const markup = await visitor.text(PAGE);
  const offered = plain(markup);
  expect(offered).toContain('Foam rings seen at 90 services say');
  expect(offered).toContain('A weight of now lies outside its range.');
  const [, rough, low, high] =
    /Rough ground (?:Now )?2\.00 (?:By your rings )?(\d\.\d\d) (?:Eight times of ten )?(\d\.\d\d) to (\d\.\d\d)/
      .exec(offered)!
      .map(Number);
  expect(low).toBeGreaterThan(2);
  expect(low).toBeLessThanOrEqual(rough!);
  expect(high).toBe(3);
  expect(offered).toMatch(/Typical trail (?:Now )?1\.00 .*?1\.00 .*?the measure/);

  const link = /href="(\/settings\/weights\?smooth[^"]+)"/.exec(markup)![1]!.replaceAll('&amp;', '&');
  const preview = await visitor.text(link);
  expect(plain(preview)).toContain('Save these weights');
  expect(await store.read((tx) => tx.facts.list('weights'))).toEqual([]);

  const fields = Object.fromEntries(new URLSearchParams(link.split('?')[1]));
  const saved = await visitor.send(PAGE, PAGE, fields);
  expect(saved.headers.get('location')).toContain('saved');
  expect((await store.read(getWeights)).rough).toBe(rough);
  expect(plain(await visitor.text(PAGE))).toContain('The weights of now lie in both ranges');

  await visitor.send(PAGE, PAGE, { smooth: '0.5', typical: '1', rough: '2', landing: '10' });
  expect(await store.read(getWeights)).toEqual({ smooth: 0.5, typical: 1, rough: 2 });
  expect(plain(await visitor.text(PAGE))).toContain('A weight of now lies outside its range.');
});
