import { expect, test } from 'vitest';
import type { ProfilePoint } from '../../../src/core/ground/samples/reading.js';
import type { WeighedClass } from '../../../src/core/ledger/weight.js';
import type { ClimbsAsked } from '../../../src/flow/rides/listClimbs.js';
import { instant } from '../../../src/units.js';
import { classTable } from '../../../src/web/plots/classTable.js';
import { climbPlot } from '../../../src/web/plots/climbPlot.js';
import { profilePlot } from '../../../src/web/plots/profilePlot.js';
import { voiceOf } from '../../../src/web/viewer.js';
import { plain } from '../visitor.js';

const voice = voiceOf('en');

/** Points every 100 m over so many kilometres. */
const points = (
  km: number,
  elevationM: (m: number) => number | null,
  severity: (m: number) => number | null,
): ProfilePoint[] =>
  Array.from({ length: 10 * km + 1 }, (_, i) => ({
    distanceM: 100 * i,
    elevationM: elevationM(100 * i),
    severity: severity(100 * i),
  }));

const mixed = points(
  10,
  (m) => 200 + m / 50,
  (m) => (m < 4000 ? 0.3 : m < 9000 ? 1 : 2.5),
);
const plot = (of: readonly ProfilePoint[]): string => String(profilePlot(of, voice) ?? '');

/** The drawn strokes of the first picture: their widths, and the first and last point of each. */
const strokes = (markup: string) =>
  [
    ...markup
      .slice(0, markup.indexOf('</svg>'))
      .matchAll(/<path d="(M[^"]+)" fill="none" stroke="currentColor" stroke-width="([\d.]+)"/g),
  ].map(([, d, width]) => {
    const at = [...d!.matchAll(/[ML]([-\d.]+),([-\d.]+)/g)].map(
      ([, x, y]) => [Number(x), Number(y)] as const,
    );
    return { width: Number(width), first: at[0]!, last: at.at(-1)! };
  });

test('says in words how long, how high, and how far on which ground', () => {
  const markup = plot(mixed).replaceAll('\u00a0', ' ');
  expect(plain(markup)).toContain('Elevation along the ride, marked by ground');
  expect(plain(markup)).toContain('distance');
  const said = [...markup.matchAll(/<svg class="(?:wide|slim)"[^>]*role="img" aria-label="([^"]+)"/g)];
  expect(said).toHaveLength(2);
  for (const [, says] of said)
    expect(says).toContain('10 km long, between 200 m and 400 m. smooth: 4 km; typical: 5 km; rough: 1 km.');
});

