import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { mailWriter } from '../../src/mail/writer.js';
import type { Letter } from '../../src/ports/mailer.js';
import { day, instant } from '../../src/units.js';
import {
  contentsIn,
  digest,
  inPortuguese,
  item,
  reminder,
  several,
  stopped,
  today,
  withoutLinks,
  workshop,
} from '../mail/mailSamples.js';
import { expectAccessible, hasBrowser, openBrowser, WHY_NOT } from './browser.js';

/** A folder for pictures to look at; without it none are made. */
const PICTURES = process.env.STANCHION_PICTURES;

const frame = { workshop, rider: reminder.rider, today };
const booking = {
  ...frame,
  bike: item.bike,
  tag: item.tag,
  unitKind: item.unitKind,
  serviceKind: item.serviceKind,
  day: day('2025-06-10'),
  change: 'booked',
  calendar: { uid: '7f0e2c1a-0000-4000-8000-0123456789ab', sequence: 0, stamp: instant(0) },
  organizer: { name: workshop.name, address: 'bench@example.org' },
  also: [],
  offered: [],
  link: 'https://bench.example.org/r/ask/aaaaaaaa',
} as const;
const link = 'https://bench.example.org/r/hhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhh';
const links = { handOver: link, stopMails: link };

const LETTERS: Readonly<Record<string, Letter>> = {
  reminder: mailWriter.write({ mail: 'reminder', content: reminder }),
  'reminder-several': mailWriter.write({ mail: 'reminder', content: several }),
  'reminder-several-pt': mailWriter.write({ mail: 'reminder', content: inPortuguese(several) }),
  'reminder-bare': mailWriter.write({ mail: 'reminder', content: withoutLinks }),
  'reminder-pt': mailWriter.write({ mail: 'reminder', content: inPortuguese(reminder) }),
  'stop-riding': mailWriter.write({ mail: 'stop-riding', content: stopped }),
  'stop-riding-workshop': mailWriter.write({ mail: 'stop-riding', content: { ...stopped, rider: null } }),
  digest: mailWriter.write({ mail: 'digest', content: digest }),
  'digest-pt': mailWriter.write({
    mail: 'digest',
    content: { ...digest, workshop: { ...digest.workshop, language: 'pt' } },
  }),
  silence: mailWriter.write({ mail: 'silence', content: { ...frame, since: day('2025-05-03'), links } }),
  'confirm-address': mailWriter.write({ mail: 'confirm-address', content: { ...frame, link } }),
  booking: mailWriter.write({ mail: 'booking', content: booking }),
  'fresh-link': mailWriter.write({
    mail: 'fresh-link',
    content: { ...frame, link, why: 'fresh', ridesAddress: null },
  }),
  'own-page': mailWriter.write({
    mail: 'own-page',
    content: {
      ...{ ...frame, link, why: 'first' as const },
      ridesAddress: 'rides+abc123def456-0123456789abcdef01234567@bench.example.org',
    },
  }),
  // One of every kind, in both languages.
  ...Object.fromEntries(
    (['en', 'pt'] as const).flatMap((language) => {
      const contents = contentsIn(language);
      return (Object.keys(contents) as (keyof typeof contents)[])
        .filter((mail) => mail !== 'reminder' && mail !== 'digest')
        .map((mail) => [
          `${mail}-${language}`,
          mailWriter.write({ mail, content: contents[mail][0]! } as Parameters<typeof mailWriter.write>[0]),
        ]);
    }),
  ),
};

/** A mail about three units is two screens of a phone before the cautions, with one button a bike. */
async function expectShort(page: Page, name: string): Promise<void> {
  const before = `document.querySelector('.cautions').getBoundingClientRect().top + scrollY`;
  expect(await page.evaluate(before), name).toBeLessThanOrEqual(2 * 844);
  const bikes = name.includes('several') ? several.bikes.length : 1;
  const buttons = await page.locator('.button').count();
  expect(buttons, name).toBe(name === 'reminder-bare' ? 0 : bikes);
}

test.runIf(hasBrowser)(
  `mails can be read at 390 and 800 px, light and dark, and load nothing${WHY_NOT}`,
  { timeout: 120_000 },
  async () => {
    if (PICTURES !== undefined) mkdirSync(PICTURES, { recursive: true });
    const page = await (await openBrowser()).newPage();
    const asked: string[] = [];
    page.on('request', (request) => asked.push(request.url()));
    for (const [name, { html }] of Object.entries(LETTERS)) {
      await page.setContent(html);
      for (const width of [390, 800]) {
        await page.setViewportSize({ width, height: 844 });
        const wide = await page.evaluate('document.documentElement.scrollWidth');
        expect(wide, `${name} at ${width}`).toBeLessThanOrEqual(width);
        if (width === 390 && name.startsWith('reminder')) await expectShort(page, name);
        for (const colorScheme of ['light', 'dark'] as const) {
          await page.emulateMedia({ colorScheme });
          // Colours do not change with the width.
          if (width === 390) await expectAccessible(page, 'looks');
          const path = PICTURES && join(PICTURES, `${name}-${width}-${colorScheme}.png`);
          if (path) await page.screenshot({ path, fullPage: true });
        }
      }
    }
    expect(asked.filter((url) => url !== 'about:blank')).toEqual([]);
  },
);
