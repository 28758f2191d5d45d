/** A ride as a FIT activity file. Field numbers and scales are those of the FIT profile. */
import { FitWriter, fitTime, type Layout, semicircles } from './fitWriter.js';
import type { Jump } from './jumps.js';
import type { Ridden } from './ridden.js';

const FILE_ID: Layout = {
  global: 0,
  fields: [
    [0, 'enum'],
    [1, 'uint16'],
    [2, 'uint16'],
    [3, 'uint32z'],
    [4, 'uint32'],
  ],
};
const DEVICE_SETTINGS: Layout = {
  global: 2,
  fields: [
    [1, 'uint32'],
    [2, 'uint32'],
  ],
};
const DEVICE_INFO: Layout = {
  global: 23,
  fields: [
    [253, 'uint32'],
    [0, 'uint8'],
    [1, 'uint8'],
    [2, 'uint16'],
    [3, 'uint32z'],
    [21, 'uint16z'],
    [25, 'enum'],
  ],
};
const EVENT: Layout = {
  global: 21,
  fields: [
    [253, 'uint32'],
    [0, 'enum'],
    [1, 'enum'],
    [3, 'uint32'],
  ],
};
const RECORD: Layout = {
  global: 20,
  fields: [
    [253, 'uint32'],
    [0, 'sint32'],
    [1, 'sint32'],
    [2, 'uint16'],
    [5, 'uint32'],
    [6, 'uint16'],
    [3, 'uint8'],
  ],
};
const LAP: Layout = {
  global: 19,
  fields: [
    [253, 'uint32'],
    [254, 'uint16'],
    [0, 'enum'],
    [1, 'enum'],
    [2, 'uint32'],
    [7, 'uint32'],
    [8, 'uint32'],
    [9, 'uint32'],
  ],
};
const SESSION: Layout = {
  global: 18,
  fields: [
    ...LAP.fields,
    [5, 'enum'],
    [6, 'enum'],
    [25, 'uint16'],
    [26, 'uint16'],
    [28, 'enum'],
    [183, 'uint16'],
  ],
};
const JUMP: Layout = {
  global: 285,
  fields: [
    [253, 'uint32'],
    [0, 'float32'],
    [3, 'float32'],
    [8, 'uint32'],
  ],
};
const ACTIVITY: Layout = {
  global: 34,
  fields: [
    [253, 'uint32'],
    [0, 'uint32'],
    [1, 'uint16'],
    [2, 'enum'],
    [3, 'enum'],
    [4, 'enum'],
    [5, 'uint32'],
  ],
};

const FILE_ACTIVITY = 4;
const FILE_SETTINGS = 2;
/** The number that the profile keeps for makers who have none. */
const MANUFACTURER_DEVELOPMENT = 255;
const PRODUCT = 1;
const EVENT_TIMER = 0;
const EVENT_LAP = 9;
const EVENT_SESSION = 8;
const EVENT_ACTIVITY = 26;
const TYPE_START = 0;
const TYPE_STOP = 1;
const TYPE_STOP_ALL = 4;
const SOURCE_LOCAL = 5;
const SOURCE_RADIO = 1;

export const SPORT = { running: 1, cycling: 2 } as const;
export const SUB_SPORT = { generic: 0, indoor: 6, road: 7, mountain: 8, downhill: 9, gravel: 46 } as const;

const DEVICE_TYPE = { 'heart-strap': 120, 'speed-sensor': 123 } as const;

export interface RadioSensor {
  readonly kind: keyof typeof DEVICE_TYPE;
  readonly number: number;
}

export interface FitRideOptions {
  readonly sport: number;
  readonly subSport: number;
  readonly recorderSerial: number;
  readonly sensors: readonly RadioSensor[];
  /** Left out: the recorder feels none. */
  readonly jumps?: readonly Jump[];
  /** Without positions and elevation, as indoors. */
  readonly indoor?: boolean;
  /** Shifts every time, as a clock does that was never set. */
  readonly clockShiftMs?: number;
}

