/** The third open format. Source of the elements: the schema TrainingCenterDatabase v2, from memory. */
import { describe, expect, it, test } from 'vitest';
import type { Recording } from '../../../src/core/ground/samples/recording.js';
import { isWhole } from '../../../src/files/isWhole.js';
import { readContent } from '../../../src/files/readFile.js';
import { textBytes } from '../../fixtures/gpxFile.js';

const START = Date.parse('2026-06-10T07:00:00Z');
const at = (s: number): string => new Date(START + s * 1000).toISOString();

interface Point {
  readonly s: number;
  readonly lat?: number | string;
  readonly more?: string;
}
const point = ({ s, lat, more = '' }: Point): string =>
  `<Trackpoint><Time>${at(s)}</Time>${
    lat === undefined
      ? ''
      : `<Position><LatitudeDegrees>${lat}</LatitudeDegrees><LongitudeDegrees>20</LongitudeDegrees></Position>`
  }<AltitudeMeters>100.5</AltitudeMeters>${more}</Trackpoint>`;
const track = (from: number, count: number): string =>
  `<Track>${Array.from({ length: count }, (_, i) => point({ s: from + i, lat: 10 + (from + i) * 0.000045 })).join('')}</Track>`;
const lap = (from: number, totalS: number, inside: string): string =>
  `<Lap StartTime="${at(from)}"><TotalTimeSeconds>${totalS}</TotalTimeSeconds><DistanceMeters>1</DistanceMeters>${inside}</Lap>`;
const file = (inside: string, sport = 'Biking', before = '<?xml version="1.0"?>'): string =>
  `${before}<TrainingCenterDatabase xmlns="http://www.garmin.com/xmlschemas/TrainingCenterDatabase/v2"><Activities><Activity Sport="${sport}"><Id>${at(0)}</Id>${inside}</Activity></Activities></TrainingCenterDatabase>`;

const recordings = (text: string): readonly Recording[] => {
  const read = readContent(textBytes(text), 'ride.tcx');
  if ('problem' in read) throw new Error(read.problem.message);
  return read.recordings;
};
const problemOf = (text: string) => {
  const read = readContent(textBytes(text), 'ride.tcx');
  return 'problem' in read ? [read.outcome, read.problem.code] : 'a recording';
};
const lengths = ({ spans }: Recording): number[] => spans.map(({ from, to }) => to - from);

test('time, position, height, distance, speed and what the rider did are read', () => {
  const more =
    '<DistanceMeters>12.5</DistanceMeters><HeartRateBpm><Value>130</Value></HeartRateBpm><Cadence>80</Cadence><Extensions><x:TPX xmlns:x="http://www.garmin.com/xmlschemas/ActivityExtension/v2"><x:Speed>5.5</x:Speed><x:Watts>200</x:Watts></x:TPX></Extensions>';
  const [one] = recordings(
    file(lap(0, 1, `<Track>${point({ s: 0, lat: '1.0E1', more })}${point({ s: 1, lat: 10.1 })}</Track>`)),
  );
  const { timeMs, lat, lon, eleM, distM, speedMps, effort } = one!.samples;
  expect([timeMs[0], lat[0], lon[0], eleM[0], distM[0], speedMps[0]]).toEqual([
    START,
    10,
    20,
    100.5,
    12.5,
    5.5,
  ]);
  expect([effort?.heartBpm[0], effort?.cadenceRpm[0], effort?.powerW[0]]).toEqual([130, 80, 200]);
  expect([one!.format, one!.sport]).toEqual(['tcx', 'cycling']);
});

describe('a pause is a track of its own, a lap is none', () => {
  it.each<[string, string, number[]]>([
    ['two tracks of one lap', lap(0, 20, track(0, 10) + track(60, 10)), [10, 10]],
    ['two laps that follow each other', lap(0, 10, track(0, 10)) + lap(10, 10, track(10, 10)), [20]],
    ['a lap after a pause', lap(0, 10, track(0, 10)) + lap(70, 10, track(70, 10)), [10, 10]],
    [
      'a pause within the second of two laps',
      lap(0, 10, track(0, 10)) + lap(10, 20, track(10, 10) + track(80, 10)),
      [20, 10],
    ],
    [
      'a lap that does not say how long it took',
      lap(0, 10, track(0, 10)).replace(/<Total.*Seconds>/, '') + lap(10, 10, track(10, 10)),
      [10, 10],
    ],
  ])('%s', (_, inside, expected) => expect(lengths(recordings(file(inside))[0]!)).toEqual(expected));
});

