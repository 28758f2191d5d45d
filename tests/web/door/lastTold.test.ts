import { expect, it } from 'vitest';
import { HOUR_MS, type Instant, instant } from '../../../src/units.js';
import { LastTold } from '../../../src/web/door/lastTold.js';

const NOW = instant(Date.parse('2026-06-10T09:00:00Z'));
const after = (ms: number): Instant => instant(NOW + ms);

it('holds what each was told last, for an hour, and for so many people', () => {
  const last = new LastTold<string>();
  last.keep('a', 'first', NOW);
  last.keep('a', 'second', NOW);
  expect([last.of('a', after(HOUR_MS)), last.of('b', NOW)]).toEqual(['second', undefined]);
  expect(last.of('a', after(HOUR_MS + 1))).toBeUndefined();
  for (let i = 0; i < 201; i += 1) last.keep(`many ${i}`, 'x', NOW);
  expect([last.of('many 0', NOW), last.of('many 1', NOW)]).toEqual([undefined, 'x']);
});
