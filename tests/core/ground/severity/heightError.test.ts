import { describe, expect, it } from 'vitest';
import { errorAt, heightErrorOf, UNSEEN } from '../../../../src/core/ground/severity/heightError.js';

const none = { variance: 1, again: null, rest: null };
const again = (errorShare: number) => ({ wayM: 2000, errorShare, delayS: 4 });

describe('the error of heights', () => {
  it('is unknown where nothing shows it', () => {
    expect(heightErrorOf(none)).toBe(UNSEEN);
    expect(heightErrorOf({ ...none, variance: 0, rest: { restS: 90, changeM: 1 } })).toBe(UNSEEN);
  });

  it('is the worse of two signs', () => {
    const rest = { restS: 90, changeM: 0 };
    expect(heightErrorOf({ ...none, again: again(0.7), rest })).toMatchObject({
      share: 0.7,
      shownBy: 'again',
    });
    const moving = { restS: 90, changeM: 1 };
    expect(heightErrorOf({ ...none, again: again(0.2), rest: moving })).toMatchObject({
      share: 0.5,
      shownBy: 'rest',
    });
  });

  it('leaves some ground, and grows with the root of the lag', () => {
    const worst = heightErrorOf({ ...none, again: again(1) });
    expect(worst.share).toBe(0.95);
    expect(errorAt({ ...worst, share: 0.5 }, 2, 80)).toBe(1);
    expect(errorAt({ ...worst, share: 0.5 }, 2, 320)).toBe(2);
  });
});
