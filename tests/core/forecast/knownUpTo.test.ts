import { describe, expect, it } from 'vitest';
import { addDays, daysBetween } from '../../../src/core/days/calendar.js';
import { daysKnown, type HandingOver } from '../../../src/core/forecast/knownUpTo.js';
import { day } from '../../../src/units.js';

const TODAY = day('2025-06-15');
const file = (riddenAgo: number, cameAgo: number): HandingOver => ({
  ridden: addDays(TODAY, -riddenAgo),
  came: addDays(TODAY, -cameAgo),
});
const daysUnknown = (files: readonly HandingOver[]): number =>
  daysBetween(daysKnown(files, TODAY).upTo, TODAY);
const daysToFiles = (files: readonly HandingOver[]): number =>
  daysBetween(TODAY, daysKnown(files, TODAY).filesBy);
/** A ride every other day, handed over every so many days; the last time so long ago. */
const handing = (everyDays: number, lastAgo: number, rides = 30): HandingOver[] =>
  Array.from({ length: rides }, (_, i) => lastAgo + 2 * i).map((ago) =>
    file(ago, lastAgo + everyDays * Math.floor((ago - lastAgo) / everyDays)),
  );

describe('the day to which files are known', () => {
  it('is today where each ride comes on its day', () => {
    expect(daysUnknown(handing(1, 5))).toBe(0);
  });

  it('is the last hand-over while the next may be late as usual, and then moves on', () => {
    expect(daysUnknown(handing(7, 3))).toBe(3);
    expect(daysUnknown(handing(7, 60))).toBe(6);
    expect(daysUnknown(handing(28, 20, 60))).toBe(20);
    expect(daysUnknown(handing(28, 300, 60))).toBeGreaterThanOrEqual(24);
    expect(daysUnknown(handing(28, 300, 60))).toBeLessThanOrEqual(28);
  });

  it('says by when files will tell of the days since, today at the earliest', () => {
    expect(daysToFiles(handing(1, 5))).toBe(0);
    expect(daysToFiles(handing(7, 3))).toBe(3);
    expect(daysToFiles(handing(7, 60))).toBe(0);
    expect(daysToFiles(handing(28, 20, 60))).toBeGreaterThanOrEqual(4);
    expect(daysToFiles(handing(28, 20, 60))).toBeLessThanOrEqual(8);
    expect(daysToFiles([])).toBe(0);
  });

  it('knows a month of daily rides for one hand-over', () => {
    const daily = Array.from({ length: 120 }, (_, ago) => file(ago, 28 * Math.floor(ago / 28)));
    expect(daysToFiles(daily)).toBeGreaterThanOrEqual(24);
  });

  it('does not take years handed over at first for a rider who is years late', () => {
    const years = Array.from({ length: 40 }, (_, i) => file(20 + 7 * i, 20));
    expect(daysUnknown(years)).toBe(7);
    const since = [1, 3, 5, 8, 10, 12].map((ago) => file(ago, ago));
    expect(daysUnknown([...since, ...years])).toBe(0);
  });

  it('is once a week until more is known, and nothing to wait for where no file ever came', () => {
    expect(daysUnknown([file(9, 9)])).toBe(7);
    expect(daysUnknown([file(2, 2)])).toBe(2);
    expect(daysUnknown([])).toBe(0);
  });

  it('leaves out what came after the day, and is never after it', () => {
    expect(daysUnknown([file(9, 9), file(8, -3)])).toBe(7);
    expect(daysUnknown([file(-2, 0)])).toBe(0);
  });
});
