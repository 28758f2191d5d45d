/** What elements are to the reader. The first four lie in one another: each is its own depth. */
export const [OTHER, GPX, TRK, SEGMENT, POINT] = [0, 1, 2, 3, 4];
/** What holds a value. Those of a point begin with its elevation, those of its extensions with the heart. */
export const [TYPE, ELE, TIME, SPEED, HEART, CADENCE, POWER] = [5, 6, 7, 8, 9, 10, 11];
/** Attributes of a point. */
export const [LAT, LON] = [12, 13];
export const KINDS_IN_ALL = 14;

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
