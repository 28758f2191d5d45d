/** Every plot that draws a range: what is drawn, read back by its own axis, is what its words say. */
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/core/chance/seededRandom.js';
import type { MonthVisits } from '../../../src/core/ledger/benchYear.js';
import type { Lesson } from '../../../src/core/ledger/findingsTeach.js';
import { type BenchWeek, weeksFrom } from '../../../src/core/plan/benchWeeks.js';
import { day } from '../../../src/units.js';
import { darkPlot } from '../../../src/web/plots/darkPlot.js';
import { minutesPlot } from '../../../src/web/plots/minutesPlot.js';
import { sharesPlot } from '../../../src/web/plots/sharesPlot.js';
import { visitsPlot } from '../../../src/web/plots/visitsPlot.js';
import { type Viewer, voiceOf } from '../../../src/web/viewer.js';
import { TODAY } from '../webWorld.js';

const RUNS = 200;
const viewer = { ...voiceOf('en'), today: TODAY } as Viewer;

const numbersIn = (text: string): number[] =>
  [...text.replaceAll(/(?<=\d),(?=\d)/g, '').matchAll(/-?\d+(?:\.\d+)?/g)].map(([number]) => Number(number));

interface Picture {
  readonly svg: string;
  /** What it says of itself. */
  readonly says: string;
  /** The value at a height, or at a place across, by the labels of the axis. */
  readonly up: (px: number) => number;
  readonly across: (px: number) => number;
  /** What half a pixel is worth. */
  readonly upSlack: number;
  readonly acrossSlack: number;
}

/** Returns the pictures of a figure, each with the scales that its own labels say. */
function picturesOf(markup: string): Picture[] {
  return [...markup.matchAll(/<svg class="(?:wide|slim)".*?<\/svg>/gs)].map(([svg]) => {
    const scale = (at: string): [(px: number) => number, number] => {
      const ticks = [
        ...svg.matchAll(new RegExp(`${at}[^>]*/>\\s*<text x="([\\d.]+)" y="([\\d.]+)"[^>]*>([^<]+)`, 'g')),
      ];
      const places = ticks.map(([, x, y, label]) => ({
        px: at.includes('H') ? Number(y) - 4 : Number(x),
        value: numbersIn(label!)[0]!,
      }));
      const [first, last] = [places[0], places.at(-1)];
      if (first === undefined || last === undefined || first === last) return [() => Number.NaN, 0];
      const each = (last.value - first.value) / (last.px - first.px);
      return [(px) => first.value + each * (px - first.px), Math.abs(each)];
    };
    const [up, upSlack] = scale('class="rule" d="M[\\d.]+ [\\d.]+H');
    const [across, acrossSlack] = scale('class="rule" d="M[\\d.]+ [\\d.]+v5"');
    return { svg, says: /aria-label="([^"]*)"/.exec(svg)![1]!, up, across, upSlack, acrossSlack };
  });
}

interface Bar {
  readonly from: number;
  readonly to: number;
  readonly top: number;
  readonly bottom: number;
}

const barsOf = (svg: string, drawn: string): Bar[] =>
  [
    ...svg.matchAll(
      new RegExp(
        `<rect class="${drawn}" x="([\\d.]+)" y="([\\d.]+)" width="([\\d.]+)" height="([\\d.]+)"`,
        'g',
      ),
    ),
  ].map((found) => {
    const [x, y, width, height] = found.slice(1).map(Number) as [number, number, number, number];
    return { from: x, to: x + width, top: y, bottom: y + height };
  });

/** Heights of the lines of a class. */
const linesOf = (svg: string, drawn: string): number[] =>
  [...svg.matchAll(new RegExp(`<path class="${drawn}" d="M[\\d.-]+ ([\\d.]+)h`, 'g'))].map(([, y]) =>
    Number(y),
  );

/** As drawn, to the pixel and to the last figure that the words give. */
function expectSame(drawn: number, told: number, slack: number, lastFigure: number, what: string): void {
  expect(Math.abs(drawn - told), `${what}: ${drawn} drawn, ${told} told`).toBeLessThanOrEqual(
    slack + lastFigure / 2 + 1e-9,
  );
}

