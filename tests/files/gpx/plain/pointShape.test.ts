import { expect, it } from 'vitest';
import { PlainDecimals } from '../../../../src/files/gpx/plain/plainDecimals.js';
import { ELE, HEART, LAT, LON, OTHER, TIME } from '../../../../src/files/gpx/plain/plainKinds.js';
import { PlainMoments } from '../../../../src/files/gpx/plain/plainMoments.js';
import { PointShape } from '../../../../src/files/gpx/plain/pointShape.js';
import { textBytes } from '../../../fixtures/gpxFile.js';

const FIRST = ' <trkpt lat="1" lon="2"><ele>3</ele><time>2024-05-01T09:00:00Z</time><fix>2d</fix></trkpt>';

/** Learns the first point, whose values are these, and returns what is made of what follows. */
function after(
  rest: string,
  kinds = { '1': LAT, '2': LON, '3': ELE, '2024-05-01T09:00:00Z': TIME, '2d': OTHER },
) {
  const bytes = textBytes(FIRST + rest);
  const shape = new PointShape(bytes, new PlainDecimals(), new PlainMoments());
  shape.begin(0);
  for (const [text, kind] of Object.entries(kinds).sort(
    (a, b) => FIRST.indexOf(a[0]) - FIRST.indexOf(b[0]),
  )) {
    const from = FIRST.indexOf(text === '2' ? '"2"' : text) + (text === '2' ? 1 : 0);
    shape.learn(kind, from, from + text.length);
  }
  shape.end(FIRST.length);
  return { shape, end: shape.read(FIRST.length) - FIRST.length };
}

const point = (lat: string, more = '<fix>3d</fix>') =>
  ` <trkpt lat="${lat}" lon="-7.25"><ele>103.5</ele><time>2024-05-01T09:00:01.5Z</time>${more}</trkpt>`;

it('reads the values of a point that is written as the one before', () => {
  const next = point('12.5');
  const { shape, end } = after(`${next} <trkpt`);
  expect(end).toBe(next.length);
  const said = (kind: number) => shape.row[kind - TIME];
  expect([LAT, LON, ELE, TIME].map(said)).toEqual([
    ...[12.5, -7.25, 103.5],
    Date.UTC(2024, 4, 1, 9, 0, 1, 500),
  ]);
  expect(said(HEART)).toBeNaN();
});

it('leaves what is written otherwise in any byte, or ends in the middle', () => {
  const next = point('12.5');
  for (let at = 0; at < next.length; at += 1) {
    expect(after(next.slice(0, at)).end, next.slice(0, at)).toBeLessThan(0);
    if (/[^\d.Z]/.test(next[at]!) && !'3d'.includes(next[at]!))
      expect(after(`${next.slice(0, at)}&${next.slice(at + 1)}`).end, `${at}`).toBeLessThan(0);
  }
  for (const odd of [
    point(''),
    point(' 1'),
    point('1e3'),
    point('1', '<fix>&lt;</fix>'),
    point('1', '<fix>]</fix>'),
    point('1', ''),
  ])
    expect(after(odd).end, odd).toBeLessThan(0);
});

it('learns no point whose place is not written, or in which a value stands twice', () => {
  expect(after(point('1'), { '1': LAT, '2': OTHER } as never).end).toBeLessThan(0);
  expect(after(point('1'), { '1': LAT, '2': LON, '3': LAT } as never).end).toBeLessThan(0);
});
