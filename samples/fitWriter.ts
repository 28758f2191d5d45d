/** Writes FIT files: definitions, data, checksums. Source: the FIT protocol as its official kit implements it. */

const BASE_TYPES = {
  enum: { code: 0x00, size: 1, invalid: 0xff },
  uint8: { code: 0x02, size: 1, invalid: 0xff },
  uint16: { code: 0x84, size: 2, invalid: 0xffff },
  sint32: { code: 0x85, size: 4, invalid: 0x7fffffff },
  uint32: { code: 0x86, size: 4, invalid: 0xffffffff },
  uint16z: { code: 0x8b, size: 2, invalid: 0 },
  uint32z: { code: 0x8c, size: 4, invalid: 0 },
  float32: { code: 0x88, size: 4, invalid: Number.NaN },
} as const;
export type BaseType = keyof typeof BASE_TYPES;

/** A message as the profile numbers it: its number, and a number and base type for each field. */
export interface Layout {
  readonly global: number;
  readonly fields: readonly (readonly [field: number, type: BaseType])[];
}

const CRC_NIBBLES = [
  0x0000, 0xcc01, 0xd801, 0x1400, 0xf001, 0x3c00, 0x2800, 0xe401, 0xa001, 0x6c00, 0x7800, 0xb401, 0x5000,
  0x9c01, 0x8801, 0x4400,
];

/** Returns the FIT checksum of bytes. Source: FIT protocol, CRC by nibbles, the low one first. */
export const fitCrc = (bytes: Uint8Array): number => {
  let crc = 0;
  for (const byte of bytes) {
    crc = (crc >> 4) ^ CRC_NIBBLES[crc & 0xf]! ^ CRC_NIBBLES[byte & 0xf]!;
    crc = (crc >> 4) ^ CRC_NIBBLES[crc & 0xf]! ^ CRC_NIBBLES[byte >> 4]!;
  }
  return crc;
};

const EPOCH_MS = 631_065_600_000;
/** Returns whole seconds since 1989-12-31T00:00:00Z. */
export const fitTime = (ms: number): number => Math.round((ms - EPOCH_MS) / 1000);
/** Returns degrees as 2³¹ parts of a half circle. */
export const semicircles = (degrees: number): number => Math.round((degrees * 2 ** 31) / 180);

const HEADER_BYTES = 14;
const PROTOCOL_VERSION = 0x10;
const PROFILE_VERSION = 21_00;
const MESSAGE_KINDS = 16;

/** A FIT file in the making: messages in order, then the whole file. */
export class FitWriter {
  #bytes = new Uint8Array(65_536);
  #view = new DataView(this.#bytes.buffer);
  #length = HEADER_BYTES;
  readonly #localTypes = new Map<Layout, number>();

  /** Adds a message; raw values stand in the order of the layout, null for a missing one. */
  write(layout: Layout, values: readonly (number | null)[]): void {
    if (values.length !== layout.fields.length) {
      throw new RangeError(
        `message ${layout.global} has ${layout.fields.length} fields, not ${values.length}`,
      );
    }
    const local = this.#localTypes.get(layout) ?? this.#define(layout);
    this.#put('uint8', local);
    layout.fields.forEach(([, type], i) => {
      this.#put(type, values[i] ?? BASE_TYPES[type].invalid);
    });
  }

  /** Returns the file: header, data and both checksums. */
  finish(): Uint8Array {
    const end = this.#length;
    this.#length = 0;
    this.#put('uint8', HEADER_BYTES);
    this.#put('uint8', PROTOCOL_VERSION);
    this.#put('uint16', PROFILE_VERSION);
    this.#put('uint32', end - HEADER_BYTES);
    for (const letter of '.FIT') this.#put('uint8', letter.charCodeAt(0));
    this.#put('uint16', fitCrc(this.#bytes.subarray(0, HEADER_BYTES - 2)));
    this.#length = end;
    this.#put('uint16', fitCrc(this.#bytes.subarray(0, end)));
    return this.#bytes.slice(0, this.#length);
  }

  #define(layout: Layout): number {
    const local = this.#localTypes.size;
    if (local >= MESSAGE_KINDS) throw new RangeError('a FIT file holds 16 kinds of message at a time');
    this.#localTypes.set(layout, local);
    this.#put('uint8', 0x40 | local);
    this.#put('uint8', 0);
    this.#put('uint8', 0);
    this.#put('uint16', layout.global);
    this.#put('uint8', layout.fields.length);
    for (const [field, type] of layout.fields) {
      this.#put('uint8', field);
      this.#put('uint8', BASE_TYPES[type].size);
      this.#put('uint8', BASE_TYPES[type].code);
    }
    return local;
  }

  #put(type: BaseType, value: number): void {
    const { size } = BASE_TYPES[type];
    if (this.#length + size > this.#bytes.length) this.#grow();
    if (size === 1) this.#view.setUint8(this.#length, value);
    else if (type === 'float32') this.#putFloat(value);
    else if (size === 2) this.#view.setUint16(this.#length, value, true);
    else this.#view.setUint32(this.#length, value, true);
    this.#length += size;
  }

  /** A missing one has every bit set. */
  #putFloat(value: number): void {
    if (Number.isNaN(value)) this.#view.setUint32(this.#length, 0xffffffff, true);
    else this.#view.setFloat32(this.#length, value, true);
  }

  #grow(): void {
    const larger = new Uint8Array(this.#bytes.length * 2);
    larger.set(this.#bytes);
    this.#bytes = larger;
    this.#view = new DataView(larger.buffer);
  }
}
