/** A bike ridden over a course, as a recorder would see it. */
import { type Chance, seeded } from './seeded.js';
import { type Course, type GroundClass, latOf, lonOf } from './terrain.js';

export interface RideOrder {
  readonly course: Course;
  readonly seed: string;
  /** Units: whole milliseconds since 1970 UTC. */
  readonly startMs: number;
  /** A factor on the rider's speed. */
  readonly pace: number;
  /** Every second, or every 3 to 7 as recorders do that save room. */
  readonly sampling: 'second' | 'smart';
  readonly halts: number;
  /** Whether the recorder stops while the bike stands. */
  readonly stopsRecorder: boolean;
}

/**
 * What the recorder wrote, a column each; `spanStarts` are indexes of the first sample of each span.
 * Units: timeMs milliseconds since 1970; latDeg, lonDeg degrees; eleM, distM metres; speedMps m/s; movingS seconds of
 * true riding, without lift, van and train.
 */
export interface Ridden {
  readonly timeMs: number[];
  readonly latDeg: number[];
  readonly lonDeg: number[];
  readonly eleM: number[];
  readonly distM: number[];
  readonly speedMps: number[];
  readonly spanStarts: number[];
  readonly movingS: number;
}

interface Handling {
  readonly flatMps: number;
  readonly uphill: number;
  readonly topMps: number;
  readonly unsteady: number;
}

const HANDLING: Record<GroundClass, Handling> = {
  road: { flatMps: 7.4, uphill: 17, topMps: 13, unsteady: 0.25 },
  gravel: { flatMps: 5.8, uphill: 14, topMps: 9, unsteady: 0.35 },
  trail: { flatMps: 3.7, uphill: 10, topMps: 6, unsteady: 0.5 },
  rough: { flatMps: 3.6, uphill: 9, topMps: 5.6, unsteady: 0.8 },
};
const LIFT_MPS = 2.75;
const VAN_MPS = 8;
const TRAIN_MPS = 31;
const SLOWEST_MPS = 1.3;

const aimedMps = (ground: GroundClass, grade: number, pace: number): number => {
  const h = HANDLING[ground];
  const flat = h.flatMps * pace;
  if (grade > 0) return Math.max(SLOWEST_MPS, flat / (1 + h.uphill * grade));
  return Math.min(h.topMps, flat * (1 - 8 * grade));
};

/** Where the bike halts on the way, in metres along the course, first to last. */
const haltsOf = (course: Course, count: number, chance: Chance): number[] =>
  Array.from(
    { length: count },
    (_, i) => ((i + chance.between(0.3, 0.9)) / (count + 0.5)) * course.lengthM,
  ).filter((xM) => course.legs[course.leg[Math.floor(xM / course.xM[1]!)]!]!.by === 'riding');

/** A slowly wandering error with a memory. */
const wanderer = (chance: Chance, sigma: number, memoryS: number): (() => number) => {
  const keep = Math.exp(-1 / memoryS);
  const fresh = sigma * Math.sqrt(1 - keep * keep);
  let value = 0;
  return () => {
    value = value * keep + fresh * chance.normal();
    return value;
  };
};

/** Returns the samples of one ride over a course; the same order always gives the same ride. */
export const rideOver = (order: RideOrder): Ridden => {
  const { course, pace } = order;
  const chance = seeded(`ride ${order.seed}`);
  const halts = haltsOf(course, order.halts, chance);
  const eastError = wanderer(chance, 0.8, 60);
  const northError = wanderer(chance, 0.8, 60);
  const eleError = wanderer(chance, 0.2, 90);
  const effort = wanderer(chance, 1, 8);
  const stepM = course.xM[1]!;
  const out = {
    timeMs: [] as number[],
    latDeg: [] as number[],
    lonDeg: [] as number[],
    eleM: [] as number[],
    distM: [] as number[],
    speedMps: [] as number[],
    spanStarts: [0],
  };
  let clockS = 0;
  let xM = 0;
  let mps = 0;
  let movingS = 0;
  let standS = 0;
  let leg = 0;
  let sampleDueS = 0;

  const record = (): void => {
    const node = Math.min(Math.floor(xM / stepM), course.xM.length - 2);
    const part = xM / stepM - node;
    const at = (column: Float64Array): number => column[node]! + (column[node + 1]! - column[node]!) * part;
    out.timeMs.push(order.startMs + clockS * 1000);
    out.latDeg.push(latOf(at(course.northM) + northError()));
    out.lonDeg.push(lonOf(at(course.eastM) + eastError()));
    out.eleM.push(at(course.eleM) + eleError());
    out.distM.push(xM);
    out.speedMps.push(standS > 0 ? 0 : mps);
    sampleDueS = clockS + (order.sampling === 'second' ? 1 : Math.floor(chance.between(3, 8)));
  };
  const halt = (lengthS: number, stopsRecorder: boolean): void => {
    mps = 0;
    if (!stopsRecorder) {
      standS = lengthS;
      return;
    }
    if (out.timeMs.at(-1) !== order.startMs + clockS * 1000) record();
    clockS += lengthS;
    out.spanStarts.push(out.timeMs.length);
    record();
  };

  record();
  while (xM < course.lengthM - 1) {
    clockS += 1;
    if (standS > 0) {
      standS -= 1;
    } else {
      const node = Math.min(Math.floor(xM / stepM), course.xM.length - 1);
      const by = course.legs[course.leg[node]!]!.by;
      mps = nextMps(course, node, mps, pace, by, effort());
      xM = Math.min(xM + mps, course.lengthM);
      if (by === 'riding') movingS += 1;
      const now = course.leg[Math.min(Math.floor(xM / stepM), course.xM.length - 1)]!;
      if (now !== leg && (course.legs[now]!.by !== 'riding' || by !== 'riding')) {
        halt(Math.round(chance.between(25, 110)), false);
      } else if (halts.length > 0 && xM >= halts[0]!) {
        halts.shift();
        halt(Math.round(chance.between(70, 420)), order.stopsRecorder);
      }
      leg = now;
    }
    if (clockS >= sampleDueS) record();
  }
  if (out.timeMs.at(-1) !== order.startMs + clockS * 1000) record();
  return { ...out, movingS };
};

const nextMps = (
  course: Course,
  node: number,
  mps: number,
  pace: number,
  by: 'riding' | 'lift' | 'van' | 'train',
  effort: number,
): number => {
  if (by === 'lift') return LIFT_MPS * (1 + 0.004 * effort);
  if (by === 'van') return VAN_MPS + 0.4 * effort;
  if (by === 'train') return TRAIN_MPS + 0.4 * effort;
  const behind = Math.max(0, node - 2);
  const ahead = Math.min(course.xM.length - 1, node + 8);
  const grade = (course.eleM[ahead]! - course.eleM[behind]!) / (course.xM[ahead]! - course.xM[behind]! || 1);
  const ground = course.legs[course.leg[node]!]!.ground;
  const aim = aimedMps(ground, grade, pace) * (1 + 0.12 * HANDLING[ground].unsteady * effort);
  return Math.max(
    0.9,
    mps + Math.max(-1.6, Math.min(0.9, (aim - mps) / 3)) + 0.1 * HANDLING[ground].unsteady * effort,
  );
};
