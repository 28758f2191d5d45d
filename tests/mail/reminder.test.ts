import { describe, expect, it } from 'vitest';
import type { ReminderContent, ReminderItem } from '../../src/core/notices/mailContent.js';
import type { RemindedState } from '../../src/core/states.js';
import { mailTextsFor, wordsFor } from '../../src/languages/index.js';
import { renderReminder } from '../../src/mail/reminder.js';
import { day } from '../../src/units.js';
import { inPortuguese, item, reminder, several, withoutLinks } from './mailSamples.js';

const plain = (text: string): string => text.replace(/\s+/g, ' ');
const withItem = (change: Partial<ReminderItem>, input: ReminderContent = reminder): ReminderContent => ({
  ...input,
  bikes: [{ ...input.bikes[0]!, items: [{ ...item, ...change }] }],
});

const [bike] = reminder.bikes as [ReminderContent['bikes'][number]];
const wordsBeforeCautions = (input: ReminderContent): number => {
  const { text } = renderReminder(input);
  const [before = '', ...after] = text.split(mailTextsFor(input.rider.language).cautions.title);
  expect(after).toHaveLength(1);
  return before.split(/\s+/).filter((word) => /[\p{L}\p{N}]/u.test(word)).length;
};

const REMINDED: readonly RemindedState[] = ['over-interval', 'due', 'coming-up', 'history-unknown'];

/** An item with everything that can be said of one. */
const wordy: Partial<ReminderItem> = {
  bike: 'Old Moss Hopper Two',
  offered: 'full',
  state: 'coming-up',
  hoursLeft: 3,
  noRidesSince: day('2025-05-03'),
};

