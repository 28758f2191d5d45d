import type { Chance } from '../../samples/seeded.js';
import { pick } from './dice.js';
import { gpx, xmlInput } from './gpxInput.js';

const SPORTS = ['Biking', 'Biking', 'Biking', 'Running', 'Other', '', '__proto__', 'x'.repeat(300)];
const TOTALS = ['10', '0', '', '-5', '1e3', 'NaN', '9'.repeat(400)];

/** What a GPX file says, in the words of the other format. */
const tcx = (chance: Chance): string =>
  gpx(chance)
    .replaceAll(/(<\/?(?:g:)?)gpx\b/g, '$1TrainingCenterDatabase')
    .replaceAll(
      /<(g:)?trkpt lat="([^"]*)" lon="([^"]*)">/g,
      '<$1Trackpoint><Position><LatitudeDegrees>$2</LatitudeDegrees><LongitudeDegrees>$3</LongitudeDegrees></Position>',
    )
    .replaceAll(/(<\/(?:g:)?)trkpt>/g, '$1Trackpoint>')
    .replaceAll(
      /<(g:)?trkseg>/g,
      () =>
        `<Lap StartTime="2021-06-01T00:00:0${pick(chance, ['0', '5', 'x'])}Z"><TotalTimeSeconds>${pick(chance, TOTALS)}</TotalTimeSeconds><Track>`,
    )
    .replaceAll(/<\/(?:g:)?trkseg>/g, '</Track></Lap>')
    .replaceAll(/<(?:g:)?trk>/g, () => `<Activity Sport="${pick(chance, SPORTS)}">`)
    .replaceAll(/<\/(?:g:)?trk>/g, '</Activity>')
    .replaceAll(/(<\/?(?:g:)?)ele>/g, '$1AltitudeMeters>')
    .replaceAll(/(<\/?(?:g:)?)time>/g, '$1Time>');

/** Returns a TCX file that is nearly one: sound in most of what it says, and wrong somewhere. */
export const tcxInput = (chance: Chance): Uint8Array => xmlInput(chance, tcx);
