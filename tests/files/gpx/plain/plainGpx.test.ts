/** The reader of what is plain and the one over the tokeniser are one to the outside: they say the same of any bytes. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type Chance, seeded } from '../../../../samples/seeded.js';
import { readPlainGpx } from '../../../../src/files/gpx/plain/plainGpx.js';
import { BY_TOKENISER, readGpx } from '../../../../src/files/gpx/readGpx.js';
import { TooManySamples } from '../../../../src/files/sampleColumns.js';
import { readTracks } from '../../../../src/files/xml/readTracks.js';
import type { FileContent } from '../../../../src/ports/reader.js';
import { gpxText, straightTrack, textBytes } from '../../../fixtures/gpxFile.js';
import { itWithRecordings } from '../../../fixtures/recordings.js';
import { runs } from '../../../fixtures/runs.js';
import { bent, oneIn, pick, times, upTo } from '../../../fuzz/dice.js';
import { gpxInput } from '../../../fuzz/gpxInput.js';

const slowly = (bytes: Uint8Array): FileContent => readTracks(BY_TOKENISER, bytes, 'x');

/** Columns to the last bit: a NaN is itself, and a zero has a sign. */
const same = (one: unknown, other: unknown): boolean => {
  if (one instanceof Float64Array && other instanceof Float64Array)
    return one.length === other.length && one.every((value, i) => Object.is(value, other[i]));
  if (typeof one !== 'object' || one === null || typeof other !== 'object' || other === null)
    return Object.is(one, other);
  const keys = Object.keys(one);
  return (
    keys.length === Object.keys(other).length &&
    keys.every((key) => same(one[key as never], other[key as never]))
  );
};

/** What exporters write, with here and there what only some of them do. */
const PIECES = {
  declaration: [
    '<?xml version="1.0" encoding="UTF-8"?>\n',
    "<?xml version='1.0' encoding='utf-8' standalone='yes' ?>\r\n",
    '<?xml version="1.0"?>',
    '<?xml version="1.1"?>',
    '<?xml  version="1.0" ?>',
    '<?xml version="1.0" encoding="us-ascii"?>',
    '<!-- made -->',
    '\ufeff',
    '\n ',
    '',
  ],
  root: [
    '',
    ' xmlns:h="http://x/h"',
    ' xmlns:h="http://x/h" xmlns:xsi="http://x/i" xsi:schemaLocation="a b\n c"',
    ' xmlns:h="http://x/1"',
    ' xmlns:h=""',
    " creator='Café &amp; more'",
    ' creator="bike\tmaker"',
    ' creator="bike maker 1"',
    ' xml:lang="en"',
    ' creator="a" creator="b"',
  ],
  number: [
    '1',
    '-1.50',
    '+0',
    '-0',
    ' 12.25 ',
    '.5',
    '5.',
    '',
    ' ',
    '1e3',
    '12.3456789012345678',
    '9'.repeat(17),
    '٣',
    '1&amp;',
    '1\n',
  ],
  time: [
    '2024-02-29T23:59:59Z',
    '2023-02-29T23:59:59Z',
    '2024-05-01T09:00:00.5Z',
    '2024-05-01T09:00:00.123Z',
    '2024-05-01T09:00:00.123456Z',
    '2024-05-01T09:00:00.Z',
    '2024-05-01T24:00:00Z',
    '2024-05-01T09:00:60Z',
    '2024-05-01T09:00:00',
    '2024-05-01T09:00:00+02:00',
    ' 2024-05-01T09:00:00Z\n',
    '0999-05-01T09:00:00Z',
    '2024-13-01T09:00:00Z',
    '2024-5-01T09:00:00Z',
    '2024-05-01t09:00:00z',
    '',
  ],
  inPoint: [
    '<extensions><h:x><h:hr>120</h:hr><h:cad>80</h:cad></h:x></extensions>',
    '<extensions><power>200</power></extensions>',
    '<extensions><hr>1<b/>2</hr></extensions>',
    '<extensions xmlns="http://other"><hr>90</hr></extensions>',
    '<extensions><k:hr>90</k:hr></extensions>',
    '<extensions><h:x xmlns:h="http://y"><h:hr>99</h:hr></h:x></extensions>',
    '<h:ele>7</h:ele>',
    '<ele/>',
    '<ele>1</ele><ele>2</ele>',
    '<ele>1<x>2</x></ele>',
    '<name>A ride &amp; more &#233;</name>',
    '<desc>x ]]&gt; y</desc>',
    '<desc>🚲 é</desc>',
    '<!-- here -->',
    '<speed>3.5</speed>',
    '<sat>7</sat >',
    '<a b=\'1\' c = "2"/>',
    '<a b="1"c="2"/>',
    '<trkpt lat="1" lon="2"/>',
    '',
  ],
  inTrack: [
    '<type>cycling</type>',
    '<type> mountain biking </type>',
    '<type>9</type>',
    '<type>a<x/>b</type>',
    '<type>a\r\nb</type>',
    '<type><![CDATA[cycling]]></type>',
    '<name>Home &amp; back ]</name>',
    '<h:type>running</h:type>',
    '<trk><trkseg/></trk>',
    '',
  ],
  inFile: [
    '<metadata><time>2024-05-01T09:00:00Z</time><link href="http://x?a=1&amp;b=2"/></metadata>',
    '<wpt lat="1" lon="2"><ele>3</ele></wpt>',
    '<rte><rtept lat="1" lon="2"/></rte>',
    '<?style here?>',
    '&nbsp;',
    '',
  ],
  end: ['', '\n', ' \r\n', '\0', 'x', '<gpx/>', '<!-- end -->'],
} as const;

