/** Where a field stands in the data messages of one definition. Units: bytes. */
export interface FieldLayout {
  readonly number: number;
  readonly size: number;
  /** The base type without its endian flag. */
  readonly baseType: number;
  readonly offset: number;
}

/** What a definition message says of the data messages that follow under its local number. */
export interface MessageLayout {
  readonly message: number;
  readonly littleEndian: boolean;
  readonly fields: readonly FieldLayout[];
  /** Of a data message without its one header byte, developer fields included. */
  readonly size: number;
  /** Where its time stands; -1 where it has none. */
  readonly timeAt: number;
}

export interface FrameVisitor {
  definition(layout: MessageLayout, from: number, to: number): void;
  /** `time` is the last one given, in FIT seconds; NaN where the message has none. `from` is its header byte. */
  data(layout: MessageLayout, from: number, to: number, time: number): void;
}

const TIMESTAMP_FIELD = 253;
const NO_TIME = 0xffffffff;

/**
 * Walks the messages of a FIT part, in order, and returns how it ended: after a whole message, inside one, or where
 * the bytes do not follow the protocol any further.
 * Source: FIT SDK, decoder (record header bits 0x80, 0x40, 0x20 and the local number).
 */
export function walkFrames(
  bytes: Uint8Array,
  start: number,
  visitor: FrameVisitor,
): 'whole' | 'inside' | 'lost' {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
  const layouts: (MessageLayout | undefined)[] = [];
  let lastTime = Number.NaN;
  let at = start;
  while (at < bytes.length) {
    const header = bytes[at]!;
    const compressed = (header & 0x80) !== 0;
    if (!compressed && (header & 0x40) !== 0) {
      const end = definitionEnd(bytes, at);
      if (end > bytes.length) return 'inside';
      if (bytes[at + 2]! > 1) return 'lost';
      const layout = readLayout(view, at);
      layouts[header & 15] = layout;
      visitor.definition(layout, at, end);
      at = end;
      continue;
    }
    const layout = layouts[compressed ? (header >> 5) & 3 : header & 15];
    const reserved = !compressed && (header & 0x30) !== 0;
    if (layout === undefined || reserved) return 'lost';
    if (at + 1 + layout.size > bytes.length) return 'inside';
    const time = compressed ? rolledOver(lastTime, header & 31) : ownTime(view, at + 1, layout);
    if (!Number.isNaN(time)) lastTime = time;
    visitor.data(layout, at, at + 1 + layout.size, time);
    at += 1 + layout.size;
  }
  return 'whole';
}

/** Returns the time that a compressed header's low five bits stand for; they roll over every 32 s. */
export function rolledOver(lastTime: number, offset: number): number {
  const since = (offset - lastTime) & 31;
  return lastTime + since;
}

function ownTime(view: DataView, at: number, layout: MessageLayout): number {
  if (layout.timeAt < 0) return Number.NaN;
  const time = view.getUint32(at + layout.timeAt, layout.littleEndian);
  return time === NO_TIME ? Number.NaN : time;
}

function definitionEnd(bytes: Uint8Array, at: number): number {
  const native = at + 6 + (bytes[at + 5] ?? 0) * 3;
  const developer = (bytes[at]! & 0x20) !== 0;
  return developer ? native + 1 + (bytes[native] ?? 0) * 3 : native;
}

function readLayout(view: DataView, at: number): MessageLayout {
  const littleEndian = view.getUint8(at + 2) === 0;
  const count = view.getUint8(at + 5);
  const fields: FieldLayout[] = [];
  let size = 0;
  for (let i = 0; i < count; i += 1) {
    const from = at + 6 + i * 3;
    const field = {
      number: view.getUint8(from),
      size: view.getUint8(from + 1),
      baseType: view.getUint8(from + 2) & 31,
      offset: size,
    };
    fields.push(field);
    size += field.size;
  }
  const time = fields.find(({ number }) => number === TIMESTAMP_FIELD);
  return {
    timeAt: time?.size === 4 ? time.offset : -1,
    message: view.getUint16(at + 3, littleEndian),
    littleEndian,
    fields,
    size: size + developerSize(view, at, count),
  };
}

function developerSize(view: DataView, at: number, count: number): number {
  if ((view.getUint8(at) & 0x20) === 0) return 0;
  const from = at + 6 + count * 3;
  let size = 0;
  for (let i = 0; i < view.getUint8(from); i += 1) size += view.getUint8(from + 1 + i * 3 + 1);
  return size;
}