describe('renderReminder', () => {
  it('says at most 150 words before the cautions, in every state, language and with all there is to say', () => {
    for (const language of [(input: ReminderContent) => input, inPortuguese])
      for (const input of [reminder, withoutLinks])
        for (const state of REMINDED) {
          const links = input.links === null ? null : item.links;
          expect(wordsBeforeCautions(language(withItem({ state, links }, input)))).toBeLessThanOrEqual(150);
          expect(
            wordsBeforeCautions(language(withItem({ ...wordy, state, links }, input))),
          ).toBeLessThanOrEqual(150);
        }
  });

  it('puts bike, unit, hours, interval, date, rides, days, price and turnaround into plain text', () => {
    const { subject, text } = renderReminder(reminder);
    expect(subject).toBe('Moss Hopper: lower-leg service about 12–20 June');
    const said = plain(text);
    for (const part of [
      'Hello Ada Madeup,',
      'The fork on Moss Hopper will likely need its lower-leg service about 12–20 June.',
      'Fork: F-0412, Nonesuch 140',
      'Terrain hours (estimate): 41.3 of 50 h, 8.7 h left',
      'Moving hours: 36.2 of at most 75 h',
      'Counted since: 3 October 2024; at most 12 months',
      'Price: 60 crowns with parts',
      'Takes: two working days',
      '- Tuesday 10 June - Wednesday 11 June - Friday 13 June',
      'Last rides on Moss Hopper: - 25 May: 2.1 h, terrain 3.4 h, rough - 18 May: 1.6 h',
      'Wrong bike? https://',
      '1 Nowhere Lane 00000 Notatown Phone +000 555 0100 Open Tuesday to Saturday, 10 to 18',
    ])
      expect(said).toContain(part);
    expect(said).toMatch(/Terrain hours are .* That is an estimate/);
  });

  it('says the same in HTML as in plain text, and links to each page once in either', () => {
    for (const input of [reminder, withoutLinks, inPortuguese(reminder)]) {
      const { text, html } = renderReminder(input);
      const shown = html
        .replace(/<head>.*<\/head>/s, '')
        .replace(/<[^>]*>/g, ' ')
        .replaceAll('&#39;', "'")
        .replaceAll('&amp;', '&');
      const words = (of: string): string[] => of.split(/[^\p{L}\p{N}]+/u).filter((word) => word !== '');
      const withoutPages = text.replace(/https:\S+/g, '');
      const inHtml = new Set(words(shown));
      expect(words(withoutPages).filter((word) => !inHtml.has(word))).toEqual([]);
      const pages = (of: string): string[] =>
        [...of.matchAll(/https:[^\s"<]+/g)].map(([page]) => page).sort();
      expect(pages(html)).toEqual(pages(text));
      expect(pages(text)).toHaveLength(input.links === null ? 0 : 7);
    }
  });

  it('says to reply or phone where there are no pages, and has no dead links', () => {
    const { text, html } = renderReminder(withoutLinks);
    const said = plain(text);
    expect(said).toContain('sold or stored: reply to this mail or phone +000 555 0100.');
    expect(said).toContain('To stop these reminders, reply to this mail or phone +000 555 0100.');
    expect(said).toContain('Wrong bike? Tell us.');
    expect(html).not.toContain('<a ');
    const { text: noPhone } = renderReminder({
      ...withoutLinks,
      workshop: { ...withoutLinks.workshop, phone: null },
    });
    expect(plain(noPhone)).toContain('sold or stored: reply to this mail.');
  });

  it('says in each state what is wanted, and which limit bit', () => {
    const said = (change: Partial<ReminderItem>): string => plain(renderReminder(withItem(change)).text);
    expect(said({ state: 'due', limit: 'moving-hours', movingHours: 75.2 })).toContain(
      '75.2 of 75 h (moving hours): the fork on Moss Hopper is due for its lower-leg service.',
    );
    const months = said({ state: 'due', limit: 'months', terrainHours: 18, hoursLeft: 32 });
    expect(months).toContain('12 months since 3 October 2024: the fork on Moss Hopper is due');
    expect(months).not.toMatch(/left|reached its interval/);
    expect(said({ state: 'over-interval', terrainHours: 66, hoursLeft: -16 })).toContain(
      '66 of 50 h (terrain hours): the fork on Moss Hopper is overdue',
    );
    expect(said({ state: 'coming-up', limit: 'months' })).toContain(
      '12 months since 3 October 2024 are up on 3 October: by then the fork',
    );
    expect(said({ state: 'coming-up', about: null })).toContain('will soon need its lower-leg service');
    expect(said({ hoursLeft: -3.25, terrainHours: 53.25 })).toContain('53.3 of 50 h, 3.3 h over');
    expect(said({ limit: 'moving-hours' })).toContain('Comes first: moving hours');
    const unknown = said({ state: 'history-unknown', hoursLeft: null, since: null, limit: 'none' });
    expect(unknown).toContain('Nobody knows when the fork on Moss Hopper was last opened');
    expect(unknown).not.toMatch(/Counted since|Comes first|left| of 50 h/);
  });

  it('names the larger job in place of the smaller, and a date that is a guess as one', () => {
    const said = plain(renderReminder(withItem(wordy)).text);
    expect(said).toContain('We suggest the full service instead');
    expect(said).toContain('No rides since 3 May: a guess.');
  });

  it('shows terrain hours never without moving hours, and the interval that is missing not at all', () => {
    const none = { terrainHours: null, months: null, movingHoursCeiling: null, rule: 'unit' } as const;
    const said = plain(renderReminder(withItem({ interval: none, hoursLeft: null, limit: 'none' })).text);
    expect(said).toContain(
      'Terrain hours (estimate): 41.3 h Moving hours: 36.2 h Counted since: 3 October 2024 Price',
    );
  });

  it('gathers several units, a line each with its reason, one visit and one button a bike', () => {
    const { subject, text } = renderReminder(several);
    expect(subject).toBe('Moss Hopper: lower-leg service overdue, and 2 more');
    const said = plain(text);
    expect(said).toContain('Fork F-0412: lower-leg service, over interval: 66 of 50 h (terrain hours)');
    expect(said).toContain('Air shock S-0031: full service, history unknown');
    expect(said).toContain('Fork F-0007: lower-leg service, due: 12 months since 20 May 2024');
    expect(said).toContain('Free days: Tuesday 10 June, Wednesday 11 June and Friday 13 June');
    expect(text.match(/^Ask for a day:/gm)).toHaveLength(2);
    expect(text.match(/^Something else\?/gm)).toHaveLength(1);
    expect(said).not.toMatch(/0 of 50 h|32 h left/);
    const [before = ''] = text.split('Before anybody opens a unit');
    expect(before.match(/https:/g)).toHaveLength(4);
    expect(text.match(/Before anybody opens a unit/g)).toHaveLength(1);
  });

  it('names each job of one unit with its figures, and what takes the place of both once', () => {
    const twice = (kind: string, hours: number) => ({
      ...{ ...item, serviceKind: kind, offered: 'full', state: 'over-interval' as const },
      ...{ terrainHours: hours, hoursLeft: 100 - hours },
      interval: { ...item.interval, terrainHours: 100 },
    });
    const items = [twice('air-spring', 130), twice('damper', 140)];
    const said = plain(renderReminder({ ...reminder, bikes: [{ ...reminder.bikes[0]!, items }] }).text);
    expect(said).toContain('F-0412, air-spring service: terrain 130 of 100 h, 30 h over');
    expect(said).toContain('F-0412, damper service: terrain 140 of 100 h, 40 h over');
    expect(said.match(/We suggest the full service instead/g)).toHaveLength(1);
    expect(said.match(/Price, F-0412/g)).toHaveLength(1);
  });

  it('says of several what each job is, behind the cautions, and price and time in one line', () => {
    const { text } = renderReminder(several);
    const [before = '', after = ''] = text.split('Before anybody opens a unit');
    expect(before).not.toContain('Foam rings');
    const said = plain(after);
    expect(said).toContain('What is done: - Lower-leg service: Foam rings, wipers and bath oil are seen to');
    expect(said).toContain('- Full service: The whole unit is taken apart');
    expect(said.match(/Foam rings/g)).toHaveLength(1);
    expect(said).toContain('- Bring it clean.');
    expect(plain(before)).toContain('Price, F-0412: 60 crowns with parts, takes two working days');
  });

  it('says what the job is, what to bring, and of hours entered by hand that they are', () => {
    const said = plain(renderReminder(reminder).text);
    expect(said).toContain(
      'Foam rings, wipers and bath oil are seen to, before dirty oil wears the stanchions.',
    );
    expect(said).toContain('Bring it clean.');
    const lastRides = reminder.lastRides.map((ride, i) => ({ ...ride, isByHand: i === 0 }));
    const byHand = plain(renderReminder({ ...reminder, lastRides }).text);
    expect(byHand.match(/\(entered by hand\)/g)).toHaveLength(1);
  });

  it('names the bike of each ride where they differ', () => {
    const lastRides = reminder.lastRides.map((ride, i) => (i === 1 ? { ...ride, bike: 'Brine' } : ride));
    const said = plain(renderReminder({ ...reminder, lastRides }).text);
    expect(said).toContain(
      'Last rides: - 25 May, Moss Hopper: 2.1 h, terrain 3.4 h, rough - 18 May, Brine: 1.6 h',
    );
  });

  it('shows three rides and three days at most, and no empty list', () => {
    const many = renderReminder({
      ...reminder,
      lastRides: Array.from({ length: 9 }, () => reminder.lastRides[0]!),
      bikes: [{ ...bike, freeDays: Array.from({ length: 9 }, () => bike.freeDays[0]!) }],
    }).text;
    expect(many.match(/terrain 3\.4/g)).toHaveLength(3);
    expect(many.match(/Tuesday 10 June/g)).toHaveLength(3);
    const none = renderReminder({ ...reminder, lastRides: [], bikes: [{ ...bike, freeDays: [] }] }).text;
    expect(none).not.toMatch(/Last rides|Free days|Wrong bike/);
  });

  it('keeps typed text on its line, in its place, and the subject short', () => {
    const evil = 'A\r\nBcc: spy@example.org\u202e<script>alert(1)</script>"\'&';
    const { subject, text, html } = renderReminder({
      ...withItem({ bike: evil, tag: evil, model: evil, price: evil, turnaround: evil, serviceKind: evil }),
      rider: { name: evil, language: 'en' },
      workshop: { name: evil, phone: evil, address: evil, openingHours: evil },
    });
    expect(subject).not.toMatch(/[\r\n\u202e]/);
    expect([...subject].length).toBeLessThanOrEqual(70);
    expect(html).not.toContain('<script');
    expect(html).not.toContain('\u202e');
    expect(text).toContain(`Hello A Bcc: spy@example.org <script>`);
  });

  it('greets by the name as typed, or without one', () => {
    expect(renderReminder({ ...reminder, rider: { name: 'dr. ADA', language: 'en' } }).text).toContain(
      'Hello dr. ADA,',
    );
    expect(renderReminder({ ...reminder, rider: { name: ' ', language: 'en' } }).text).toMatch(/^Hello,\n/);
  });

  it('refuses to be about nothing', () => {
    expect(() => renderReminder({ ...reminder, bikes: [] })).toThrow(RangeError);
  });

  it('speaks the language of the rider, in HTML too', () => {
    const { subject, text, html } = renderReminder(inPortuguese(reminder));
    expect(subject).toBe('Moss Hopper: revisão das bainhas por volta de 12–20 de junho');
    expect(plain(text)).toContain('Horas de terreno (estimativa): 41,3 de 50 h, faltam 8,7 h');
    expect(html).toContain('<html lang="pt">');
    for (const english of Object.values(wordsFor('en').state)) expect(text).not.toContain(` ${english} `);
  });
});
