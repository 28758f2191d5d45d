/** A language that is nothing but a folder and a line speaks on every page, in every mail and refusal. */
import { expect, test, vi } from 'vitest';
import type { ArchiveTold, PathTold } from '../../src/core/fileTold.js';
import type { ToldMail } from '../../src/core/notices/mailContent.js';
import type { MailKind } from '../../src/core/notices/notice/notice.js';
import type { ToldOutcome } from '../../src/core/tokens.js';
import { whatHappenedText } from '../../src/inbox/whatHappened.js';
import { fileTextsFor, LANGUAGES, wordsFor } from '../../src/languages/index.js';
import type { LanguageTexts } from '../../src/languages/language.js';
import { refusalText } from '../../src/languages/refusals.js';
import { calendarFeed } from '../../src/mail/calendar.js';
import { mailWriter } from '../../src/mail/writer.js';
import { day } from '../../src/units.js';
import { VERSION } from '../../src/version.js';
import { crawl } from '../fixtures/pageForms.js';
import { rideFile } from '../flow/flowWorld.js';
import { linksOf, DOCUMENT as RIDERS, RiderWorld } from '../flow/riderWorld.js';
import { contentsIn, digest, outgoing, reminder, today, workshop } from '../mail/mailSamples.js';
import { planDocument } from '../web/planWorld.js';
import { signedIn } from '../web/visitor.js';
import { DOCUMENT, NAME, webWorld } from '../web/webWorld.js';
import { dataIn, seenOn, unmarked } from './marked.js';
import { CODES, REFUSED } from './refusalValues.js';

vi.mock('../../src/languages/all.js', async (original) => {
  const { ALL } = await original<typeof import('../../src/languages/all.js')>();
  const { marked } = await import('./marked.js');
  const { refusals, ...texts } = marked(ALL.en);
  // Greek dates and lists have no Latin letters either.
  const xx: LanguageTexts = { ...texts, refusals, terms: { ...texts.terms, locale: 'el' } };
  return { ALL: { ...ALL, xx }, LANGUAGES: ['en', 'pt', 'xx'] };
});

/** Signs for units of measure, the other languages by their own names, and the program by its own. */
const EVERYWHERE = ['km', 'min', 'English', 'Português', `Stanchion ${VERSION}`];

test('it stands in the one list, and is offered by its own name', () => {
  expect(LANGUAGES).toContain('xx');
  expect(wordsFor('xx-YY').name).toMatch(/^\p{Lu}\P{Script=Cyrillic}+$/u);
});

test('each refusal is told in it alone', () => {
  const around = { words: wordsFor('xx'), today: day('2026-06-10'), zone: 'Europe/Lisbon' };
  for (const code of CODES) {
    const text = refusalText({ refusal: code, values: REFUSED[code] }, around);
    expect(unmarked([text], dataIn(REFUSED[code])), code).toEqual([]);
    expect(text, code).not.toMatch(/undefined|\[object/);
  }
});

test('every page of a workshop that speaks it shows nothing else', async () => {
  const document = { ...planDocument(DOCUMENT), workshop: { ...DOCUMENT.workshop, language: 'xx' } };
  const { app } = await webWorld({ document });
  const visitor = await signedIn(app);
  const { pages } = await crawl((path) => visitor.text(path), ['/', '/races', '/day', '/findings'], 80);
  expect(pages.size).toBeGreaterThan(25);
  const data = dataIn(EVERYWHERE, NAME, document, 'UTC', Intl.supportedValuesOf('timeZone'));
  for (const [path, page] of pages)
    if (page.includes('<html')) {
      expect(page, path).toContain('<html lang="xx">');
      expect(unmarked(seenOn(page), data), path).toEqual([]);
    }
});

test('every page and mail to a rider who speaks it shows nothing else', async () => {
  const riders = RIDERS.riders.map((one) => ({ ...one, language: 'xx' }));
  const document = { ...RIDERS, riders };
  const world = await RiderWorld.open({ document });
  await world.flow.take(rideFile('2026-06-08T08:00:00Z', 60), { bike: 'b1' });
  const mail = await world.reminderTo('r1@example.org');
  const start = [...linksOf(mail).values()].map((url) => new URL(url).pathname);
  const { pages } = await crawl(async (path) => (await world.app.request(path)).text(), start, 60);
  expect(pages.size).toBeGreaterThan(8);
  const data = dataIn(EVERYWHERE, document, 'ride.fit');
  for (const [path, page] of pages)
    if (page.includes('<html')) expect(unmarked(seenOn(page), data), path).toEqual([]);
});

test('every mail in it, and the calendar of bookings, says nothing else', () => {
  const contents = contentsIn('xx');
  const data = dataIn(EVERYWHERE, workshop, reminder, digest, outgoing, 'Ada', 'Madeup');
  for (const mail of Object.keys(contents) as MailKind[])
    for (const content of contents[mail]) {
      const written = mailWriter.write({ mail, content } as ToldMail);
      const [html, text] = [seenOn(written.html), written.text.replace(/https:\S+/g, '').split('\n')];
      expect(unmarked([written.subject, ...text, ...html], data), mail).toEqual([]);
    }
  const job = { bike: 'Moss', tag: 'F-1', unitKind: 'fork', serviceKind: 'lower-leg', day: today } as const;
  const stamp = { uid: 'a', sequence: 0, stamp: outgoing.date };
  const feed = calendarFeed({ name: workshop.name, language: 'xx' }, [
    { ...job, ...stamp, also: [], isBooked: false },
  ]);
  const said = feed.replace(/\r\n /g, '').match(/(?<=^(?:SUMMARY|NAME|DESCRIPTION):).*$/gm) ?? [];
  expect(said.length).toBeGreaterThan(0);
  expect(unmarked(said, dataIn(workshop, 'Moss', 'F-1'))).toEqual([]);
});

test('what became of files is told in their folder in it alone', () => {
  const { said, why, question } = fileTextsFor('en');
  const codes = [null, ...Object.keys(why), ...Object.keys(question)];
  const files = (Object.keys(said) as ToldOutcome[]).flatMap((outcome) =>
    codes.map((code) => ({ outcome, code })),
  );
  const archive: ArchiveTold = {
    counts: files.map(({ outcome }) => [outcome, 2] as const),
    named: files.map((one) => ({ ...one, file: '7' })),
    more: 3,
  };
  const told: Omit<PathTold, 'path'>[] = [
    ...files.flatMap((one) => [true, false].map((settled) => ({ ...one, settled, said: null }))),
    ...(['rider', 'bike'] as const).map((kind) => ({
      ...{ settled: true, outcome: 'ask' as const, code: 'who' },
      said: { stray: { folder: '8', kind } },
    })),
    { settled: false, outcome: 'archive', code: null, said: { filesRead: 200 } },
    { settled: true, outcome: 'archive', code: null, said: { archive } },
  ];
  const paths = told.map((one) => ({ ...one, path: '9' }));
  const text = whatHappenedText({ language: 'xx', paths });
  expect(text.split('\n').length).toBeGreaterThan(paths.length);
  expect(unmarked(text.split('\n'), [])).toEqual([]);
  expect(text).not.toMatch(/undefined|\[object/);
});

test('the search finds what is in another language', async () => {
  const { app } = await webWorld({ document: DOCUMENT });
  const page = await (await signedIn(app)).text('/units');
  expect(unmarked(seenOn(page), dataIn(DOCUMENT)).length).toBeGreaterThan(20);
});
