import type { NoteCounter } from '../../core/ground/samples/notes.js';
import type { Motor } from '../../core/ground/samples/recording.js';
import { msOf } from '../../units.js';
import type { SampleColumns } from '../sampleColumns.js';
import type { FieldLayout, MessageLayout } from './fitFrames.js';
import { numberReader } from './fitNumber.js';

export const RECORD_MESSAGE = 20;
/** Source: FIT SDK, utils.js ("The millisecond offset between UNIX and FIT Epochs"). */
export const FIT_EPOCH_MS = 631_065_600_000;

const SEMICIRCLES_PER_DEGREE = 2 ** 31 / 180;
const PACKED_FIELD = 8;

type Slot =
  | 'lat'
  | 'lon'
  | 'altitude'
  | 'enhancedAltitude'
  | 'distance'
  | 'speed'
  | 'enhancedSpeed'
  | 'heart'
  | 'cadence'
  | 'power'
  | 'motorPower'
  | 'battery'
  | 'assistMode'
  | 'assistLevel';

/** The fields of a record that are read. Source: FIT SDK, profile, message record(20): value = raw / scale - offset. */
const FIELDS: Readonly<Record<number, { slot: Slot; scale: number; offset: number }>> = {
  0: { slot: 'lat', scale: SEMICIRCLES_PER_DEGREE, offset: 0 },
  1: { slot: 'lon', scale: SEMICIRCLES_PER_DEGREE, offset: 0 },
  2: { slot: 'altitude', scale: 5, offset: 500 },
  3: { slot: 'heart', scale: 1, offset: 0 },
  4: { slot: 'cadence', scale: 1, offset: 0 },
  5: { slot: 'distance', scale: 100, offset: 0 },
  6: { slot: 'speed', scale: 1000, offset: 0 },
  7: { slot: 'power', scale: 1, offset: 0 },
  73: { slot: 'enhancedSpeed', scale: 1000, offset: 0 },
  78: { slot: 'enhancedAltitude', scale: 5, offset: 500 },
  82: { slot: 'motorPower', scale: 1, offset: 0 },
  118: { slot: 'battery', scale: 1, offset: 0 },
  119: { slot: 'assistMode', scale: 1, offset: 0 },
  120: { slot: 'assistLevel', scale: 1, offset: 0 },
};

type Slots = Record<Slot, number>;
type RowReader = (view: DataView, at: number, row: Slots) => void;

/**
 * Reads record messages into columns. Developer fields are never looked at, so one that bears a native field's name
 * cannot stand in for it; a native field is read by the type it was written in.
 */
export class FitRecordReader {
  readonly #columns: SampleColumns;
  readonly #notes: NoteCounter;
  readonly #view: DataView;
  readonly #readers = new Map<MessageLayout, RowReader[]>();
  readonly #row: Slots = emptyRow();
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
    const row = Object.assign(this.#row, EMPTY_ROW);
    for (const read of this.#readersFor(layout)) read(this.#view, at, row);
    this.#readMotor(row);
    this.#columns.push(
      FIT_EPOCH_MS + msOf(time),
      row.lat,
      row.lon,
      Number.isNaN(row.enhancedAltitude) ? row.altitude : row.enhancedAltitude,
      row.distance,
      Number.isNaN(row.enhancedSpeed) ? row.speed : row.enhancedSpeed,
    );
    this.#columns.pushEffort(row.heart, row.cadence, row.power);
  }

  /** Returns what a motor told in all records; null where there is none. */
  motor(): Motor | null {
    return this.#motor.samples === 0 ? null : { ...this.#motor };
  }

  #readMotor({ motorPower, battery, assistMode, assistLevel }: Slots): void {
    const told = [motorPower, battery, assistMode, assistLevel].some((value) => !Number.isNaN(value));
    if (!told) return;
    this.#motor.samples += 1;
    if (motorPower > 0 || assistMode > 0 || assistLevel > 0) this.#motor.assisted += 1;
    if (Number.isNaN(battery)) return;
    this.#motor.batteryFrom ??= battery;
    this.#motor.batteryTo = battery;
  }

  #readersFor(layout: MessageLayout): RowReader[] {
    const known = this.#readers.get(layout);
    if (known !== undefined) return known;
    // The packed field only fills what the fields of their own leave open, so it comes last.
    const fields = [...layout.fields].sort(
      (a, b) => +(a.number === PACKED_FIELD) - +(b.number === PACKED_FIELD),
    );
    const readers = fields.flatMap((field) => this.#readerOf(field, layout) ?? []);
    this.#readers.set(layout, readers);
    return readers;
  }

  #readerOf(field: FieldLayout, layout: MessageLayout): RowReader | undefined {
    if (field.number === PACKED_FIELD && field.size === 3) return this.#packedReader(field.offset);
    const wanted = FIELDS[field.number];
    const read = numberReader(field.baseType, field.size, layout.littleEndian);
    if (wanted === undefined || read === undefined) return undefined;
    const { slot, scale, offset } = wanted;
    return (view, at, row) => {
      row[slot] = read(view, at + field.offset) / scale - offset;
    };
  }

  #packedReader(offset: number): RowReader {
    return (view, at, row) => {
      if (this.#packed.read(view, at + offset, row)) this.#notes.add('speed-and-distance-packed');
    };
  }
}

/**
 * Speed and distance in three bytes: 12 bits of 1/100 m/s, then 12 bits of 1/16 m that roll over every 256 m.
 * Source: FIT SDK, profile, record.compressed_speed_distance.
 */
class PackedDistance {
  #last = 0;
  #total = 0;

  /** Fills what is missing in the row; returns whether it did. */
  read(view: DataView, at: number, row: Slots): boolean {
    const low = view.getUint16(at, true);
    const high = view.getUint8(at + 2);
    if (low === 0xffff && high === 0xff) return false;
    const distance = (low >> 12) | (high << 4);
    this.#total += (distance - this.#last) & 0xfff;
    this.#last = distance;
    const missing = Number.isNaN(row.speed) || Number.isNaN(row.distance);
    if (Number.isNaN(row.speed)) row.speed = (low & 0xfff) / 100;
    if (Number.isNaN(row.distance)) row.distance = this.#total / 16;
    return missing;
  }
}

function emptyRow(): Slots {
  const nothing = Number.NaN;
  return {
    lat: nothing,
    lon: nothing,
    altitude: nothing,
    enhancedAltitude: nothing,
    distance: nothing,
    speed: nothing,
    enhancedSpeed: nothing,
    heart: nothing,
    cadence: nothing,
    power: nothing,
    motorPower: nothing,
    battery: nothing,
    assistMode: nothing,
    assistLevel: nothing,
  };
}
const EMPTY_ROW: Readonly<Slots> = emptyRow();
