/** What an hour weighs by kind of ride, on the rides of any folder: the scale that the trade would know it by. */
import { kindScales, saysMuch } from '../../../src/core/scale/groundScale.js';
import { type FolderRide, kindOf, ridesIn } from './folderRides.js';
import { weighed } from './rideSet.js';
import { textTable } from './textTable.js';

const two = (value: number): string => value.toFixed(2);

/** Beside the files' own kinds, all rides that name none. */
function scaleTable(rides: readonly FolderRide[]): string {
  const all = rides.map((ride) => {
    const { terrain, movingS } = ride.reading;
    const { severity, weight } = weighed(ride.reading);
    return { kind: kindOf(ride) ?? 'other', severity, quality: terrain.quality, movingS, weight } as const;
  });
  const rows = all.filter(saysMuch);
  return textTable([
    ['kind', 'rides', 'hours', 'weight of an hour', 'eight rides of ten', 'least', 'most'],
    ...kindScales(rows).map(({ kind, rides: count, range }) => {
      const of = rows.filter((row) => row.kind === kind);
      const weights = of.map(({ weight }) => weight);
      return [
        kind === 'other' ? 'not said' : kind,
        String(count),
        (of.reduce((sum, { movingS }) => sum + movingS, 0) / 3600).toFixed(1),
        range === null ? 'too few' : two(range.middle),
        range === null ? '' : `${two(range.low)} to ${two(range.high)}`,
        two(Math.min(...weights)),
        two(Math.max(...weights)),
      ];
    }),
  ]);
}

/** Returns the table; the folder is STANCHION_RECORDINGS. */
export async function tradeEvidence(): Promise<string> {
  const folder = process.env.STANCHION_RECORDINGS;
  if (folder === undefined) return 'By trade: left out, STANCHION_RECORDINGS names no folder of recordings.';
  return `# What an hour weighs by kind of ride\n${scaleTable(ridesIn(folder))}`;
}
