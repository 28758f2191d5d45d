/**
 * Made days on ways that somebody rode: lifts, drives and climbs by pedal, with what truly was ridden. Figures of lifts
 * and drives are those of real lift days and of a real day of road uplifts.
 */
import { seededRandom } from '../../../../src/core/chance/seededRandom.js';
import type { Recording } from '../../../../src/core/ground/samples/recording.js';
import { gaussian } from '../iso8608.js';
import { LINE_STEP_M, type Line } from './lines.js';

/** What a rider does: it sets the heart rate and the cadence. */
type Doing = 'carried' | 'stands' | 'descends' | 'pedals' | 'pedals hard' | 'pushes' | 'helped';

interface Instant {
  readonly s: number;
  readonly eastM: number;
  readonly northM: number;
  readonly eleM: number;
  readonly mps: number;
  readonly doing: Doing;
}

export interface Day {
  readonly kind: string;
  readonly name: string;
  readonly isRidden: boolean;
  readonly motor: boolean;
  readonly places: readonly Instant[];
}

const HEART: Readonly<Record<Doing, number>> = {
  carried: 84,
  stands: 92,
  descends: 140,
  pedals: 146,
  'pedals hard': 164,
  pushes: 148,
  helped: 118,
};
const CADENCE: Readonly<Record<Doing, number>> = {
  ...{ carried: 0, stands: 0, descends: 18, pedals: 72, 'pedals hard': 80, pushes: 0, helped: 70 },
};

