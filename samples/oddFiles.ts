/** Files that ask a question, are no ride or cannot be read: one of each kind that riders hand over. */
import { type CourseName, getCourse } from './courses.js';
import { fitRide, fitSettings, SPORT, SUB_SPORT } from './fitRide.js';
import { gpxRide, gpxWaypoints, gpxWithEntity } from './gpxRide.js';
import { type Ridden, rideOver } from './ridden.js';
import { fitOptions, nameOf, type PlannedRide, type RideFile, startOn } from './season.js';

const HOUR_MS = 3_600_000;
const MINUTE_MS = 60_000;

/** What the file is there to show: a code of `look` or `take`. */
export interface OddFile extends RideFile {
  readonly shows: string;
}

const oneRide = (course: CourseName, seed: string, startMs: number, pace = 1): Ridden =>
  rideOver({
    course: getCourse(course),
    seed,
    startMs,
    pace,
    sampling: 'smart',
    halts: 2,
    stopsRecorder: true,
  });

/** The samples at these indexes, as one span. */
const samplesAt = (ridden: Ridden, indexes: readonly number[]): Ridden => {
  const pick = (column: readonly number[]): number[] => indexes.map((i) => column[i]!);
  return {
    timeMs: pick(ridden.timeMs),
    latDeg: pick(ridden.latDeg),
    lonDeg: pick(ridden.lonDeg),
    eleM: pick(ridden.eleM),
    distM: pick(ridden.distM),
    speedMps: pick(ridden.speedMps),
    spanStarts: [0],
    movingS: ridden.movingS,
  };
};

/** A point at most every so often, as recorders do that save their battery. */
function thinned(ridden: Ridden, everyMs: number): Ridden {
  const kept: number[] = [];
  for (const [i, at] of ridden.timeMs.entries())
    if (kept.length === 0 || at - ridden.timeMs[kept.at(-1)!]! >= everyMs) kept.push(i);
  return samplesAt(ridden, kept);
}

/** The same riding a hundred kilometres to the north. */
const farAway = (ridden: Ridden): Ridden => ({ ...ridden, latDeg: ridden.latDeg.map((lat) => lat + 1) });

const text = (content: string): Uint8Array => new TextEncoder().encode(content);

const withLastByteChanged = (bytes: Uint8Array): Uint8Array => {
  const changed = bytes.slice();
  changed[changed.length - 1]! ^= 0xff;
  return changed;
};

