import { expect, test } from 'vitest';
import { seededRandom } from '../../../src/core/chance/seededRandom.js';
import { dayNumber, dayOfNumber } from '../../../src/core/days/dayNumber.js';
import type { CurvePoint } from '../../../src/core/ledger/hoursCurve.js';
import { getUnitPast } from '../../../src/flow/due/unitCurves.js';
import { getUnitLedger } from '../../../src/flow/unitLedger.js';
import { type Day, instant, seconds, thousandths } from '../../../src/units.js';
import { hoursPlot } from '../../../src/web/plots/hoursPlot.js';
import { monthTicks } from '../../../src/web/plots/monthTicks.js';
import { voiceOf } from '../../../src/web/viewer.js';
import { plain, signedIn } from '../visitor.js';
import { DOCUMENT, NOW, TODAY, webWorld } from '../webWorld.js';

const served = {
  ...DOCUMENT,
  services: [{ unit: 'F-0001', serviceKind: 'lower-leg', on: '2026-04-01' }],
};

async function curvesOf(tag: string, document: unknown = served) {
  const { store } = await webWorld({ document });
  return store.read(async (tx) => {
    const unitId = (await tx.handles.find('unit', tag))!;
    const ledger = await getUnitLedger(tx, unitId, 'Europe/Lisbon');
    return (await getUnitPast(tx, ledger, await tx.standings.listOf(unitId), NOW)).curves;
  });
}

const reader = (language: string) => ({
  ...voiceOf(language),
  today: TODAY,
  zone: 'Europe/Lisbon',
  now: NOW,
});

const lowerLeg = async (document?: unknown) =>
  (await curvesOf('F-0001', document)).find(({ standing }) => standing.serviceKind === 'lower-leg')!;

const numbers = (d: string): number[] => [...d.matchAll(/-?[\d.]+/g)].map(([text]) => Number(text));

test('hours, service, interval and the fan are drawn, and told in words', async () => {
  const curve = await lowerLeg();
  const markup = String(hoursPlot(curve, reader('en')));
  const wide = markup.slice(0, markup.indexOf('</svg>'));
  expect(wide.match(/class="grown"/g)).toHaveLength(2);
  expect(wide.match(/class="flag"/g)).toHaveLength(1);
  const { p10, p50, p90 } = curve.standing.forecast.likely;
  const { words } = reader('en');
  const says = /aria-label="([^"]+)"/.exec(wide)![1]!;
  // 1 April to 7 June: ten weekly rides of three hours.
  expect(says).toContain('Now at 30\u00a0h of 50\u00a0h. Services on 1 April.');
  for (const on of [p10, p50, p90]) expect(says).toContain(words.day(on!, TODAY));
  expect(says).toContain('Its months are up on 1 April 2027.');
  // The fan opens from where the hours stand now to the interval's line, the earliest day first.
  const [x0, y0, x1, y1, x2, y2] = numbers(/class="range" d="([^"]+)"/.exec(wide)![1]!) as [
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  const [, bound] = numbers(/class="bound" d="([^"]+)"/.exec(wide)![1]!);
  expect(x0).toBeLessThan(x1);
  expect(x1).toBeLessThan(x2);
  expect(y1).toBe(bound);
  expect(y2).toBe(bound);
  expect(y0).toBeGreaterThan(y1);
  const grown = numbers([...wide.matchAll(/class="grown" d="([^"]+)"/g)].at(-1)![1]!);
  expect(grown.slice(-2)).toEqual([x0, y0]);
});

test('no band contradicts its words: early, middle and late in order, and a late day unknown runs out level', async () => {
  const curve = await lowerLeg();
  const random = seededRandom('fan');
  const dayIn = (days: number): Day => dayOfNumber(dayNumber(TODAY) + days);
  for (let i = 0; i < 300; i += 1) {
    const likely = [1, 2, 3]
      .map(() => Math.floor(random() * (random() < 0.5 ? 200 : 1820)))
      .sort((a, b) => a - b);
    const known = 1 + Math.floor(random() * 3);
    const [p10, p50, p90] = likely.map((days, at) => (at < known ? dayIn(days) : null)) as [
      Day,
      Day | null,
      Day | null,
    ];
    const forecast = { ...curve.standing.forecast, likely: { p10, p50, p90 } };
    const markup = String(hoursPlot({ ...curve, standing: { ...curve.standing, forecast } }, reader('en')));
    const wide = markup.slice(0, markup.indexOf('</svg>'));
    const band = numbers(/class="range" d="([^"]+)"/.exec(wide)![1]!);
    const middle = /class="middle" d="([^"]+)"/.exec(wide);
    const says = /aria-label="([^"]+)"/.exec(wide)![1]!;
    const [, bound] = numbers(/class="bound" d="([^"]+)"/.exec(wide)![1]!);
    const [x0, y0, early, earlyY] = band as [number, number, number, number];
    const [late, lateY] = band.slice(-2) as [number, number];
    expect(early).toBeGreaterThanOrEqual(x0);
    expect(late).toBeGreaterThanOrEqual(early);
    expect(earlyY).toBe(bound);
    // What the words call beyond is drawn as never reached.
    expect(lateY).toBe(p90 === null ? y0 : bound);
    expect(middle === null).toBe(p50 === null);
    expect(markup.includes(reader('en').texts.hoursPlot.legend.middle)).toBe(p50 !== null);
    expect(says.split(reader('en').texts.due.beyond)).toHaveLength(4 - known);
    if (middle === null) continue;
    const [, , middleX, middleY] = numbers(middle[1]!);
    expect(middleX).toBeGreaterThanOrEqual(early);
    expect(middleX).toBeLessThanOrEqual(late);
    expect(middleY).toBe(bound);
  }
});

