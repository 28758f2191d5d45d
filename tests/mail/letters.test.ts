import { describe, expect, it } from 'vitest';
import {
  renderBooking,
  renderConfirmAddress,
  renderDayAsked,
  renderLink,
  renderSilence,
} from '../../src/mail/letters.js';
import { day } from '../../src/units.js';
import { outgoing, today, workshop } from './mailSamples.js';

const UID = '7f0e2c1a-0000-4000-8000-0123456789ab';
const plain = (text: string): string => text.replace(/\s+/g, ' ');
const frame = { workshop, rider: { name: 'Ada Madeup', language: 'en' }, today };
const link = 'https://bench.example.org/r/hhhhhhhhh';

describe('renderConfirmAddress', () => {
  it('asks for one word or one press, and holds no ride, bike, unit or date', () => {
    for (const given of [link, null]) {
      const { subject, text, html } = renderConfirmAddress({ ...frame, link: given });
      expect(subject).toBe('Invented Bench & Sons: is this address yours?');
      expect(plain(text)).toContain(
        given === null ? 'To confirm it, reply to this mail' : `Yes, this is my address: ${link}`,
      );
      expect(`${text} ${html}`).not.toMatch(/\b(ride|fork|shock|hours? of|May|June)\b/);
    }
  });
});

describe('renderSilence', () => {
  it('asks whether the rider rests, and says that dates are guesses until then', () => {
    const { subject, text } = renderSilence({ ...frame, since: day('2025-05-03'), links: null });
    expect(subject).toBe('No rides since 3 May: are you resting?');
    expect(plain(text)).toContain('is from 3 May');
    expect(plain(text)).toContain('guesses');
    expect(plain(text)).toContain('To stop these reminders, reply to this mail or phone +000 555 0100.');
  });

  it('leads to the page for ride files where there is one', () => {
    const { text } = renderSilence({
      ...frame,
      rider: { name: 'Ada', language: 'pt' },
      since: day('2024-11-03'),
      links: { handOver: link, stopMails: `${link}/stop` },
    });
    expect(text).toContain(`Entregar ficheiros das voltas: ${link}\n`);
    expect(text).toContain(`Parar estes lembretes: ${link}/stop\n`);
    expect(plain(text)).toContain('3 de novembro de 2024');
  });
});

describe('renderBooking', () => {
  it.each([
    [
      'booked',
      'Booked: Moss Hopper, Tuesday 10 June',
      'is booked for its lower-leg service on Tuesday 10 June.',
    ],
    [
      'moved',
      'New day: Moss Hopper, Tuesday 10 June',
      'now comes for its lower-leg service on Tuesday 10 June.',
    ],
    ['cancelled', 'Cancelled: Moss Hopper, Tuesday 10 June', 'is no longer booked for its lower-leg service'],
    [
      'done',
      'Done already: Moss Hopper, Tuesday 10 June is free again',
      '(fork F-0412) is done already, so Tuesday 10 June is no longer needed.',
    ],
    [
      'declined',
      'Not possible: Moss Hopper, Tuesday 10 June',
      ', lower-leg service. Sorry, that day is not possible.',
    ],
  ] as const)('tells what was %s, and how to change it', (change, subject, said) => {
    const mail = renderBooking({
      ...frame,
      change,
      bike: 'Moss Hopper',
      tag: 'F-0412',
      unitKind: 'fork',
      serviceKind: 'lower-leg',
      day: day('2025-06-10'),
      calendar: { uid: UID, sequence: 1, stamp: outgoing.date },
      organizer: outgoing.from,
      also: [],
      offered: change === 'declined' ? [day('2025-06-12'), day('2025-06-16')] : [],
      link: change === 'done' ? null : 'https://bench.example.org/r/ask/aaaaaaaa',
    });
    expect(mail.subject).toBe(subject);
    expect(plain(mail.text)).toMatch(/Moss Hopper \(fork F-0412\),? /);
    expect(plain(mail.text)).toContain(said);
    const [part] = mail.attachments ?? [];
    expect(part?.contentType ?? 'none').toContain(
      { booked: 'PUBLISH', moved: 'PUBLISH', cancelled: 'CANCEL', done: 'CANCEL', declined: 'none' }[change],
    );
    expect(plain(mail.text).includes('Other free days: Thursday 12 June and Monday 16 June.')).toBe(
      change === 'declined',
    );
    if (part) expect(part.content).toContain(`UID:${UID}`);
    expect(mail.text.includes('attached file')).toBe(part !== undefined);
    expect(plain(mail.text).includes('If that does not suit you, reply to this mail or phone')).toBe(
      change !== 'done',
    );
    expect(mail.text).not.toContain('Stop these reminders');
  });
});

describe('renderDayAsked', () => {
  it('tells the workshop who asks for what and when, in its language', () => {
    const about = { bike: 'Moss Hopper', tag: 'F-0412', unitKind: 'fork', serviceKind: 'lower-leg' } as const;
    const asked = {
      today,
      ...about,
      day: day('2025-06-10'),
      rider: 'Ada Madeup',
      link,
      also: [],
      wish: null,
    };
    const en = renderDayAsked({ ...asked, workshop: { ...workshop, language: 'en' } });
    expect(en.subject).toBe('Ada Madeup asks for Tuesday 10 June');
    expect(plain(en.text)).toContain('Moss Hopper (fork F-0412), lower-leg service.');
    expect(en.text).toContain(`Open the bookings: ${link}\n`);
    const pt = renderDayAsked({ ...asked, link: null, workshop: { ...workshop, language: 'pt' } });
    expect(pt.subject).toContain('Ada Madeup pede');
    expect(pt.text).not.toContain('https:');
    const shock = { ...asked, tag: 'S-0031', unitKind: 'air-shock', serviceKind: 'air-sleeve' } as const;
    const both = renderDayAsked({ ...asked, also: [shock], workshop: { ...workshop, language: 'en' } });
    expect(plain(both.text)).toContain('On the same visit: air shock S-0031, air-sleeve service.');
    expect(en.text).not.toContain('same visit');
    expect(plain(en.text)).not.toContain('writes');
    const words = renderDayAsked({
      ...asked,
      wish: 'After five,\nplease',
      workshop: { ...workshop, language: 'en' },
    });
    expect(plain(words.text)).toContain('The rider writes: “After five, please”');
  });
});

describe('renderLink', () => {
  it('gives the page, and says nothing of what it is about', () => {
    const { text } = renderLink({ ...frame, link, why: 'fresh', ridesAddress: null });
    expect(text).toContain(`Open the page: ${link}\n`);
    expect(text).not.toMatch(/\b(ride|fork|shock|service)\b/);
  });

  it('says what a rider’s own page is for, when it comes for the first time', () => {
    const mail = renderLink({ ...frame, link, why: 'first', ridesAddress: null });
    expect(mail.subject).toContain('your bikes and hours');
    expect(plain(mail.text)).toContain('send your ride files');
    expect(mail.text).toContain(`Open your page: ${link}\n`);
  });
});
