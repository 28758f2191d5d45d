import { describe, expect, it } from 'vitest';
import { unrecordedBeside } from '../../../src/core/ledger/unrecorded.js';
import { instant, seconds, thousandths } from '../../../src/units.js';

const at = (time: string) => instant(Date.parse(time));
const ride = (start: string, bikeId = 'b1') => ({
  id: 'r',
  bikeId,
  start: at(start),
  movingS: seconds(2700),
  groundMs: thousandths(3_000_000),
});
const tenth = { bikeId: 'b1', from: at('2025-05-01T00:00:00Z'), to: at('2025-06-01T00:00:00Z'), share: 0.1 };

describe('what went unrecorded beside a ride', () => {
  it('is a ninth of it where a tenth of all riding is unrecorded, on the same ground', () => {
    expect(unrecordedBeside(ride('2025-05-10T08:00:00Z'), [tenth])).toEqual({
      ...ride('2025-05-10T08:00:00Z'),
      id: 'r unrecorded',
      movingS: 300,
      groundMs: 333_333,
    });
  });

  it('is nothing on another bike, before the time, or from its end on', () => {
    expect(unrecordedBeside(ride('2025-05-10T08:00:00Z', 'b2'), [tenth])).toBeNull();
    expect(unrecordedBeside(ride('2025-04-30T23:59:59Z'), [tenth])).toBeNull();
    expect(unrecordedBeside(ride('2025-06-01T00:00:00Z'), [tenth])).toBeNull();
    expect(unrecordedBeside(ride('2025-05-01T00:00:00Z'), [tenth])).not.toBeNull();
  });

  it('goes on where no end was said', () => {
    expect(unrecordedBeside(ride('2029-05-10T08:00:00Z'), [{ ...tenth, to: null }])?.movingS).toBe(300);
  });
});
