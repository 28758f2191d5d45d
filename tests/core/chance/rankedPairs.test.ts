import fc from 'fast-check';
import { expect, it } from 'vitest';
import { shareRankedRight } from '../../../src/core/chance/rankedPairs.js';

it('counts pairs, ties by half, as going through all of them does', () => {
  const scored = fc.record({ score: fc.integer({ min: 0, max: 8 }), isHit: fc.boolean() });
  fc.assert(
    fc.property(fc.array(scored, { maxLength: 30 }), (all) => {
      let pairs = 0;
      let right = 0;
      for (const hit of all.filter((one) => one.isHit)) {
        for (const miss of all.filter((one) => !one.isHit)) {
          pairs++;
          right += hit.score > miss.score ? 1 : hit.score === miss.score ? 0.5 : 0;
        }
      }
      const share = shareRankedRight(all);
      if (pairs === 0) expect(share).toBeNaN();
      else expect(share).toBeCloseTo(right / pairs, 12);
    }),
  );
});