describe('a band says what its words say', () => {
  it('bench minutes by week', () => {
    const random = seededRandom('minutes');
    for (let run = 0; run < RUNS; run += 1) {
      const scale = 10 ** (1 + 3 * random());
      const weeks = weeksFrom(TODAY, 1 + Math.floor(random() * 26)).map((week) => {
        const [p10, mean, p90] = [random(), random(), random()]
          .map((one) => Math.round(one * scale))
          .sort((a, b) => a - b);
        const usableMinutes = Math.round(random() * scale * 3);
        return { ...week, minutes: { p10, mean, p90 }, usableMinutes } as unknown as BenchWeek;
      });
      for (const { svg, says, up, upSlack } of picturesOf(String(minutesPlot(weeks, viewer)))) {
        const told = says.split('. ').flatMap((part) => {
          const found = /: (.+), from (.+) to (.+), of (.+?)\.?$/.exec(part.replaceAll('\u00a0', ' '));
          return found === null ? [] : [found.slice(1).map((text) => numbersIn(text)[0]!)];
        });
        expect(told).toHaveLength(weeks.length);
        const [bars, means, usable] = [barsOf(svg, 'range'), linesOf(svg, 'mark'), linesOf(svg, 'bound')];
        expect(bars).toHaveLength(weeks.length);
        told.forEach(([mean, low, high], i) => {
          expectSame(up(bars[i]!.top), high!, upSlack, 1, 'high');
          // A range of nothing is drawn a pixel high.
          expectSame(up(bars[i]!.bottom), low!, 1.5 * upSlack, 1, 'low');
          expectSame(up(means[i]!), mean!, upSlack, 1, 'mean');
        });
        // A line that is not drawn lies above the picture.
        const top = up(30);
        const drawn = told.filter(([, , , minutes]) => minutes! <= top + upSlack);
        expect(usable.length).toBeLessThanOrEqual(drawn.length);
        for (const at of usable)
          expect(told.some(([, , , minutes]) => Math.abs(up(at) - minutes!) <= upSlack + 0.5)).toBe(true);
      }
    }
  });

  it('shares before and since', () => {
    const random = seededRandom('shares');
    const range = () => {
      const [low, share, high] = [random(), random(), random()].sort((a, b) => a - b) as [
        number,
        number,
        number,
      ];
      return { low, share, high };
    };
    for (let run = 0; run < RUNS; run += 1) {
      const pairs = (['dark', 'over'] as const)
        .slice(0, 1 + Math.round(random()))
        .map((what) => ({ what, before: range(), since: range() }));
      for (const { svg, says, up, upSlack } of picturesOf(String(sharesPlot(pairs, viewer)))) {
        const told = [
          ...says.replaceAll('\u00a0', ' ').matchAll(/: ([\d.]+) %, between ([\d.]+) % and ([\d.]+) %/g),
        ].map((found) => found.slice(1).map(Number));
        const [bars, shares] = [barsOf(svg, 'range'), linesOf(svg, 'mark')];
        expect([told.length, bars.length, shares.length]).toEqual([
          2 * pairs.length,
          2 * pairs.length,
          2 * pairs.length,
        ]);
        told.forEach(([share, low, high], i) => {
          expectSame(up(bars[i]!.top), high!, upSlack, 1, 'high');
          expectSame(up(bars[i]!.bottom), low!, 1.5 * upSlack, 1, 'low');
          expectSame(up(shares[i]!), share!, upSlack, 1, 'share');
        });
      }
    }
  });

  it('the suggested interval among dark rings', () => {
    const random = seededRandom('dark');
    for (let run = 0; run < RUNS; run += 1) {
      const scale = 2 * 10 ** (1 + random());
      const hours = Array.from({ length: 1 + Math.floor(random() * 12) }, () => random() * scale).sort(
        (a, b) => a - b,
      );
      const steps = hours.map((at, i) => ({ hours: at, share: (i + 1) / hours.length, services: 6 }));
      // It may reach beyond the last rings seen.
      const [low, middle, high] = [random(), random(), random()]
        .map((one) => one * scale * 2)
        .sort((a, b) => a - b);
      const nineOfTen = random() < 0.2 ? null : { low, hours: middle, high };
      const lesson = { steps, nineOfTen } as unknown as Lesson;
      const markup = String(darkPlot(lesson, viewer));
      expect(markup.includes(viewer.texts.plan.findings.legend.range)).toBe(nineOfTen !== null);
      for (const { svg, says, across, acrossSlack } of picturesOf(markup)) {
        const bars = barsOf(svg, 'range');
        const told = /suggested interval: from ([\d.,]+).h to ([\d.,]+).h/
          .exec(says)
          ?.slice(1)
          .map((text) => numbersIn(text)[0]!);
        expect(bars.length).toBe(nineOfTen === null ? 0 : 1);
        expect(told === undefined).toBe(nineOfTen === null);
        if (told === undefined) continue;
        expectSame(across(bars[0]!.from), told[0]!, acrossSlack, 0.1, 'low');
        expectSame(across(bars[0]!.to), told[1]!, 1.5 * acrossSlack, 0.1, 'high');
      }
    }
  });

  it('units serviced by month, and those of them over their interval', () => {
    const random = seededRandom('visits');
    for (let run = 0; run < RUNS; run += 1) {
      const months = Array.from({ length: 12 }, (_, i): MonthVisits => {
        const visits = Math.floor(random() * 40);
        return {
          from: day(`2025-${String(i + 1).padStart(2, '0')}-01`),
          visits,
          over: Math.floor(random() * (visits + 1)),
        };
      });
      for (const { svg, says, up, upSlack } of picturesOf(String(visitsPlot(months, viewer)))) {
        const told = [...says.matchAll(/: ([\d,]+), over interval ([\d,]+)\./g)].map((found) =>
          found.slice(1).map(Number),
        );
        const [all, over] = [barsOf(svg, 'range'), barsOf(svg, 'flag')];
        expect([told.length, all.length, over.length]).toEqual([12, 12, 12]);
        told.forEach(([visits, late], i) => {
          expectSame(up(all[i]!.top), visits!, upSlack, 0, 'visits');
          expectSame(up(over[i]!.top), late!, upSlack, 0, 'over');
        });
      }
    }
  });
});

