import type { Chance } from '../../samples/seeded.js';
import { crc16 } from '../../src/files/fit/crc16.js';
import { type FitField, FitFile, type FitSample, recordFields } from '../fixtures/fitFile.js';
import { bent, joined, oneIn, pick, times, upTo } from './dice.js';

const FIT_START = 1_000_000_000;
const START_MS = Date.UTC(2021, 8, 8);
/** Seconds between samples: usual ones, standing still, backwards, and leaps of hours to decades. */
const STEPS_S = [1, 1, 1, 1, 1, 2, 5, 30, 61, 299, 301, 0, -1, -3600, 3600, 86_400, 900_000_000];
const SPEEDS_MPS = [0, 0.3, 2, 5, 5, 5, 9, 20, 40, 64];
const ODD_NUMBERS = [
  0, 1, 2, 0x7e, 0x7f, 0x80, 0xfe, 0xff, 0x7fff, 0xffff, 0x7fffffff, 0x80000000, 0xffffffff,
];
const MESSAGES = [0, 12, 18, 19, 20, 20, 20, 21, 21, 23, 34, 49, 206, 207, 0xfffe];
const TYPES = [
  'enum',
  'sint8',
  'uint8',
  'string',
  'byte',
  'sint32',
  'uint16',
  'uint32',
  'float32',
  'uint16z',
] as const;

/** Returns a FIT file that is nearly one: sound in most of what it says, and wrong somewhere. */
export function fitInput(chance: Chance): Uint8Array {
  const parts = times(oneIn(chance, 8) ? 1 + upTo(chance, 3) : 1, () => part(chance));
  const whole = joined(
    ...parts,
    oneIn(chance, 10) ? Uint8Array.from(times(upTo(chance, 40), () => upTo(chance, 256))) : new Uint8Array(),
  );
  if (oneIn(chance, 3)) return whole;
  const wrong = bent(chance, whole);
  return oneIn(chance, 2) ? resealed(wrong) : wrong;
}

function part(chance: Chance): Uint8Array {
  const file = new FitFile();
  if (!oneIn(chance, 12)) file.message(0, [[0, 'enum', oneIn(chance, 10) ? upTo(chance, 256) : 4]]);
  if (oneIn(chance, 3)) devices(chance, file);
  rideMessages(chance, file);
  for (let left = upTo(chance, 3); left > 0; left -= 1) session(chance, file);
  for (let left = upTo(chance, 3); left > 0; left -= 1) anyMessage(chance, file);
  return file.bytes({
    headerSize: oneIn(chance, 6) ? 12 : 14,
    ...(oneIn(chance, 15) ? { dataSize: pick(chance, ODD_NUMBERS) } : {}),
  });
}

function rideMessages(chance: Chance, file: FitFile): void {
  const sample = startSample(chance);
  // Most are short, so that many are tried; some are long enough for cells of terrain.
  const count = pick(chance, oneIn(chance, 12) ? [120, 250] : [0, 1, 2, 3, 8, 20, 40, 60]);
  const isOdd = oneIn(chance, 2);
  const messageOf = recordShape(chance);
  for (let i = 0; i < count; i += 1) {
    move(chance, sample, isOdd);
    if (i > 0 && oneIn(chance, 20)) timer(chance, file, sample.timeMs);
    messageOf(file, sample, i === 0 || oneIn(chance, 40));
  }
}

type Moving = { -readonly [K in keyof FitSample]: number };

const startSample = (chance: Chance): Moving => ({
  timeMs: oneIn(chance, 15) ? pick(chance, [0, 1, 10, 2 ** 32]) * 1000 : START_MS + upTo(chance, 1e9),
  lat: pick(chance, [0, 10, 45, 89.9999, -89.9, 12.5]),
  lon: pick(chance, [0, 20, 179.9999, -180, -31.5]),
  eleM: pick(chance, [100, -499, 0, 3000, 9900, 12_000]),
  distM: 0,
  speedMps: 5,
});

function move(chance: Chance, sample: Moving, isOdd: boolean): void {
  const step = isOdd && oneIn(chance, 8) ? pick(chance, STEPS_S) : 1;
  const speed = isOdd && oneIn(chance, 8) ? pick(chance, SPEEDS_MPS) : sample.speedMps!;
  sample.timeMs = Math.max(0, Math.min(sample.timeMs + step * 1000, Date.UTC(2120, 0)));
  sample.speedMps = speed;
  sample.distM =
    isOdd && oneIn(chance, 30) ? upTo(chance, 40_000_000) : sample.distM! + Math.max(0, step) * speed;
  sample.lat = Math.max(-90, Math.min(90, sample.lat! + (speed * step) / 111_000 + chance.normal() * 1e-6));
  sample.lon = isOdd && oneIn(chance, 30) ? pick(chance, [0, 180, -180, 90]) : sample.lon!;
  sample.eleM = Math.max(
    -500,
    Math.min(12_500, sample.eleM! + chance.normal() * (isOdd && oneIn(chance, 30) ? 3000 : 0.4)),
  );
}

