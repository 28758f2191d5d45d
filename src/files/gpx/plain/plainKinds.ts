/** What elements are to the reader. The first four lie in one another: each is its own depth. */
export const [OTHER, GPX, TRK, SEGMENT, POINT] = [0, 1, 2, 3, 4];
export const TYPE = 5;
/** What holds a value of a point, in the order of a row of samples; nothing holds its distance. */
export const [TIME, LAT, LON, ELE, SPEED] = [6, 7, 8, 9, 11];
/** Values in the extensions of a point. */
export const [HEART, CADENCE, POWER] = [12, 13, 14];
export const KINDS_IN_ALL = 15;

export const KIND_OF_ELEMENT: ReadonlyMap<string, number> = new Map([
  ['gpx', GPX],
  ['trk', TRK],
  ['trkseg', SEGMENT],
  ['trkpt', POINT],
  ['type', TYPE],
  ['ele', ELE],
  ['time', TIME],
  ['speed', SPEED],
  ['hr', HEART],
  ['cad', CADENCE],
  ['power', POWER],
]);
