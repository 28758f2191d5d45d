import { describe, expect, it } from 'vitest';
import { HABITS } from '../../../src/core/forecast/ridingHabits.js';
import { ridingLaw } from '../../../src/core/forecast/ridingLaw.js';

describe('riding habits', () => {
  it('hold hours of ride weeks from the least to the most', () => {
    expect([...HABITS.weekHours].sort((a, b) => a - b)).toEqual([...HABITS.weekHours]);
    expect(HABITS.weekHours[0]).toBeGreaterThan(0);
  });

  it('let a rider of whom nothing is known ride about as often in the long run as real riders do', () => {
    const law = ridingLaw({ weeks: [], lastDay: 20_254, hemisphere: 1 }, 'nobody');
    let ridden = 0;
    for (let i = 0; i < 200; i++) {
      const path = law.begin(i, 200);
      for (let ahead = 0; ahead < 208; ahead++) if (path.next(ahead) !== null && ahead >= 104) ridden += 1;
    }
    const share = ridden / 200 / 104;
    // Source: a study of 49 real riders' logs; the median rider rides in 48 % of weeks, the middle eight tenths in 22 to 77 %.
    expect(share).toBeGreaterThan(0.35);
    expect(share).toBeLessThan(0.65);
  });
});
