/** A ride as a GPX 1.1 track: a segment for each span. */
import type { Ridden } from './ridden.js';

export interface GpxRideOptions {
  /** What the recorder calls the sport; null leaves it out. */
  readonly type: string | null;
  readonly times?: boolean;
  /** Shifts every time: an export in wall time that calls it UTC. */
  readonly clockShiftMs?: number;
}

const HEAD = `<?xml version="1.0" encoding="UTF-8"?>
<gpx version="1.1" creator="an invented recorder" xmlns="http://www.topografix.com/GPX/1/1">
`;

const encoder = new TextEncoder();

/** Returns a GPX file of the ride. */
export const gpxRide = (ridden: Ridden, options: GpxRideOptions): Uint8Array => {
  const starts = new Set(ridden.spanStarts);
  const parts = [HEAD, '<trk>', options.type === null ? '' : `<type>${options.type}</type>`, '\n<trkseg>\n'];
  for (let i = 0; i < ridden.timeMs.length; i += 1) {
    if (i > 0 && starts.has(i)) parts.push('</trkseg>\n<trkseg>\n');
    const at = `lat="${ridden.latDeg[i]!.toFixed(7)}" lon="${ridden.lonDeg[i]!.toFixed(7)}"`;
    const time =
      options.times === false
        ? ''
        : `<time>${new Date(ridden.timeMs[i]! + (options.clockShiftMs ?? 0)).toISOString().replace('.000Z', 'Z')}</time>`;
    parts.push(`<trkpt ${at}><ele>${ridden.eleM[i]!.toFixed(1)}</ele>${time}</trkpt>\n`);
  }
  parts.push('</trkseg>\n</trk>\n</gpx>\n');
  return encoder.encode(parts.join(''));
};

/** Returns a GPX file of marked points without any track. */
export const gpxWaypoints = (): Uint8Array =>
  encoder.encode(
    `${HEAD}<wpt lat="44.0100000" lon="-38.0200000"><name>spring</name></wpt>\n<wpt lat="44.0300000" lon="-38.0100000"><name>gate</name></wpt>\n</gpx>\n`,
  );

/** Returns a GPX file that defines an entity, which no recorder does and no reader should follow. */
export const gpxWithEntity = (): Uint8Array =>
  encoder.encode(
    `<?xml version="1.0"?>\n<!DOCTYPE gpx [<!ENTITY x "xxxxxxxxxx">]>\n<gpx version="1.1" creator="an invented recorder" xmlns="http://www.topografix.com/GPX/1/1"><metadata><name>&x;</name></metadata></gpx>\n`,
  );