/** Returns a FIT activity file of the ride. */
export const fitRide = (ridden: Ridden, options: FitRideOptions): Uint8Array => {
  const file = new FitWriter();
  const last = ridden.timeMs.length - 1;
  const time = (i: number): number => fitTime(ridden.timeMs[i]! + (options.clockShiftMs ?? 0));
  const start = time(0);
  const end = time(last);
  file.write(FILE_ID, [FILE_ACTIVITY, MANUFACTURER_DEVELOPMENT, PRODUCT, options.recorderSerial, start]);
  writeDevices(file, start, options);
  writeRecords(file, ridden, time, options);
  file.write(EVENT, [end, EVENT_TIMER, TYPE_STOP_ALL, 0]);
  const summary = [
    start,
    (end - start) * 1000,
    timerSeconds(ridden) * 1000,
    Math.round(ridden.distM[last]! * 100),
  ];
  file.write(LAP, [end, 0, EVENT_LAP, TYPE_STOP, ...summary]);
  file.write(SESSION, [
    end,
    0,
    EVENT_SESSION,
    TYPE_STOP,
    ...summary,
    options.sport,
    options.subSport,
    0,
    1,
    0,
    options.jumps?.length ?? null,
  ]);
  file.write(ACTIVITY, [end, timerSeconds(ridden) * 1000, 1, 0, EVENT_ACTIVITY, TYPE_STOP, end]);
  return file.finish();
};

const writeDevices = (file: FitWriter, start: number, options: FitRideOptions): void => {
  file.write(DEVICE_INFO, [
    start,
    0,
    null,
    MANUFACTURER_DEVELOPMENT,
    options.recorderSerial,
    null,
    SOURCE_LOCAL,
  ]);
  options.sensors.forEach((sensor, i) => {
    const type = DEVICE_TYPE[sensor.kind];
    file.write(DEVICE_INFO, [
      start,
      i + 1,
      type,
      MANUFACTURER_DEVELOPMENT,
      null,
      sensor.number,
      SOURCE_RADIO,
    ]);
  });
};

const writeRecords = (
  file: FitWriter,
  ridden: Ridden,
  time: (i: number) => number,
  options: FitRideOptions,
): void => {
  const starts = new Set(ridden.spanStarts);
  const jumps = [...(options.jumps ?? [])];
  const strap = options.sensors.some((sensor) => sensor.kind === 'heart-strap');
  for (let i = 0; i < ridden.timeMs.length; i += 1) {
    if (starts.has(i)) {
      if (i > 0) file.write(EVENT, [time(i - 1), EVENT_TIMER, TYPE_STOP_ALL, 0]);
      file.write(EVENT, [time(i), EVENT_TIMER, TYPE_START, 0]);
    }
    file.write(RECORD, [
      time(i),
      options.indoor ? null : semicircles(ridden.latDeg[i]!),
      options.indoor ? null : semicircles(ridden.lonDeg[i]!),
      options.indoor ? null : Math.round((ridden.eleM[i]! + 500) * 5),
      Math.round(ridden.distM[i]! * 100),
      Math.round(ridden.speedMps[i]! * 1000),
      strap ? Math.round(112 + 9 * ridden.speedMps[i]!) % 200 : null,
    ]);
    while (jumps[0] !== undefined && jumps[0].atMs <= ridden.timeMs[i]!) {
      const { hangS, speedMps } = jumps.shift()!;
      file.write(JUMP, [time(i), hangS * speedMps, hangS, Math.round(speedMps * 1000)]);
    }
  }
};

const timerSeconds = (ridden: Ridden): number => {
  const ends = [...ridden.spanStarts.slice(1), ridden.timeMs.length].map((i) => ridden.timeMs[i - 1]!);
  const ms = ends.reduce((sum, at, span) => sum + at - ridden.timeMs[ridden.spanStarts[span]!]!, 0);
  return Math.round(ms / 1000);
};

/** Returns a FIT file that holds a recorder's settings and no ride. */
export const fitSettings = (madeMs: number): Uint8Array => {
  const file = new FitWriter();
  file.write(FILE_ID, [FILE_SETTINGS, MANUFACTURER_DEVELOPMENT, PRODUCT, 4711, fitTime(madeMs)]);
  file.write(DEVICE_SETTINGS, [0, 0]);
  return file.finish();
};
