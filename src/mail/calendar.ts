import ical, { type ICalCalendar, ICalCalendarMethod, ICalEventStatus } from 'ical-generator';
import { oneLine } from '../core/lines.js';
import { ServiceError } from '../errors.js';
import type { FeedWriter, Mailbox, OutgoingMail } from '../ports/mailer.js';
import { DAY_MS, type Day, type Instant, secondsOfHours } from '../units.js';
import { voiceOf } from './correspondent.js';

/** A booked day. The same `uid` through all its changes, each with a higher `sequence`. */
export interface CalendarEntry {
  readonly method: 'PUBLISH' | 'CANCEL';
  /** A random UUID: it must not tell whose it is. */
  readonly uid: string;
  readonly sequence: number;
  /** When this version was made. */
  readonly stamp: Instant;
  readonly day: Day;
  readonly organizer: Mailbox;
  readonly summary: string;
  /** May hold line breaks. */
  readonly description: string;
  readonly location: string | null;
}

const UUID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i;
const CRLF = '\r\n';

/** Text of several lines, each without control characters, which no calendar text may hold. */
const lines = (text: string): string =>
  text
    .split(/\r\n|\r|\n/)
    .map(oneLine)
    .join('\n');

/** A quoted parameter cannot hold a quote, and the library takes no empty name. */
const organizerName = ({ name, address }: Mailbox): string => oneLine(name).replaceAll('"', "'") || address;

const checked = (entry: CalendarEntry): CalendarEntry => {
  const isRaised = entry.method === 'PUBLISH' || entry.sequence > 0;
  if (!UUID.test(entry.uid) || !Number.isSafeInteger(entry.sequence) || entry.sequence < 0 || !isRaised)
    throw new ServiceError('wrong-use', 'A calendar entry needs a UUID and a rising sequence.');
  return entry;
};

/**
 * Returns a booked day as an iCalendar text: all day, published or taken back.
 * Errors: ServiceError `wrong-use` for a uid that is no UUID, or a CANCEL that would not supersede.
 * Source: RFC 5545; RFC 5546 3.2.1 and 3.2.5 (no ATTENDEE in PUBLISH, a raised SEQUENCE in CANCEL); RFC 7986 5.3.
 */
export const calendarText = (of: CalendarEntry): string => {
  const entry = checked(of);
  const start = Date.parse(`${entry.day}T00:00:00Z`);
  const calendar = ical({
    method: entry.method === 'CANCEL' ? ICalCalendarMethod.CANCEL : ICalCalendarMethod.PUBLISH,
    prodId: { company: 'Stanchion', product: 'Service calendar', language: 'EN' },
  });
  calendar.createEvent({
    id: entry.uid.toLowerCase(),
    sequence: entry.sequence,
    stamp: new Date(entry.stamp),
    start: new Date(start),
    end: new Date(start + DAY_MS),
    allDay: true,
    summary: oneLine(entry.summary),
    description: lines(entry.description),
    location: entry.location === null ? null : oneLine(entry.location),
    organizer: { name: organizerName(entry.organizer), email: entry.organizer.address },
    status: entry.method === 'CANCEL' ? ICalEventStatus.CANCELLED : ICalEventStatus.CONFIRMED,
  });
  return asText(calendar);
};

/** The library adds lines for one vendor's reader; VALUE=DATE and REFRESH-INTERVAL say the same to all. */
const asText = (calendar: ICalCalendar): string =>
  `${calendar
    .toString()
    .split(CRLF)
    .filter((line) => !line.startsWith('X-'))
    .join(CRLF)
    .trimEnd()}${CRLF}`;

/**
 * Returns the entry as an attachment.
 * Source: RFC 6047 2.4 (the method stands in the content type too).
 */
export const calendarAttachment = (
  entry: CalendarEntry,
): NonNullable<OutgoingMail['attachments']>[number] => ({
  filename: entry.method === 'CANCEL' ? 'cancelled.ics' : 'booking.ics',
  contentType: `text/calendar; method=${entry.method}; charset=UTF-8`,
  content: calendarText(entry),
});

/** How often a reader of the calendar asks again. */
const FEED_REFRESH_S = secondsOfHours(6);

/** Returns booked days, and those asked for as tentative, as a calendar that names no rider. Source: RFC 5545, RFC 7986 5.7. */
export const calendarFeed: FeedWriter = ({ name, language }, entries) => {
  const { texts, words } = voiceOf(language);
  const calendar = ical({
    name: oneLine(texts.feed.title(name)),
    ttl: FEED_REFRESH_S,
    prodId: { company: 'Stanchion', product: 'Bookings', language: language.toUpperCase() },
  });
  for (const entry of entries) {
    const unit = `${oneLine(entry.tag)} ${oneLine(words.jobs([entry.serviceKind, ...(entry.beside ?? [])]))}`;
    const summary = `${unit}, ${oneLine(entry.bike)}`;
    const start = Date.parse(`${entry.day}T00:00:00Z`);
    calendar.createEvent({
      id: entry.uid.toLowerCase(),
      sequence: entry.sequence,
      stamp: new Date(entry.stamp),
      start: new Date(start),
      end: new Date(start + DAY_MS),
      allDay: true,
      summary: entry.isBooked ? summary : texts.feed.askedFor(summary),
      status: entry.isBooked ? ICalEventStatus.CONFIRMED : ICalEventStatus.TENTATIVE,
    });
  }
  return asText(calendar);
};