test('points without a position stay where they say how far, and are none where they do not', () => {
  const inside = [0, 1, 2]
    .map((s) => point({ s, more: `<DistanceMeters>${s * 5}</DistanceMeters>` }))
    .join('');
  const [one] = recordings(file(lap(0, 3, `<Track>${inside}${point({ s: 3 })}</Track>`)));
  expect([...one!.samples.distM]).toEqual([0, 5, 10]);
  expect([...one!.samples.lat].every(Number.isNaN)).toBe(true);
});

test('what exporters write before it, another zone and one long line are no fault', () => {
  const text = file(
    lap(0, 10, track(0, 10)),
    'Biking',
    '\n   <?xml version="1.0" encoding="UTF-8"?>',
  ).replaceAll(/T07:00:(\d\d)\.000Z/g, 'T09:00:$1.000+02:00');
  expect(recordings(text)[0]!.samples.timeMs[0]).toBe(START);
});

test('several activities are several recordings, those of a multisport session too', () => {
  const one = `<Activity Sport="Biking">${lap(0, 10, track(0, 10))}</Activity>`;
  const other = `<Activity Sport="Running">${lap(20_000, 10, track(20_000, 10))}</Activity>`;
  const text = `<TrainingCenterDatabase><Activities><MultiSportSession><FirstSport>${one}</FirstSport><NextSport>${other}</NextSport></MultiSportSession></Activities></TrainingCenterDatabase>`;
  expect(recordings(text).map(({ sport }) => sport)).toEqual(['cycling', 'running']);
});

test.each(['Other', '', '__proto__', 'constructor'])(
  'the sport %s says nothing of what was done',
  (sport) => {
    expect(recordings(file(lap(0, 10, track(0, 10)), sport))[0]!.sport).toBeNull();
  },
);

describe('what is no recording, or none that can be read, is told', () => {
  const whole = file(lap(0, 10, track(0, 10)));
  it.each<[string, string, unknown]>([
    [
      'a course',
      whole
        .replace('<Activities><Activity', '<Courses><Course')
        .replace('</Activity></Activities>', '</Course></Courses>'),
      ['no-ride', 'no-track'],
    ],
    ['nothing', file(''), ['no-ride', 'no-track']],
    [
      'entities',
      whole.replace('<?xml version="1.0"?>', '<!DOCTYPE x [<!ENTITY a "b">]>'),
      ['set-aside', 'xml-entities'],
    ],
    ['an entity that is used only', whole.replace('100.5', '&a;'), ['set-aside', 'xml-entities']],
    ['deep nesting', file('<a>'.repeat(100)), ['set-aside', 'unreadable']],
    ['a value without end', file(`<Notes>${'x'.repeat(1_200_000)}</Notes>`), ['set-aside', 'unreadable']],
    ['cut off before its first point', whole.slice(0, 300), ['set-aside', 'unreadable']],
    [
      'numbers that are none',
      file(lap(0, 1, `<Track>${point({ s: 0, lat: 'no' })}</Track>`)),
      ['set-aside', 'unreadable'],
    ],
  ])('%s', (_, text, expected) => expect(problemOf(text)).toEqual(expected));

  it('cut off later, what could be read counts and is marked', () => {
    const [one] = recordings(whole.slice(0, -700));
    expect(one!.damage).toBe('cut-off');
    expect(one!.samples.count).toBeGreaterThan(3);
  });
});

test('it is whole with its closing tag', () => {
  const whole = file(lap(0, 10, track(0, 10)));
  expect(isWhole(textBytes(`${whole}\n<!-- made -->\n`))).toBe(true);
  expect(isWhole(textBytes(whole.slice(0, -5)))).toBe(false);
});