describe('every plot', () => {
  const months = [{ from: day('2026-01-01'), visits: 3, over: 1 }];
  const spread = { minutes: { p10: 10, mean: 40, p90: 90 }, usableMinutes: 100 };
  const weeks = weeksFrom(TODAY, 3).map((week) => ({ ...week, ...spread }) as unknown as BenchWeek);
  const range = { low: 0.1, share: 0.2, high: 0.4 };
  const nineOfTen = { low: 5, hours: 9, high: 14 };
  const steps = [{ hours: 10, share: 0.5, services: 6 }];
  it.each([
    ['visits', visitsPlot(months, viewer)],
    ['minutes', minutesPlot(weeks, viewer)],
    ['shares', sharesPlot([{ what: 'dark', before: range, since: range }], viewer)],
    ['dark rings', darkPlot({ steps, nineOfTen } as unknown as Lesson, viewer)],
  ])('has a title, names on its axes, and in its legend whatever it draws: %s', (_, markup) => {
    const text = String(markup);
    expect(/<figcaption>([^<]+)</.exec(text)?.[1]).toBeTruthy();
    const legend = /<ul class="legend">.*<\/ul>/s.exec(text)![0];
    for (const { svg } of picturesOf(text)) {
      expect(/<text x="0" y="14">([^<]+)</.exec(svg)?.[1]).toBeTruthy();
      const drawn = new Set(
        [...svg.matchAll(/class="(range|mark|bound|middle|flag|dot|grown)\b/g)].map(([, one]) => one),
      );
      expect(drawn.size).toBeGreaterThan(1);
      for (const one of drawn) expect(legend, one).toMatch(new RegExp(`class="${one}\\b`));
    }
  });
});
