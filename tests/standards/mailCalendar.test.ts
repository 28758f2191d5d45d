import ICAL from 'ical.js';
import { describe, expect, it } from 'vitest';
import { calendarText } from '../../src/mail/calendar.js';
import { day, instant } from '../../src/units.js';

const calendarOf = (texts: { summary?: string; description?: string }, sequence = 0): string =>
  calendarText({
    method: sequence === 0 ? 'PUBLISH' : 'CANCEL',
    uid: '7f0e2c1a-0000-4000-8000-0123456789ab',
    sequence,
    stamp: instant(Date.UTC(1997, 5, 11, 19, 0, 0)),
    day: day('1997-07-01'),
    organizer: { name: '', address: 'a@example.com' },
    summary: 'x',
    description: 'y',
    location: null,
    ...texts,
  });

const octets = (line: string): number => Buffer.byteLength(line, 'utf8');
const unfolded = (text: string): string[] => text.replaceAll('\r\n ', '').split('\r\n');

describe('RFC 5545 3.1, lines', () => {
  it.each([
    ['67 letters, 75 octets with the name', 'summary', 'a'.repeat(67), 1],
    ['one more, which must be folded', 'summary', 'a'.repeat(68), 2],
    ['150 letters', 'description', 'a'.repeat(150), 3],
    ['40 letters of two octets', 'summary', 'é'.repeat(40), 2],
    ['letters of four octets', 'summary', '🚲'.repeat(30), 2],
  ] as const)(
    'folds %s within 75 octets, between letters, and unfolds to the same',
    (_, name, value, atLeast) => {
      const text = calendarOf({ [name]: value });
      expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
      expect(text.endsWith('END:VCALENDAR\r\n')).toBe(true);
      const lines = text.split('\r\n');
      expect(Math.max(...lines.map(octets))).toBeLessThanOrEqual(75);
      for (const line of lines) expect(line).not.toMatch(/\p{Surrogate}/u);
      expect(unfolded(text)).toContain(`${name.toUpperCase()}:${value}`);
      const first = lines.findIndex((line) => line.startsWith(name.toUpperCase()));
      const folds = lines.slice(first + 1).findIndex((line) => !line.startsWith(' '));
      expect(folds + 1).toBeGreaterThanOrEqual(atLeast);
    },
  );
});

describe('RFC 5545 3.3.11, text', () => {
  it('escapes backslash, semicolon, comma and line break, and no colon', () => {
    const plain = 'Fork; lower legs, 50 h\\due: 10:00\nSee manual';
    const text = calendarOf({ description: plain });
    expect(unfolded(text)).toContain('DESCRIPTION:Fork\\; lower legs\\, 50 h\\\\due: 10:00\\nSee manual');
    const event = new ICAL.Component(ICAL.parse(text)).getFirstSubcomponent('vevent');
    expect(event?.getFirstPropertyValue('description')).toBe(plain);
  });
});

describe('RFC 5546 3.2.1 and 3.2.5, what a published and a cancelled entry holds', () => {
  it.each([0, 1])('sequence %i', (sequence) => {
    const event = new ICAL.Component(ICAL.parse(calendarOf({}, sequence))).getFirstSubcomponent('vevent');
    for (const name of ['organizer', 'dtstamp', 'dtstart', 'summary', 'uid', 'sequence'])
      expect(event?.getAllProperties(name)).toHaveLength(1);
    expect(event?.getAllProperties('attendee')).toHaveLength(0);
    expect(event?.getFirstPropertyValue('sequence')).toBe(sequence);
    expect(event?.getFirstProperty('dtstamp')?.toICALString()).toBe('DTSTAMP:19970611T190000Z');
  });
});

describe('RFC 7986 5.3, uid', () => {
  it('is a UUID, without host or person', () => {
    expect(unfolded(calendarOf({}))).toContain('UID:7f0e2c1a-0000-4000-8000-0123456789ab');
  });
});
