import { closeSync, createWriteStream, openSync, truncateSync, writeFileSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { createGzip } from 'node:zlib';
import { gpxText, straightTrack, textBytes } from '../../fixtures/gpxFile.js';
import { zipFile } from '../../fixtures/zipFile.js';

const GIGABYTE = 1024 ** 3;

interface BadFile {
  readonly name: string;
  readonly path: string;
  readonly code: string;
}

/** Yields files that must be refused, each with the code that says why. */
export async function* badFiles(folder: string): AsyncGenerator<BadFile> {
  const at = (name: string): string => join(folder, name);
  const text = gpxText([{ type: 'cycling', segments: [straightTrack(Date.UTC(2025, 4, 1), 600)] }]);

  writeFileSync(at('bomb.zip'), zipFile([{ name: 'ride.fit', bytes: Buffer.alloc(200_000_000) }]));
  yield { name: 'bomb.zip', path: at('bomb.zip'), code: 'archive-limits' };

  writeFileSync(at('outside.zip'), zipFile([{ name: '../../outside.gpx', bytes: textBytes(text) }]));
  yield { name: 'outside.zip', path: at('outside.zip'), code: 'unsafe-path' };

  writeFileSync(at('holes.gpx'), text);
  truncateSync(at('holes.gpx'), GIGABYTE);
  yield { name: 'holes.gpx', path: at('holes.gpx'), code: 'too-large' };

  // Points that differ, so that it packs as real ones do.
  const points = pointsFor(GIGABYTE, text.slice(0, text.indexOf('<trkpt')));
  await pipeline(Readable.from(points), createGzip({ level: 1 }), createWriteStream(at('points.gpx.gz')));
  yield { name: 'points.gpx.gz', path: at('points.gpx.gz'), code: 'too-large' };

  const file = openSync(at('points.gpx'), 'w');
  for (const some of pointsFor(GIGABYTE, text.slice(0, text.indexOf('<trkpt')))) writeSync(file, some);
  closeSync(file);
  yield { name: 'points.gpx', path: at('points.gpx'), code: 'too-large' };
}

function* pointsFor(bytes: number, head: string): Generator<string> {
  yield head;
  let written = head.length;
  for (let i = 0; written < bytes; ) {
    let some = '';
    for (const end = i + 10_000; i < end; i++)
      some += `<trkpt lat="${(((i * 7919) % 900_000) / 10_000).toFixed(4)}" lon="${((i % 1_000_003) / 10_000).toFixed(4)}"><ele>${i % 2000}</ele></trkpt>\n`;
    written += some.length;
    yield some;
  }
  yield '</trkseg></trk></gpx>\n';
}