test('marks rougher ground by a heavier line and by hatching of its own, without any colour', () => {
  const markup = plot(mixed);
  const widths = strokes(markup).map(({ width }) => width);
  expect(widths).toHaveLength(3);
  expect(widths).toEqual([...new Set(widths)].sort((a, b) => a - b));
  expect(markup.match(/<pattern/g)!.length).toBeGreaterThanOrEqual(9);
  for (const ground of ['smooth', 'typical', 'rough'])
    expect(markup).toContain(`fill="url(#profile-wide-${ground})"`);
  const colours = [...markup.matchAll(/(?:fill|stroke)="([^"]+)"/g)].map(([, colour]) => colour!);
  expect(colours.filter((colour) => !/^(none|currentColor|url\(#)/.test(colour))).toEqual([]);
});

test('every id on the page is of one thing alone', () => {
  const ids = [...plot(mixed).matchAll(/ id="([^"]+)"/g)].map(([, id]) => id);
  expect(new Set(ids).size).toBe(ids.length);
});

test('draws in proportion, and stretches meet where the ground changes', () => {
  const [smooth, typical, rough] = strokes(plot(mixed));
  expect(smooth!.last).toEqual(typical!.first);
  expect(typical!.last).toEqual(rough!.first);
  const perKm = (smooth!.last[0] - smooth!.first[0]) / 4;
  expect((rough!.last[0] - rough!.first[0]) / perKm).toBeCloseTo(1, 2);
  const perM = (smooth!.first[1] - smooth!.last[1]) / 80;
  expect((smooth!.first[1] - rough!.last[1]) / perM).toBeCloseTo(200, 0);
});

test('leaves a gap where elevation is missing or rises as no bike does', () => {
  const missing = points(
    4,
    (m) => (m > 1000 && m < 2000 ? null : 100),
    () => 1,
  );
  expect(strokes(plot(missing))).toHaveLength(2);
  const lift = points(
    4,
    (m) => (m < 2000 ? 500 - m / 10 : 700 - m / 10),
    () => 1,
  );
  const [down, again] = strokes(plot(lift));
  expect(down!.last[0]).toBeLessThan(again!.first[0]);
});

test('dashes ground that is not known, and says so', () => {
  const markup = plot(
    points(
      3,
      (m) => m / 30,
      () => null,
    ),
  );
  expect(markup).toContain('stroke-dasharray');
  expect(plain(markup)).toContain('not known: 3 km');
  expect(markup).not.toContain('fill="url(#profile-wide');
});

test('a flat ride does not look like mountains', () => {
  const [flat] = strokes(
    plot(
      points(
        5,
        (m) => 100 + (m % 200) / 100,
        () => 0.3,
      ),
    ),
  );
  const heights = [
    ...plot(
      points(
        5,
        (m) => 100 + (m % 200) / 100,
        () => 0.3,
      ),
    ).matchAll(/d="(M[^"]+)" fill="none"/g),
  ]
    .flatMap(([, d]) => [...d!.matchAll(/,([-\d.]+)/g)].map(([, y]) => Number(y)))
    .filter((y) => y < 400);
  expect(Math.max(...heights) - Math.min(...heights)).toBeLessThan(20);
  expect(flat!.width).toBeLessThan(2);
});

test('draws nothing of nothing', () => {
  expect(profilePlot([], voice)).toBeNull();
  expect(
    profilePlot(
      points(
        1,
        () => null,
        () => null,
      ),
      voice,
    ),
  ).toBeNull();
});

const classes: WeighedClass[] = [
  { rawSeverity: 0.3, movingS: 600, severity: 0.31, weight: 0.5 },
  { rawSeverity: 1, movingS: 1200, severity: 1, weight: 1 },
  { rawSeverity: 2, movingS: 20, severity: 1.9, weight: 2 },
];

test('the table tells each class, its ground, its time and its weight, and their sum', () => {
  const text = plain(String(classTable(classes, voice)));
  expect(text).toContain('0.30 smooth 10 min 0.50');
  expect(text).toContain('1.00 typical 20 min 1.00');
  expect(text).toContain('2.00 rough under 1 min 2.00');
  // (600 · 0.5 + 1200 · 1 + 20 · 2) / 1820 by hand.
  expect(text).toContain('all 30 min 0.85');
});

test('its bars are in proportion to the time, and hidden from those who hear the table', () => {
  const markup = String(classTable(classes, voice));
  const widths = [...markup.matchAll(/<rect width="([\d.]+)"/g)].map(([, width]) => Number(width));
  expect(widths).toEqual([50, 100, 1.7]);
  expect(markup.match(/aria-hidden="true"/g)).toHaveLength(3);
});

test('the day of climbs has heights at the left and hours since its start below', () => {
  const heights = { everyS: 60, eleM: Array.from({ length: 241 }, (_, i) => 100 + 5 * i) };
  const climbs = [
    { number: 1, at: instant(0), seconds: 1800, upM: 150, isRidden: false, heartBpm: null, movingS: 1800 },
  ];
  const asked = { startAt: instant(0), heights, climbs, besideS: 0 };
  const markup = String(climbPlot(asked as unknown as ClimbsAsked, 'climb 1', voice));
  const [first] = markup.split('</svg>');
  const labels = [...first!.matchAll(/<text[^>]*>([^<]*)</g)].map(([, text]) =>
    text!.replaceAll('\u00a0', ' '),
  );
  const hours = Array.from({ length: 9 }, (_, i) => `${i / 2} h`);
  expect(labels).toEqual(['elevation', '100 m', '1,300 m', ...hours, 'hours since the start', '1']);
  expect(markup).toContain('a climb that does not');
  expect(markup).not.toContain('a climb that counts');
});