/** A way in the making. */
export class Way {
  readonly places: Instant[] = [];
  readonly random: () => number;
  #heading: number;
  #at = { eastM: 0, northM: 0, eleM: 400 };
  constructor(seed: string) {
    this.random = seededRandom(seed);
    this.#heading = this.random() * 6.28;
  }
  get between() {
    return (low: number, high: number): number => low + this.random() * (high - low);
  }
  get eleM(): number {
    return this.#at.eleM;
  }
  stand(seconds: number, doing: Doing = 'stands'): this {
    for (let s = 0; s < seconds; s++) this.#push(0, doing);
    return this;
  }
  /** Straight on, bending by so many degrees a minute. */
  straight(
    seconds: number,
    mps: (s: number) => number,
    upPerM: number,
    doing: Doing,
    bendPerMinute = 0,
  ): this {
    for (let s = 0; s < seconds; s++) {
      const v = mps(s);
      this.#heading += ((bendPerMinute * Math.PI) / 180 / 60) * Math.sin(s / 60);
      this.#move(v * Math.sin(this.#heading), v * Math.cos(this.#heading), v * upPerM, v, doing);
    }
    return this;
  }
  turn(degrees: number): this {
    this.#heading += (degrees * Math.PI) / 180;
    return this;
  }
  /** Along a line, at a speed that follows from its grade over 50 m; until so many metres up or down are done. */
  along(line: Line, mpsOf: (grade: number, s: number) => number, doing: Doing, most = Infinity): this {
    const near = 5;
    const start = this.#at;
    const angle = this.random() * 6.28;
    const [sin, cos] = [Math.sin(angle), Math.cos(angle)];
    let [at, s] = [0, 0];
    const last = line.eleM.length - 1;
    while (at < last) {
      const k = Math.floor(at);
      const [a, b] = [Math.max(0, k - near), Math.min(last, k + near)];
      const grade = (line.eleM[b]! - line.eleM[a]!) / ((b - a) * LINE_STEP_M);
      const v = mpsOf(grade, s);
      at = Math.min(last, at + v / LINE_STEP_M);
      s += 1;
      const i = Math.min(last - 1, Math.floor(at));
      const share = at - i;
      const mix = (column: readonly number[]): number =>
        column[i]! + share * (column[i + 1]! - column[i]!) - column[0]!;
      const [east, north] = [mix(line.eastM), mix(line.northM)];
      this.#at = {
        eastM: start.eastM + east * cos - north * sin,
        northM: start.northM + east * sin + north * cos,
        eleM: start.eleM + mix(line.eleM),
      };
      this.#push(v, doing);
      if (Math.abs(this.#at.eleM - start.eleM) >= most) break;
    }
    return this;
  }
  #move(east: number, north: number, up: number, mps: number, doing: Doing): void {
    const { eastM, northM, eleM } = this.#at;
    this.#at = { eastM: eastM + east, northM: northM + north, eleM: eleM + up };
    this.#push(mps, doing);
  }
  #push(mps: number, doing: Doing): void {
    this.places.push({ s: this.places.length, ...this.#at, mps, doing });
  }
}

const uneven =
  (mps: number, phase: number) =>
  (s: number): number =>
    mps * (1 + 0.25 * Math.sin(s / 17 + phase) + 0.15 * Math.sin(s / 5 + phase));
/** Down at a rider's speeds, by so many metres in all, on one line after the other. */
function descend(way: Way, lines: readonly Line[], metres: number): void {
  const phase = way.random() * 6;
  for (let left = metres, n = Math.floor(way.random() * lines.length); left > 5; n++) {
    const from = way.eleM;
    const line = lines[n % lines.length]!;
    way.along(
      line,
      (grade, s) => uneven(Math.min(9, Math.max(3, 4 - grade * 20)), phase)(s),
      'descends',
      left,
    );
    left -= Math.abs(from - way.eleM);
  }
}
/** At so many metres a second upward, as a vehicle or a rider does it. */
const climbing =
  (upMps: number, slowest: number, fastest: number) =>
  (grade: number, s: number): number =>
    Math.min(fastest, Math.max(slowest, upMps / Math.max(0.01, grade))) * (1 + 0.06 * Math.sin(s / 11));
/** The same by a rider, who is never steady. */
const pedalling = (upMps: number, slowest: number, fastest: number) => {
  const even = climbing(upMps, slowest, fastest);
  return (grade: number, s: number): number =>
    even(grade, s) * (1 + 0.12 * Math.sin(s / 23) + 0.1 * Math.sin(s / 7) + 0.08 * Math.sin(s / 61));
};

/** Up along lines until so many metres are climbed. */
function climb(
  way: Way,
  lines: readonly Line[],
  first: number,
  metres: number,
  mps: (grade: number, s: number) => number,
  doing: Doing,
): void {
  for (let left = metres, n = first; left > 5; n++) {
    const from = way.eleM;
    way.along(lines[n % lines.length]!, mps, doing, left);
    left -= Math.abs(way.eleM - from);
  }
}

export interface Ways {
  readonly up: readonly Line[];
  readonly down: readonly Line[];
}

/** Returns the made days of a series, each with what truly was ridden; another series draws all of it anew. */
export function madeDays({ up, down }: Ways, series = 0): Day[] {
  const steep = down.filter((line) => fall(line) <= -0.06);
  const rising = up.filter((line) => fall(line) >= 0.045);
  const days: Day[] = [];
  const day = (
    kind: string,
    count: number,
    how: { readonly ridden?: boolean; readonly motor?: boolean },
    make: (way: Way, n: number) => void,
  ): void => {
    for (let n = series * count; n < (series + 1) * count; n++) {
      const way = new Way(`${kind} ${n}`);
      make(way, n);
      const { ridden = false, motor = false } = how;
      days.push({ kind, name: `${kind} ${n + 1}`, isRidden: ridden, motor, places: way.places });
    }
  };
  const laps = (way: Way, carry: () => void): void => {
    const times = 5 + Math.floor(way.random() * 3);
    for (let lap = 0; lap < times; lap++) {
      way.stand(way.between(20, 200));
      const from = way.eleM;
      carry();
      way.stand(way.between(10, 60));
      descend(way, steep, way.eleM - from);
    }
  };
  day('chairlift', 10, {}, (way) => {
    const [up1, mps] = [way.between(530, 635), way.between(4.3, 4.6)];
    const seconds = way.between(610, 644);
    laps(way, () => void way.turn(160).straight(seconds, () => mps, up1 / (seconds * mps), 'carried', 2));
  });
  day('lift with halts', 10, {}, (way) => {
    const height = way.between(530, 635);
    laps(way, () => {
      const [seconds, mps] = [Math.round(way.between(850, 1300)), way.between(2.6, 4)];
      const slow = way.between(100, seconds - 200);
      const v = (s: number): number => (s > slow && s < slow + 80 ? mps * 0.45 : mps);
      const way1 = mps * (seconds - 80 * 0.55);
      way.turn(160).straight(seconds, v, height / way1, 'carried', 12);
    });
  });
  day('slow lift', 10, {}, (way) => {
    const seconds = way.between(874, 1120);
    const mps = way.between(1.8, 2.4);
    laps(way, () => void way.turn(160).straight(seconds, () => mps, 340 / (seconds * mps), 'carried', 3));
  });
  day('road uplift, one stage', 10, {}, (way, n) => {
    const drive = climbing(way.between(0.6, 0.8), 6.5, 9);
    laps(way, () => void climb(way, rising, n, 250, drive, 'carried'));
  });
  day('road uplift, two stages', 10, {}, (way, n) => {
    const [road, track] = [climbing(way.between(0.6, 0.8), 7, 9), climbing(way.between(0.25, 0.4), 2.5, 5.4)];
    laps(way, () => {
      climb(way, rising, n, 170, road, 'carried');
      climb(way, rising, n + 3, 90, track, 'carried');
    });
  });
  day('shuttle on a track', 10, {}, (way, n) => {
    const track = climbing(way.between(0.25, 0.4), 2.5, 5.4);
    laps(way, () => void climb(way, rising, n, 200, track, 'carried'));
  });
  day('lift, then pedalled', 10, {}, (way, n) => {
    const [seconds, mps] = [way.between(400, 600), way.between(2.5, 5)];
    laps(way, () => {
      way
        .turn(160)
        .straight(seconds, () => mps, 300 / (seconds * mps), 'carried', 2)
        .stand(30);
      climb(way, rising, n, 70, pedalling(way.between(0.15, 0.25), 1.2, 4), 'pedals');
    });
  });
  const ridden = { ridden: true };
  day('e-bike', 25, { ...ridden, motor: true }, (way, n) => {
    for (let lap = 0; lap < 4; lap++) {
      const from = way.eleM;
      way
        .along(up[(n + lap) % up.length]!, pedalling(0.55 * way.between(0.9, 1.1), 2, 7), 'helped')
        .stand(40);
      descend(way, steep, way.eleM - from);
    }
  });
  day('strong rider', 20, ridden, (way, n) => {
    const pace = way.between(0.3, 0.4);
    for (let lap = 0; lap < 3; lap++) {
      const from = way.eleM;
      way
        .along(up[(n + lap) % up.length]!, pedalling(pace * way.between(0.9, 1.1), 1.5, 7), 'pedals hard')
        .stand(40);
      descend(way, steep, way.eleM - from);
    }
  });
  day('one climb again and again', 15, ridden, (way, n) => {
    const pace = way.between(0.24, 0.34);
    for (let lap = 0; lap < 6; lap++) {
      const from = way.eleM;
      climb(way, rising, n, 120, pedalling(pace * way.between(0.9, 1.06), 1.5, 6), 'pedals hard');
      way.stand(20);
      descend(way, steep, way.eleM - from);
    }
  });
  day('a big day of laps', 5, ridden, (way, n) => {
    const pace = way.between(0.24, 0.34);
    for (let lap = 0; lap < 6; lap++) {
      const from = way.eleM;
      climb(way, rising, n, 170, pedalling(pace * way.between(0.9, 1.06), 1.5, 6), 'pedals hard');
      way.stand(20);
      descend(way, steep, way.eleM - from);
    }
  });
  day('easy rider', 20, ridden, (way, n) => {
    for (let lap = 0; lap < 3; lap++) {
      const from = way.eleM;
      way.along(up[(n + lap) % up.length]!, pedalling(way.between(0.12, 0.24), 1.2, 6), 'pedals').stand(60);
      descend(way, steep, way.eleM - from);
    }
  });
  day('hike-a-bike', 10, ridden, (way, n) => {
    const from = way.eleM;
    way.along(rising[n % rising.length]!, pedalling(0.2, 1.5, 4), 'pedals');
    way.straight(600, () => way.between(0.6, 0.9), 0.3, 'pushes', 40);
    descend(way, steep, way.eleM - from);
  });
  return days;
}

const fall = (line: Line): number => (line.eleM.at(-1)! - line.eleM[0]!) / (line.eleM.length * LINE_STEP_M);

export interface Recorder {
  readonly name: string;
  readonly format: 'fit' | 'gpx';
  readonly everyS: number;
  readonly eleNoiseM: number;
  readonly heart: boolean;
  readonly cadence: boolean;
}
export const RECORDERS: readonly Recorder[] = [
  { name: 'altimeter', format: 'fit', everyS: 1, eleNoiseM: 0.4, heart: false, cadence: false },
  { name: 'altimeter, heart', format: 'fit', everyS: 1, eleNoiseM: 0.4, heart: true, cadence: false },
  { name: 'altimeter, heart, cadence', format: 'fit', everyS: 1, eleNoiseM: 0.4, heart: true, cadence: true },
  { name: 'receiver', format: 'gpx', everyS: 1, eleNoiseM: 2.5, heart: false, cadence: false },
  { name: 'receiver, heart', format: 'gpx', everyS: 1, eleNoiseM: 2.5, heart: true, cadence: false },
  { name: 'each 5 s', format: 'fit', everyS: 5, eleNoiseM: 0.4, heart: false, cadence: false },
];

const LAT_M = 111_132;
export const START_MS = Date.UTC(2025, 6, 5, 7);

/** Returns the day as a recorder writes it, with errors that remember for 20 to 60 s. */
export function recorded(day: Day, by: Recorder): Recording {
  const next = gaussian(seededRandom(`${day.name} ${by.name}`));
  const wander = (spread: number, memoryS: number) => {
    let error = spread * next();
    const stay = Math.exp(-1 / memoryS);
    return (): number => {
      error = stay * error + spread * Math.sqrt(1 - stay ** 2) * next();
      return error;
    };
  };
  const [east, north, up, beats] = [
    wander(2.5, 20),
    wander(2.5, 20),
    wander(by.eleNoiseM, 45),
    wander(3, 20),
  ];
  let heart = 95;
  let metres = 0;
  const rows = day.places.flatMap((place) => {
    heart += (HEART[place.doing] - heart) / 35;
    metres += place.mps;
    const cadence = CADENCE[place.doing] > 30 || place.s % 40 < 12 ? CADENCE[place.doing] : 0;
    const row = {
      ms: START_MS + place.s * 1000,
      east: place.eastM + east(),
      north: place.northM + north(),
      ele: Math.round((place.eleM + up()) * 5) / 5,
      metres,
      mps: place.mps,
      heart: Math.round(heart + beats()),
      cadence,
    };
    return place.s % by.everyS === 0 ? [row] : [];
  });
  const column = (value: (row: (typeof rows)[number]) => number): Float64Array =>
    Float64Array.from(rows, value);
  const none = (): number => Number.NaN;
  const lonM = LAT_M * Math.cos((46 * Math.PI) / 180);
  const isFit = by.format === 'fit';
  return {
    format: by.format,
    sport: 'cycling',
    subSport: day.motor ? 'e_bike_mountain' : 'mountain',
    samples: {
      count: rows.length,
      timeMs: column(({ ms }) => ms),
      lat: column((row) => 46 + row.north / LAT_M),
      lon: column((row) => 10 + row.east / lonM),
      eleM: column(({ ele }) => ele),
      distM: column(isFit ? (row) => Math.round(row.metres * 100) / 100 : none),
      speedMps: column(isFit ? ({ mps }) => Math.round(mps * 1000) / 1000 : none),
      effort: {
        heartBpm: column(by.heart ? (row) => row.heart : none),
        cadenceRpm: column(by.cadence ? (row) => row.cadence : none),
        powerW: column(none),
      },
    },
    spans: [{ from: 0, to: rows.length }],
    damage: null,
    sensors: [],
    claims: { elapsedS: null, timerS: null, distanceM: null },
    notes: [],
  };
}

/** Seconds that truly were ridden. */
export const riddenS = (day: Day): number =>
  day.places.filter(({ mps, doing }) => mps >= 0.5 && doing !== 'carried').length;
