import { expect, test } from 'vitest';
import { REFUSALS, type RefusalCode, type RefusalValues } from '../../src/core/refusals.js';
import { wordsFor } from '../../src/languages/index.js';
import { refusalText } from '../../src/languages/refusals.js';
import { day } from '../../src/units.js';

const span = { from: '2026-04-30T23:00:00Z', to: null };
const kinds = ['lower-leg', 'full'];

/** Invented values for each code; one that is missing does not compile. */
const VALUES: { readonly [C in RefusalCode]: RefusalValues<C> } = {
  'workshop-name': [{ name: 'w1' }],
  'time-zone': [{ zone: 'Mars/Olympus' }],
  'unit-kind': [{ tag: 'F-1', before: 'fork', after: 'air-shock' }],
  'weight-range': [{ ground: 'rough', low: 0.1, high: 4, value: 9.5 }],
  'weights-fall': [{ smooth: 2, typical: 1, rough: 0.5 }],
  'not-of-unit': [{ tag: 'F-1', unitKind: 'fork', serviceKind: 'bushings', kinds }],
  'no-clock': [{ tag: 'F-1', unknown: ['bushings'], kinds }],
  'service-to-come': [{ on: '2026-07-01' }],
  'no-finding': [{ unknown: ['colour'], names: ['foamRings', 'oil'] }],
  'foam-rings': [{ said: 'blue', looks: ['pale', 'dark'] }],
  'kind-stays': [{ name: 'polish' }],
  'kind-is-there': [{ unitKind: 'fork', name: 'full' }],
  'kind-added': [{ name: 'polish' }],
  'no-kind': [{ unitKind: 'coil-shock', serviceKind: 'damper' }],
  'interval-hours': [],
  'interval-months': [],
  'interval-ceiling': [],
  'interval-there': [{ fact: 'f1' }],
  'time-to-come': [],
  minutes: [],
  'before-it-came': [{ tag: 'F-1', first: '2026-05-01', on: '2026-04-01', fact: 'f1' }],
  held: [{ by: 'fitting', name: 'f1' }],
  'void-already': [{ fact: 'f1' }],
  'same-already': [],
  'name-taken': [{ name: 'F-1', kind: 'unit' }],
  'name-alike': [{ name: 'f-1', kind: 'unit', other: 'F-1' }],
  'no-name': [{ name: '.F', fault: 'must not begin with a dot' }],
  'no-moment': [{ text: 'soon' }],
  'fitting-to-come': [{ from: '2027-03-01' }],
  'fitting-ends': [],
  'is-elsewhere': [{ tag: 'F-1', bike: 'b1', span }],
  'place-taken': [
    { bike: 'b1', tag: 'F-1', place: 'rear shock', span: { ...span, to: '2026-06-01T09:00:00Z' } },
  ],
  'hours-to-come': [{ on: '2026-07-01' }],
  'share-range': [{ most: 50 }],
  'share-ends': [{ from: '2026-05-02', to: '2026-05-01' }],
  'share-there': [{ from: '2026-05-01', to: null, fact: 'f1' }],
  'on-no-bike': [{ tag: 'F-1', at: '2026-05-01' }],
  'swap-itself': [],
  'other-places': [{ a: 'F-1', placeOfA: 'fork', b: 'A-1', placeOfB: 'rear shock' }],
  'neither-on': [],
  'ends-already': [{ tag: 'F-1', at: '2026-05-01T09:00:00Z' }],
  'on-only-then': [{ tag: 'F-1', fact: 'f1' }],
  'lead-is-done': [],
  'day-passed': [{ day: '2026-05-01' }],
  'no-place': [{ day: '2026-06-14', free: ['2026-06-16', '2026-06-17'] }],
  'other-lead': [{ lead: 'l1' }],
  'lead-settled': [{ state: 'declined' }],
  'account-name': [{ most: 60 }],
  'account-there': [{ name: 'bench-2' }],
  'only-mechanic': [],
  'needs-fleet': [{ fleets: ['t1'] }],
  'last-owner': [],
  'no-answer': [],
  'counts-already': [],
  'say-when-long': [],
  'say-when': [],
  'say-who': [],
  'say-bike': [],
  'clock-right': [],
  'minutes-known': [],
  'needs-minutes': [],
  count: [],
};

const CODES = Object.keys(REFUSALS) as RefusalCode[];
const around = (language: string) => ({
  words: wordsFor(language),
  today: day('2026-06-10'),
  zone: 'Europe/Lisbon',
});
const textIn = (language: string, code: RefusalCode): string =>
  refusalText(code, VALUES[code], around(language));

/** Words that no Portuguese sentence has; Portuguese has "for" and "a" of its own. */
const ENGLISH =
  /(?<!\p{L})(?:the|is|are|was|not|must|cannot|has|have|already|with|that|this|than|there|from|fork|shock|lower-leg|and|which|of|lead|bike|rider|fleet|rough|done|declined)(?!\p{L})/iu;

test.each(CODES)('%s is told in each language, and in no other', (code) => {
  const [english, portuguese] = [textIn('en', code), textIn('pt', code)];
  expect(english).toMatch(/\S.*\.$/);
  expect(portuguese).toMatch(/\S.*\.$/);
  expect(portuguese).not.toBe(english);
  expect(english).toMatch(ENGLISH);
  expect(portuguese).not.toMatch(ENGLISH);
  expect(`${english} ${portuguese}`).not.toMatch(/undefined|null|NaN|\[object/);
});

test('on pages days are told as people say them, and no id of a fact', () => {
  expect(textIn('en', 'no-place')).toBe(
    'There is no place on Sunday 14 June: closed, or full. Free are Tuesday 16 June, Wednesday 17 June.',
  );
  expect(textIn('en', 'is-elsewhere')).toMatch(/^F-1 is on bike b1 from 1 May on\./);
  expect(textIn('en', 'before-it-came')).toMatch(
    /^F-1 came new on 1 May; .* serviced on 1 April\. If that day/,
  );
  for (const code of CODES) {
    // It shows how days are typed.
    if (code !== 'no-moment') expect(textIn('en', code), code).not.toMatch(/\d{4}-\d{2}-\d{2}/);
    expect(textIn('en', code), code).not.toMatch(/\bf1\b/);
  }
});
