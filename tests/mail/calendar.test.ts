import ICAL from 'ical.js';
import { describe, expect, it } from 'vitest';
import { type CalendarEntry, calendarAttachment, calendarText } from '../../src/mail/calendar.js';
import { day, instant } from '../../src/units.js';

const booked: CalendarEntry = {
  method: 'PUBLISH',
  uid: '7F0E2C1A-0000-4000-8000-0123456789AB',
  sequence: 0,
  stamp: instant(Date.UTC(2025, 4, 27, 8, 0, 0)),
  day: day('2025-06-10'),
  organizer: { name: 'Invented Bench; "Sons", Ltd', address: 'counter@example.org' },
  summary: 'Moss Hopper: lower-leg service',
  description: 'Fork F-0412\r\nBring the bike; not the wheels, please.',
  location: '1 Nowhere Lane, Notatown',
};

const parsed = (entry: CalendarEntry) => {
  const calendar = new ICAL.Component(ICAL.parse(calendarText(entry)));
  const found = calendar.getFirstSubcomponent('vevent');
  if (found === null) throw new Error('no event');
  return { calendar, event: new ICAL.Event(found), component: found };
};

describe('calendarText', () => {
  it('publishes a day that an independent reader finds again', () => {
    const { calendar, event, component } = parsed(booked);
    expect(calendar.getFirstPropertyValue('method')).toBe('PUBLISH');
    expect(event.uid).toBe(booked.uid.toLowerCase());
    expect(event.sequence).toBe(0);
    expect(event.summary).toBe(booked.summary);
    expect(event.description).toBe('Fork F-0412\nBring the bike; not the wheels, please.');
    expect(event.location).toBe(booked.location);
    expect([event.startDate.isDate, event.startDate.toString(), event.endDate.toString()]).toEqual([
      true,
      '2025-06-10',
      '2025-06-11',
    ]);
    expect(String(component.getFirstPropertyValue('dtstamp'))).toBe('2025-05-27T08:00:00Z');
    expect(component.getFirstPropertyValue('organizer')).toBe('mailto:counter@example.org');
    expect(component.getFirstPropertyValue('status')).toBe('CONFIRMED');
  });

  it('takes it back under the same uid with a higher sequence', () => {
    const { calendar, event, component } = parsed({ ...booked, method: 'CANCEL', sequence: 2 });
    expect(calendar.getFirstPropertyValue('method')).toBe('CANCEL');
    expect([event.uid, event.sequence]).toEqual([booked.uid.toLowerCase(), 2]);
    expect(component.getFirstPropertyValue('status')).toBe('CANCELLED');
  });

  it('gives the same day in every zone that the machine may stand in', () => {
    const before = process.env.TZ;
    for (const zone of ['Pacific/Kiritimati', 'Pacific/Pago_Pago']) {
      process.env.TZ = zone;
      expect(calendarText(booked)).toContain('\r\nDTSTART;VALUE=DATE:20250610\r\n');
    }
    if (before === undefined) delete process.env.TZ;
    else process.env.TZ = before;
  });

  it('refuses a uid that could tell whose it is, and a sequence that supersedes nothing', () => {
    for (const wrong of [
      { uid: 'ada@example.org' },
      { sequence: -1 },
      { sequence: 0.5 },
      { method: 'CANCEL', sequence: 0 },
    ] as const)
      expect(() => calendarText({ ...booked, ...wrong })).toThrowError(
        expect.objectContaining({ code: 'wrong-use' }),
      );
  });

  it('lets no typed text start a line of its own', () => {
    const evil = 'x\r\nATTENDEE:mailto:spy@example.org\u0000\rEND:VEVENT';
    const text = calendarText({
      ...booked,
      summary: evil,
      description: evil,
      location: evil,
      organizer: { ...booked.organizer, name: evil },
    });
    expect(text).not.toMatch(/^ATTENDEE/m);
    expect(text.match(/^END:VEVENT/gm)).toHaveLength(1);
  });
});

describe('calendarAttachment', () => {
  it('says the method in its type as well', () => {
    for (const [method, sequence] of [
      ['PUBLISH', 0],
      ['CANCEL', 1],
    ] as const) {
      const part = calendarAttachment({ ...booked, method, sequence });
      expect(part.contentType).toBe(`text/calendar; method=${method}; charset=UTF-8`);
      expect(part.content).toContain(`METHOD:${method}\r\n`);
      expect(part.filename).toMatch(/^[a-z]+\.ics$/);
    }
  });
});
