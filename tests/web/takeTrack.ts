import { createHash } from 'node:crypto';
import type { Recording } from '../../src/core/ground/samples/recording.js';
import { readContent } from '../../src/files/readFile.js';
import type { Deps } from '../../src/flow/deps.js';
import { decodeFile } from '../../src/flow/take/decodeFile.js';
import { ingestFile } from '../../src/flow/take/ingestFile.js';
import type { RideReader } from '../../src/ports/reader.js';
import type { WebWorld } from './webWorld.js';

type DecodeArguments = Parameters<RideReader['decode']>;

interface Track {
  readonly name: string;
  readonly rider?: string;
  readonly bike?: string;
  readonly startMs?: number;
  readonly hasTimes?: boolean;
  readonly type?: string;
}

/** Invented: half an hour straight north at 5 m/s, a point every ten seconds, far out at sea. */
function gpxOf({ startMs = Date.parse('2026-06-08T07:00:00Z'), hasTimes = true, type }: Track): Uint8Array {
  const points = Array.from({ length: 181 }, (_, i) => {
    const time = hasTimes ? `<time>${new Date(startMs + i * 10_000).toISOString()}</time>` : '';
    return `<trkpt lat="${(-30 + i * 0.00045).toFixed(6)}" lon="-30"><ele>${100 + (i % 7)}</ele>${time}</trkpt>`;
  });
  return Buffer.from(
    `<gpx version="1.1" creator="test" xmlns="http://www.topografix.com/GPX/1/1"><trk>${type === undefined ? '' : `<type>${type}</type>`}<trkseg>${points.join('')}</trkseg></trk></gpx>`,
  );
}

/** Returns what became of a file: outcome and code. */
export async function takeFile(
  { deps, store }: WebWorld,
  {
    name,
    rider,
    bike,
    bytes,
    heard = (one) => one,
  }: Pick<Track, 'name' | 'rider' | 'bike'> & {
    readonly bytes: Uint8Array;
    /** What else its recorder says. */
    readonly heard?: (recording: Recording) => Recording;
  },
): Promise<string> {
  const find = async (kind: 'rider' | 'bike', handle: string | undefined): Promise<string | null> =>
    handle === undefined ? null : ((await store.read((tx) => tx.handles.find(kind, handle))) ?? null);
  const [riderId, bikeId] = [await find('rider', rider), await find('bike', bike)];
  const read: typeof readContent = (...content) => {
    const decoded = readContent(...content);
    return 'problem' in decoded ? decoded : { ...decoded, recordings: decoded.recordings.map(heard) };
  };
  const taken = await ingestFile(
    {
      ...deps,
      reader: {
        decode: async (...[file, now]: DecodeArguments) => decodeFile(read, file, now),
      },
      originals: { keep: async (content: Uint8Array) => createHash('sha256').update(content).digest('hex') },
    } as unknown as Deps,
    { name, bytes, riderId, bikeId, rule: null },
  );
  return `${taken.outcome} ${taken.code}`;
}

/** Returns what became of the track's file: outcome and code. */
export const take = (world: WebWorld, track: Track): Promise<string> =>
  takeFile(world, { ...track, bytes: gpxOf(track) });
