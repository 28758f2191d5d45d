import { describe, expect, it } from 'vitest';
import { type ClockWord, doubtOf, type FilesSince, nextWord } from '../../../src/core/days/clockWord.js';
import { type Instant, instant } from '../../../src/units.js';

const HOUR = 3_600_000;
const DAY = 24 * HOUR;
const T = instant(Date.UTC(2026, 5, 10, 9));
const at = (ms: number): Instant => instant(T + ms);
const believed: ClockWord = { lastAt: T, doubt: null };
const NONE: FilesSince = { agreeing: 0, contradicting: 0 };
const beat = (word: ClockWord | null, ms: number, ranMs = 0, files = NONE): ClockWord =>
  nextWord(word, at(ms), { ranMs, files });

describe('a clock', () => {
  it.each([
    ['a little ahead', 5000, null],
    ['thirty days ahead, as after a holiday', 30 * DAY, null],
    ['more than thirty days ahead', 30 * DAY + 1, 'ahead'],
    ['three years ahead', 3 * 365 * DAY, 'ahead'],
    ['an hour behind, as when summer time ends', -HOUR, null],
    ['a day behind', -DAY, null],
    ['more than a day behind', -DAY - 1, 'behind'],
  ])('%s', (_, ms, doubt) => {
    expect(doubtOf(believed, at(ms))).toBe(doubt);
  });

  it('of which nothing is known is believed', () => {
    expect(doubtOf(null, T)).toBeNull();
    expect(beat(null, 0)).toEqual(believed);
  });

  it('that is believed is remembered by what it said last', () => {
    expect(beat(believed, 30_000, 30_000)).toEqual({ lastAt: at(30_000), doubt: null });
  });
});

describe('a clock that jumped', () => {
  const jumped = beat(believed, 40 * DAY);

  it('is remembered as it was before, however long it runs and however often it is started again', () => {
    let word = jumped;
    for (let start = 0; start < 100; start += 1) word = beat(word, 40 * DAY + start * HOUR);
    expect(word.lastAt).toBe(T);
    expect(word.doubt).toEqual({ since: at(40 * DAY), seenAt: at(40 * DAY + 99 * HOUR), ranMs: 0 });
    expect(doubtOf(word, at(44 * DAY))).toBe('ahead');
  });

  it('that is put right is believed at once', () => {
    expect(beat(jumped, 9000, 9000)).toEqual({ lastAt: at(9000), doubt: null });
  });

  it('that ran a day with two files that agree is believed, and not before', () => {
    const files = { agreeing: 2, contradicting: 0 };
    const early = beat(jumped, 41 * DAY - HOUR, 23 * HOUR, files);
    expect(early.doubt?.ranMs).toBe(23 * HOUR);
    expect(beat(early, 41 * DAY, HOUR, { ...files, agreeing: 1 }).doubt).not.toBeNull();
    expect(beat(early, 41 * DAY, HOUR, { agreeing: 2, contradicting: 2 }).doubt).not.toBeNull();
    expect(beat(early, 41 * DAY, HOUR, files)).toEqual({ lastAt: at(41 * DAY), doubt: null });
  });

  it('that jumps once more proves itself anew', () => {
    const early = beat(jumped, 41 * DAY - HOUR, 23 * HOUR);
    const again = beat(early, 400 * DAY, HOUR, { agreeing: 5, contradicting: 0 });
    expect(again).toEqual({ lastAt: T, doubt: { since: at(400 * DAY), seenAt: at(400 * DAY), ranMs: 0 } });
  });
});
