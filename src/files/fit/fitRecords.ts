import type { NoteCounter } from '../../core/ground/samples/notes.js';
import type { Motor } from '../../core/ground/samples/recording.js';
import { msOf } from '../../units.js';
import type { SampleColumns } from '../sampleColumns.js';
import type { FieldLayout, MessageLayout } from './fitFrames.js';
import { isNumber, numberAt } from './fitNumber.js';

export const RECORD_MESSAGE = 20;
/** Source: FIT SDK, utils.js ("The millisecond offset between UNIX and FIT Epochs"). */
export const FIT_EPOCH_MS = 631_065_600_000;

const SEMICIRCLES_PER_DEGREE = 2 ** 31 / 180;
const PACKED_FIELD = 8;

const [LAT, LON, ALTITUDE, ENHANCED_ALTITUDE, DISTANCE, SPEED, ENHANCED_SPEED] = [0, 1, 2, 3, 4, 5, 6];
const [HEART, CADENCE, POWER, MOTOR_POWER, BATTERY, ASSIST_MODE, ASSIST_LEVEL] = [7, 8, 9, 10, 11, 12, 13];
const SLOTS = 14;

interface WantedField {
  readonly slot: number;
  readonly scale: number;
  readonly offset: number;
}

/** The fields of a record that are read. Source: FIT SDK, profile, message record(20): value = raw / scale - offset. */
const FIELDS: Readonly<Record<number, WantedField>> = {
  0: { slot: LAT, scale: SEMICIRCLES_PER_DEGREE, offset: 0 },
  1: { slot: LON, scale: SEMICIRCLES_PER_DEGREE, offset: 0 },
  2: { slot: ALTITUDE, scale: 5, offset: 500 },
  3: { slot: HEART, scale: 1, offset: 0 },
  4: { slot: CADENCE, scale: 1, offset: 0 },
  5: { slot: DISTANCE, scale: 100, offset: 0 },
  6: { slot: SPEED, scale: 1000, offset: 0 },
  7: { slot: POWER, scale: 1, offset: 0 },
  73: { slot: ENHANCED_SPEED, scale: 1000, offset: 0 },
  78: { slot: ENHANCED_ALTITUDE, scale: 5, offset: 500 },
  82: { slot: MOTOR_POWER, scale: 1, offset: 0 },
  118: { slot: BATTERY, scale: 1, offset: 0 },
  119: { slot: ASSIST_MODE, scale: 1, offset: 0 },
  120: { slot: ASSIST_LEVEL, scale: 1, offset: 0 },
};

/** How the records of one definition are read: its fields that are wanted, in the order of the file. */
interface RecordPlan {
  readonly layout: MessageLayout;
  readonly fields: readonly (WantedField & Pick<FieldLayout, 'baseType'> & { readonly at: number })[];
  /** Where packed fields stand; they only fill what the fields of their own leave open, so they come last. */
  readonly packedAt: readonly number[];
  readonly tellsMotor: boolean;
}

/**
 * Reads record messages into columns. Developer fields are never looked at, so one that bears a native field's name
 * cannot stand in for it; a native field is read by the type it was written in.
 */
export class FitRecordReader {
  readonly #columns: SampleColumns;
  readonly #notes: NoteCounter;
  readonly #view: DataView;
  readonly #plans = new Map<MessageLayout, RecordPlan>();
  #plan: RecordPlan | null = null;
  readonly #row = new Float64Array(SLOTS);
  readonly #packed = new PackedDistance();
  readonly #motor = {
    samples: 0,
    assisted: 0,
    batteryFrom: null as number | null,
    batteryTo: null as number | null,
  };

  constructor(bytes: Uint8Array, columns: SampleColumns, notes: NoteCounter) {
    this.#view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
    this.#columns = columns;
    this.#notes = notes;
  }

  read(layout: MessageLayout, at: number, time: number): void {
    const plan = this.#planOf(layout);
    const row = this.#row;
    row.fill(Number.NaN);
    for (let i = 0; i < plan.fields.length; i += 1) {
      const { slot, scale, offset, baseType, at: fieldAt } = plan.fields[i]!;
      row[slot] = numberAt(this.#view, at + fieldAt, baseType, layout.littleEndian) / scale - offset;
    }
    for (const packedAt of plan.packedAt)
      if (this.#packed.read(this.#view, at + packedAt, row)) this.#notes.add('speed-and-distance-packed');
    if (plan.tellsMotor) this.#readMotor(row);
    this.#columns.push(
      FIT_EPOCH_MS + msOf(time),
      row[LAT]!,
      row[LON]!,
      Number.isNaN(row[ENHANCED_ALTITUDE]!) ? row[ALTITUDE]! : row[ENHANCED_ALTITUDE]!,
      row[DISTANCE]!,
      Number.isNaN(row[ENHANCED_SPEED]!) ? row[SPEED]! : row[ENHANCED_SPEED]!,
    );
    this.#columns.pushEffort(row[HEART]!, row[CADENCE]!, row[POWER]!);
  }

  /** Returns what a motor told in all records; null where there is none. */
  motor(): Motor | null {
    return this.#motor.samples === 0 ? null : { ...this.#motor };
  }

  #readMotor(row: Float64Array): void {
    if (row.subarray(MOTOR_POWER).every(Number.isNaN)) return;
    const battery = row[BATTERY]!;
    this.#motor.samples += 1;
    if (row[MOTOR_POWER]! > 0 || row[ASSIST_MODE]! > 0 || row[ASSIST_LEVEL]! > 0) this.#motor.assisted += 1;
    if (Number.isNaN(battery)) return;
    this.#motor.batteryFrom ??= battery;
    this.#motor.batteryTo = battery;
  }

  #planOf(layout: MessageLayout): RecordPlan {
    if (this.#plan?.layout === layout) return this.#plan;
    this.#plan = this.#plans.get(layout) ?? planOf(layout);
    this.#plans.set(layout, this.#plan);
    return this.#plan;
  }
}

function planOf(layout: MessageLayout): RecordPlan {
  const isPacked = ({ number, size }: FieldLayout): boolean => number === PACKED_FIELD && size === 3;
  const fields = layout.fields.flatMap(({ number, size, baseType, offset: at }) => {
    const wanted = FIELDS[number];
    return wanted !== undefined && isNumber(baseType, size) ? [{ ...wanted, baseType, at }] : [];
  });
  return {
    layout,
    fields,
    packedAt: layout.fields.filter(isPacked).map(({ offset }) => offset),
    tellsMotor: fields.some(({ slot }) => slot >= MOTOR_POWER),
  };
}

/**
 * Speed and distance in three bytes: 12 bits of 1/100 m/s, then 12 bits of 1/16 m that roll over every 256 m.
 * Source: FIT SDK, profile, record.compressed_speed_distance.
 */
class PackedDistance {
  #last = 0;
  #total = 0;

  /** Fills what is missing in the row; returns whether it did. */
  read(view: DataView, at: number, row: Float64Array): boolean {
    const low = view.getUint16(at, true);
    const high = view.getUint8(at + 2);
    if (low === 0xffff && high === 0xff) return false;
    const distance = (low >> 12) | (high << 4);
    this.#total += (distance - this.#last) & 0xfff;
    this.#last = distance;
    const missing = Number.isNaN(row[SPEED]!) || Number.isNaN(row[DISTANCE]!);
    if (Number.isNaN(row[SPEED]!)) row[SPEED] = (low & 0xfff) / 100;
    if (Number.isNaN(row[DISTANCE]!)) row[DISTANCE] = this.#total / 16;
    return missing;
  }
}
