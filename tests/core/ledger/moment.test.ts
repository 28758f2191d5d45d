import { expect, it } from 'vitest';
import { afterLastRideOf, eveningOf, momentOf } from '../../../src/core/ledger/moment.js';
import { day, isoTime } from '../../../src/units.js';

const read = (text: string, zone = 'Europe/Lisbon') => {
  const at = momentOf(text, zone);
  return at === null ? null : isoTime(at);
};

it('a day means its start in the workshop’s zone, in summer and in winter', () => {
  expect(read('2025-06-10')).toBe('2025-06-09T23:00:00Z');
  expect(read('2025-01-10')).toBe('2025-01-10T00:00:00Z');
});

it('a time means itself, whatever the zone', () => {
  expect(read('2025-06-10T10:00:00+02:00')).toBe('2025-06-10T08:00:00Z');
  expect(read('2025-06-10T08:00:00.5Z')).toBe('2025-06-10T08:00:00.500Z');
});

it('a time without a zone is the zone’s own, on both days on which the clocks change', () => {
  expect(read('2025-06-10T10:00')).toBe('2025-06-10T09:00:00Z');
  expect(read('2025-01-10 10:00:30')).toBe('2025-01-10T10:00:30Z');
  // In Lisbon 01:30 came not at all on 30 March 2025, and twice on 26 October. Source: IANA time zone database.
  expect(read('2025-03-30T01:30')).toBe('2025-03-30T01:30:00Z');
  expect(read('2025-10-26T01:30')).toBe('2025-10-26T00:30:00Z');
});

it('what is neither means nothing', () => {
  for (const text of ['', 'yesterday', '2025-02-30', '2025-06-10T25:00', '2025-06-10T10', '10.06.2025'])
    expect(read(text), text).toBeNull();
});

it('a time whose year has more than four digits, or fewer, means nothing', () => {
  for (const text of [
    '+010000-01-01T00:00:00Z',
    '9999-12-31T23:30:00-12:00',
    '-000001-06-01T00:00:00Z',
    '+275760-09-13T00:00:00Z',
  ])
    expect(read(text), text).toBeNull();
  expect(read('9999-12-31')).toBe('9999-12-31T00:00:00Z');
});

it('after a day’s last ride is of that day, on days of 23, 24 and 25 hours', () => {
  for (const [on, last] of [
    ['2025-03-30', '2025-03-30T22:59:59.999Z'],
    ['2025-06-10', '2025-06-10T22:59:59.999Z'],
    ['2025-10-26', '2025-10-26T23:59:59.999Z'],
  ] as const) {
    expect(afterLastRideOf(day(on), 'Europe/Lisbon')).toBe(last);
    expect(eveningOf(momentOf(last, 'Europe/Lisbon')!, 'Europe/Lisbon')).toBe(on);
    expect(eveningOf(momentOf(last, 'Etc/GMT-5')!, 'Etc/GMT-5')).toBeNull();
  }
  for (const other of ['2025-06-10', '2025-06-10T22:59:59Z', '2025-06-10T22:58:59.999Z'])
    expect(eveningOf(momentOf(other, 'Europe/Lisbon')!, 'Europe/Lisbon'), other).toBeNull();
});

it('after the last ride of the last day of all is no moment', () => {
  expect(momentOf(afterLastRideOf(day('9999-12-31'), 'Etc/UTC'), 'Etc/UTC')).toBeNull();
});
