import { expect, test } from 'vitest';
import { SINCE, silence } from '../../../../src/core/notices/kinds/silence.js';
import { day } from '../../../../src/units.js';
import { NOTICE, riderOf } from '../noticeWorld.js';

const today = day('2025-06-10');
const since = (text: string) => ({ since: day(text), days: 30 });

test('holds until a ride after its day', () => {
  const told = {
    ...NOTICE,
    state: null,
    occasion: 'silence',
    cause: SINCE.write(day('2025-05-03')),
  } as const;
  const holds = (rest: Parameters<typeof riderOf>[1]) =>
    silence.holds(told, { today, unit: [], riders: [riderOf('r1', rest)] });
  expect(holds({ silence: since('2025-05-03') })).toBe(true);
  expect(holds({ silence: since('2025-05-04') })).toBe(false);
  expect(holds({})).toBe(false);
});

test('says since when, and is held where no mail can go', () => {
  const riders = [riderOf('r1', { silence: since('2025-05-03'), address: 'refused' })];
  const [wish] = silence.wishes({ today, units: [], riders }, []);
  expect(silence.why(wish!)).toBe('no ride since 2025-05-03');
  expect(wish!.hold).toContain('call this rider');
});