/** Returns a writer of records in one of the shapes that recorders and vandals give them. */
function recordShape(chance: Chance): (file: FitFile, sample: Moving, isDefined: boolean) => void {
  const bigEndian = oneIn(chance, 4);
  const withTime = !oneIn(chance, 15);
  const compressed = oneIn(chance, 8);
  const drop = oneIn(chance, 4) ? upTo(chance, 6) : -1;
  const extra = oneIn(chance, 5) ? oddFields(chance) : [];
  const developer = oneIn(chance, 10) ? oddFields(chance) : [];
  return (file, sample, isDefined) => {
    const fields = [
      ...recordFields(sample).filter(([number], i) => i !== drop && (withTime || number !== 253)),
      ...extra,
    ];
    const options = { local: 1, bigEndian, developer };
    if (isDefined) file.message(20, fields, options);
    else if (compressed)
      file.again(fields, { ...options, compressed: Math.floor(sample.timeMs / 1000) & 31 });
    else file.again(fields, options);
  };
}

const oddFields = (chance: Chance): FitField[] =>
  times(upTo(chance, 6), () => {
    const type = pick(chance, TYPES);
    const number = pick(chance, [0, 1, 2, 3, 5, 6, 8, 73, 78, 253, upTo(chance, 256)]);
    if (type === 'string') return [number, type, 'x'.repeat(upTo(chance, 40))];
    return [
      number,
      type,
      oneIn(chance, 4) ? times(upTo(chance, 12), () => upTo(chance, 256)) : pick(chance, ODD_NUMBERS),
    ];
  });

function timer(chance: Chance, file: FitFile, timeMs: number): void {
  file.message(21, [
    [253, 'uint32', fitSeconds(timeMs)],
    [0, 'enum', oneIn(chance, 6) ? upTo(chance, 256) : 0],
    [1, 'enum', pick(chance, [0, 0, 1, 4, 8, 9, 3, 255])],
  ]);
}

function session(chance: Chance, file: FitFile): void {
  const start = oneIn(chance, 4) ? pick(chance, ODD_NUMBERS) : FIT_START + upTo(chance, 1_000_000);
  file.message(18, [
    [253, 'uint32', start],
    [2, 'uint32', start],
    [5, 'enum', oneIn(chance, 3) ? upTo(chance, 256) : 2],
    [6, 'enum', pick(chance, [0, 7, 8, 9, 46, 58, 255, upTo(chance, 256)])],
    [7, 'uint32', pick(chance, ODD_NUMBERS)],
    [9, 'uint32', pick(chance, ODD_NUMBERS)],
  ]);
}

function devices(chance: Chance, file: FitFile): void {
  for (let left = upTo(chance, 4); left > 0; left -= 1)
    file.message(23, [
      [0, 'uint8', upTo(chance, 256)],
      [1, 'uint8', pick(chance, [11, 120, 121, 122, 123, 255, 0])],
      [3, 'uint32z', pick(chance, ODD_NUMBERS)],
      [21, 'uint16z', upTo(chance, 65_536)],
      [25, 'enum', upTo(chance, 8)],
    ]);
}

const anyMessage = (chance: Chance, file: FitFile): void =>
  void file.message(pick(chance, MESSAGES), oddFields(chance), {
    local: upTo(chance, 16),
    bigEndian: oneIn(chance, 2),
  });

const fitSeconds = (ms: number): number => Math.max(0, Math.round((ms - Date.UTC(1989, 11, 31)) / 1000));

/** Puts sizes and checksum right again, so that what is wrong lies deeper. */
function resealed(bytes: Uint8Array): Uint8Array {
  if (bytes.length < 16) return bytes;
  const out = Uint8Array.from(bytes);
  const view = new DataView(out.buffer);
  const header = out[0] === 12 ? 12 : 14;
  view.setUint32(4, out.length - header - 2, true);
  view.setUint16(out.length - 2, crc16(out.subarray(0, out.length - 2)), true);
  return out;
}