test('the figure is of the hours of the limit that comes first', async () => {
  const easy = {
    ...served,
    hours: DOCUMENT.hours.map((one) => ({ ...one, ground: 'smooth' })),
  };
  const curve = await lowerLeg(easy);
  expect(curve.standing.limit).toBe('moving-hours');
  const markup = String(hoursPlot(curve, reader('en')));
  expect(markup).toContain('moving hours over time');
  expect(markup).toContain('of 75\u00a0h');
});

test('no fan is drawn of what is reached, and none of an unknown history', async () => {
  const worn = {
    ...served,
    services: [],
    units: [{ ...DOCUMENT.units[0]!, history: { terrainHours: 20, movingHours: 20, asOf: '2026-01-02' } }],
    bikes: DOCUMENT.bikes,
    fittings: [DOCUMENT.fittings[0]!],
  };
  const reached = await lowerLeg(worn);
  expect(reached.standing.state).toMatch(/due|over/);
  const markup = String(hoursPlot(reached, reader('en')));
  expect(markup).not.toContain('class="range"');
  expect(markup).toContain('No service is known yet.');
  const unknown = {
    ...DOCUMENT,
    units: [{ ...DOCUMENT.units[0]!, history: 'unknown' }],
    fittings: [DOCUMENT.fittings[0]!],
  };
  expect(String(hoursPlot(await lowerLeg(unknown), reader('en')))).not.toContain('class="range"');
});

test('it stands on the unit’s page, the most pressing kind open and the others to be opened', async () => {
  const { app } = await webWorld({ document: served });
  const markup = await (await signedIn(app)).text('/units/F-0001');
  expect(plain(markup)).toContain('Hours over time');
  expect(markup.match(/<figure class="plot">/g)).toHaveLength(4);
  expect(markup.match(/<details><summary>[^<]+service<\/summary>\s*<figure/g)).toHaveLength(3);
});

test('Portuguese says the same in Portuguese', async () => {
  const markup = String(hoursPlot(await lowerLeg(), reader('pt')));
  expect(markup).toContain('Agora em 30\u00a0h de 50\u00a0h. Revisões a 1 de abril.');
});

test('months are marked on their first day, so many at most, and January tells the year', () => {
  const [from, to] = [instant(Date.parse('2025-10-20')), instant(Date.parse('2026-04-02'))];
  const ticks = monthTicks(from, to, 9, 'en-GB');
  expect(ticks.map(({ label }) => label)).toEqual(['Nov', 'Dec', '2026', 'Feb', 'Mar', 'Apr']);
  expect(ticks[0]!.ms).toBe(Date.parse('2025-11-01'));
  expect(monthTicks(from, to, 3, 'en-GB').map(({ label }) => label)).toEqual(['Nov', '2026', 'Mar']);
});

test('many rides make no heavier a picture, and its lines end where the hours do', async () => {
  const curve = await lowerLeg();
  const [running] = curve.curves.slice(-1);
  const [first, last] = [running!.points[0]!, running!.points.at(-1)!];
  const many = Array.from({ length: 5000 }, (_, i) => ({
    at: instant(first.at + ((last.at - first.at) * i) / 5000),
    movingS: seconds((last.movingS * i) / 5000),
    terrainMs: thousandths((last.terrainMs * i) / 5000),
  }));
  const drawn = (points: readonly CurvePoint[]): string[] => {
    const curves = [{ ...running!, points }];
    const markup = String(hoursPlot({ ...curve, curves }, reader('en')));
    return [...markup.matchAll(/class="grown" d="(M[^"]+L[^"]+L[^"]+)"/g)].map(([, d]) => d!);
  };
  const [few, heavy] = [drawn(running!.points), drawn([...many, last])];
  expect(heavy).toHaveLength(2);
  heavy.forEach((d, i) => {
    expect(d.split('L').length).toBeGreaterThan(100);
    expect(d.split('L').length).toBeLessThan(165);
    expect(numbers(d).slice(0, 2)).toEqual(numbers(few[i]!).slice(0, 2));
    expect(numbers(d).slice(-2)).toEqual(numbers(few[i]!).slice(-2));
  });
});