/** Mostly the first of a list, so that most files are plain. */
const some = (chance: Chance, list: readonly string[], rare = 12): string =>
  oneIn(chance, rare) ? pick(chance, list) : list[0]!;

function exported(chance: Chance): Uint8Array {
  const value = (usual: number): string =>
    oneIn(chance, 20)
      ? pick(chance, PIECES.number)
      : usual.toFixed(oneIn(chance, 8) ? 13 + upTo(chance, 8) : upTo(chance, 9));
  const point = (at: number): string => {
    const stamp = new Date(Date.UTC(2024, 4, 1) + at * 1000).toISOString();
    const time = oneIn(chance, 15)
      ? pick(chance, PIECES.time)
      : oneIn(chance, 2)
        ? stamp
        : stamp.replace('.000', '');
    const more = oneIn(chance, 6) ? pick(chance, PIECES.inPoint) : '';
    const space = oneIn(chance, 3) ? '\n  ' : '';
    return `${space}<trkpt lat="${value(45 + at * 1e-5)}" lon='${value(-7)}'><ele>${value(100)}</ele>${more}<time>${time}</time></trkpt>`;
  };
  const segment = (): string => `<trkseg>${times(upTo(chance, 12), point).join('')}</trkseg>`;
  const track = (): string =>
    `<trk>${oneIn(chance, 3) ? pick(chance, PIECES.inTrack) : ''}${times(upTo(chance, 3), segment).join('')}</trk>`;
  const declared = some(chance, PIECES.declaration);
  const root = oneIn(chance, 3) ? pick(chance, PIECES.root) : PIECES.root[1];
  const inFile = oneIn(chance, 6) ? pick(chance, PIECES.inFile) : '';
  const text = `${declared}<gpx version="1.1" xmlns="http://x/1"${root}>${inFile}${times(upTo(chance, 4), track).join('\n')}</gpx>${some(chance, PIECES.end)}`;
  return oneIn(chance, 4) ? bent(chance, textBytes(text)) : textBytes(text);
}

describe('the plain reader of GPX', () => {
  it('says of any file what the tokeniser says, or leaves it', () => {
    let [taken, all] = [0, 0];
    for (let i = 0; i < runs(4000, 4000); i += 1) {
      const chance = seeded(`plain ${process.env.STANCHION_SEED ?? ''} ${i}`);
      const bytes = i % 4 === 0 ? gpxInput(chance) : exported(chance);
      const isTaken = readPlainGpx(bytes) !== null;
      all += 1;
      if (isTaken) taken += 1;
      if (!same(readGpx(bytes, 'x'), slowly(bytes)))
        expect.fail(`${i}: ${JSON.stringify(readGpx(bytes, 'x'))} for ${new TextDecoder().decode(bytes)}`);
    }
    // The comparison is of two readers, not of one with itself.
    expect(taken / all).toBeGreaterThan(0.25);
  });

  it('takes what exporters write, and leaves what is odd', () => {
    const text = gpxText([{ type: 'cycling', segments: [straightTrack(Date.UTC(2024, 4, 1), 3)] }]);
    expect(readPlainGpx(textBytes(text))?.columns.count).toBe(3);
    for (const odd of [
      text.replace('<trk>', '<!-- --><trk>'),
      text.replace('<trk>', '<trk xmlns="http://other">'),
      text.replace('cycling', '<![CDATA[cycling]]>'),
      text.replace('cycling', 'cycl&#105;ng'),
      text.replace('<trk>', '<z:a/><trk>'),
      text.replace('</gpx>', ''),
      `${text}\0`,
      text.replace('</trk>', '</trkseg>'),
      `<!DOCTYPE gpx>${text}`,
    ])
      expect(readPlainGpx(textBytes(odd)), odd).toBeNull();
  });

  it('holds the bound of points', () => {
    const many = `<gpx><trk><trkseg>${'<trkpt lat="1" lon="2"/>'.repeat(600_001)}</trkseg></trk></gpx>`;
    expect(() => readPlainGpx(textBytes(many))).toThrow(TooManySamples);
  });

  itWithRecordings('says of every real track what the tokeniser says', () => {
    const folder = process.env.STANCHION_RECORDINGS!;
    let taken = 0;
    const files = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((file) =>
      file.endsWith('.gpx'),
    );
    for (const file of files) {
      const bytes = readFileSync(join(folder, file));
      if (readPlainGpx(bytes) !== null) taken += 1;
      expect(same(readGpx(bytes, 'x'), slowly(bytes)), file).toBe(true);
    }
    expect(taken / files.length).toBeGreaterThan(0.5);
  });
});
