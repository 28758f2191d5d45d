import { beforeAll, describe, expect } from 'vitest';
import { CLOCKS, type Judged, judgeAll, shareOf } from '../bench/evidence/joinEvidence.js';
import { itWithRecordings } from '../fixtures/recordings.js';

const folder = process.env.STANCHION_RECORDINGS ?? '';

describe('real rides that come twice', () => {
  let all: readonly Judged[] = [];
  beforeAll(() => {
    if (folder !== '') all = judgeAll(folder);
  }, 180_000);
  const of = (comings: Iterable<string>): Judged[] => {
    const names = new Set(comings);
    return all.filter((one) => names.has(one.coming));
  };

  itWithRecordings('never come to other hours than the union of both without a question', () => {
    expect(all.length).toBeGreaterThan(600);
    expect(all.filter((one) => one.verdict === 'wrong')).toEqual([]);
  });

  itWithRecordings('in another clock are told by themselves, 95 of 100', () => {
    expect(shareOf(of(CLOCKS.keys()), 'exact')).toBeGreaterThanOrEqual(0.95);
  });

  itWithRecordings(
    'in pieces, in the other format and with noise under one clock are all told by themselves',
    () => {
      const comings = [
        ...['first half', 'second half', 'both halves', 'every fifth point', 'without its middle'],
        ...[
          'in the other format',
          'five points of another year',
          'noise in place',
          'noise in the other format',
        ],
      ];
      expect(shareOf(of(comings), 'exact')).toBe(1);
    },
  );

  itWithRecordings('in the other format under another clock are told by themselves, 95 of 100', () => {
    const comings = [
      'in the other format, 1 h off',
      'in the other format, −2 h off',
      'noise in the other format, 1 h off',
    ];
    expect(shareOf(of(comings), 'exact')).toBeGreaterThanOrEqual(0.95);
  });
});