/** Returns the odd files, some of them made from rides of the season. */
export const oddFilesOf = (today: string, season: readonly PlannedRide[]): OddFile[] => {
  const on = (daysAgo: number, seed: string): number => startOn(today, daysAgo, seed);
  const rideOn = (course: CourseName, daysAgo: number, pace?: number): Ridden =>
    oneRide(course, `odd ${course} ${daysAgo}`, on(daysAgo, `odd ${daysAgo}`), pace);
  const file = (shows: string, path: string, bytes: () => Uint8Array): OddFile => ({ shows, path, bytes });
  const named = (
    shows: string,
    folder: string,
    ridden: Ridden,
    format: string,
    bytes: () => Uint8Array,
  ): OddFile => file(shows, `${folder}/${nameOf(ridden.timeMs[0]!)}${format}`, bytes);
  const latest = (bike: string, index: number): PlannedRide => season.filter((r) => r.bike === bike)[index]!;

  const twin = latest('b1', 4);
  const shifted = latest('b3', 2);
  const alsoLater = latest('b8', 2);
  const indoor = rideOn('short road', 8);
  const run = rideOn('footpath', 12, 0.8);
  const untimed = rideOn('gravel round', 4);
  const whose = rideOn('evening trail', 15);
  const whichBike = rideOn('evening trail', 5);
  const van = rideOn('van day', 12);
  const train = rideOn('train home', 6);
  const cutOff = rideOn('quarry steps', 18);
  const checksum = rideOn('evening trail', 7);
  const unset = rideOn('evening trail', 40);
  const future = rideOn('evening trail', -30);
  const walk = rideOn('footpath', 9, 0.3);
  // Nobody halts on it: its rhythm alone tells nothing, and no zone explains its second clock.
  const smooth = rideOver({
    course: getCourse('short road'),
    seed: 'odd smooth',
    startMs: on(25, 'odd smooth'),
    pace: 1,
    sampling: 'second',
    halts: 0,
    stopsRecorder: false,
  });
  const sparse = thinned(rideOn('gravel round', 22), 90_000);
  const elsewhere = farAway(
    oneRide('long road', 'odd elsewhere', latest('b8', 3).ridden.timeMs[0]! + 25 * MINUTE_MS),
  );
  const overlap = oneRide('evening trail', 'odd unclear', alsoLater.ridden.timeMs.at(-1)! - 10 * MINUTE_MS);
  const mountainFit = (ridden: Ridden): Uint8Array => fitRide(ridden, fitOptions('mountain'));

  return [
    named('joined', 'inbox/r1/b1', twin.ridden, '_phone.gpx', () =>
      gpxRide(twin.ridden, { type: 'cycling' }),
    ),
    named('joined', 'inbox/r2/b3', shifted.ridden, '_wall-time.gpx', () =>
      gpxRide(shifted.ridden, { type: 'cycling', clockShiftMs: 3 * HOUR_MS }),
    ),
    named('same-ride-unclear', 'inbox/r6/b8', overlap, '_again.fit', () =>
      fitRide(overlap, { ...fitOptions('mountain'), indoor: true, subSport: SUB_SPORT.mountain }),
    ),
    // A ride of the season waits beside it: one bike is not in two places.
    named('counted', 'inbox/r6/b8', elsewhere, '_elsewhere.fit', () => mountainFit(elsewhere)),
    named('counted', 'inbox/r2/b3', smooth, '.gpx', () => gpxRide(smooth, { type: 'cycling' })),
    named('same-ride-shifted', 'inbox/r2/b3', smooth, '_late-clock.gpx', () =>
      gpxRide(smooth, { type: 'cycling', clockShiftMs: 67 * MINUTE_MS }),
    ),
    named('too-sparse', 'inbox/r4/b6', sparse, '_saving.gpx', () => gpxRide(sparse, { type: 'cycling' })),
    named('indoor', 'inbox/r1', indoor, '_indoors.fit', () =>
      fitRide(indoor, { ...fitOptions('indoor'), indoor: true }),
    ),
    named('other-sport', 'inbox/r1', run, '_run.fit', () =>
      fitRide(run, { ...fitOptions('generic'), sport: SPORT.running, subSport: SUB_SPORT.generic }),
    ),
    file('no-times', 'inbox/r2/b3/planned-round.gpx', () =>
      gpxRide(untimed, { type: 'cycling', times: false }),
    ),
    named('who', 'inbox', whose, '_no-name.fit', () => mountainFit(whose)),
    named('which-bike', 'inbox/r3', whichBike, '.gpx', () => gpxRide(whichBike, { type: 'cycling' })),
    named('climbs', 'inbox/r4/b6', van, '.fit', () => fitRide(van, fitOptions('downhill'))),
    named('vehicle', 'inbox/r4/b6', train, '_train.fit', () => fitRide(train, fitOptions('mountain'))),
    named('cut-off', 'inbox/r4/b6', cutOff, '_flat-battery.fit', () => {
      const whole = mountainFit(cutOff);
      return whole.slice(0, Math.round(whole.length * 0.62));
    }),
    named('checksum', 'inbox/r6/b8', checksum, '_bad-card.fit', () =>
      withLastByteChanged(mountainFit(checksum)),
    ),
    file('clock-unset', 'inbox/r5/b7/1989-12-31-0004.fit', () =>
      fitRide(unset, { ...fitOptions('mountain'), clockShiftMs: FIT_EPOCH_MS + 240_000 - unset.timeMs[0]! }),
    ),
    named('clock-future', 'inbox/r5/b7', future, '.gpx', () => gpxRide(future, { type: 'cycling' })),
    named('sport-unclear', 'inbox/r6', walk, '.gpx', () => gpxRide(walk, { type: null })),
    file('not-an-activity', 'inbox/r6/settings.fit', () => fitSettings(on(20, 'settings'))),
    file('no-track', 'inbox/r6/marked-points.gpx', gpxWaypoints),
    file('not-fit-or-gpx', 'inbox/r6/shopping-list.gpx', () =>
      text('two crush washers, one foam ring, rags\n'),
    ),
    file('empty', 'inbox/r6/nothing.fit', () => new Uint8Array()),
    file('unreadable', 'inbox/r6/only-a-head.fit', () => mountainFit(checksum).slice(0, 40)),
    file('xml-entities', 'inbox/r6/with-entity.gpx', gpxWithEntity),
  ];
};

const FIT_EPOCH_MS = Date.UTC(1989, 11, 31);
