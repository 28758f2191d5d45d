/**
 * What is in a zip, read where it lies: its list first, then only what is wanted of it, so that memory stays flat.
 * Source: APPNOTE.TXT, the .ZIP file format specification, 4.3 and 4.5.3.
 *
 * @typedef {{ readonly name: string, readonly size: number, readonly packed: number, readonly method: number,
 *   readonly at: number, readonly locked: boolean }} Entry
 */

const [END, END_64, PLACE_64, LISTED] = [0x06054b50, 0x06064b50, 0x07064b50, 0x02014b50];
const END_SIZE = 22;
const LONGEST_COMMENT = 0xffff;
const LARGEST_LIST = 64_000_000;
const MOST_ENTRIES = 50_000;
/** What does not fit into the old fields stands in one of 64 bits. */
const [FULL_16, FULL_32] = [0xffff, 0xffffffff];

export class NoZip extends Error {}

/**
 * @param {Blob} file
 * @param {number} from
 * @param {number} to
 */
const viewOf = async (file, from, to) => new DataView(await file.slice(Math.max(0, from), to).arrayBuffer());

/**
 * Returns the list of what is in it. Errors: NoZip.
 *
 * @param {Blob} file
 * @returns {Promise<Entry[]>}
 */
export async function entriesOf(file) {
  try {
    const { from, size } = await listPlace(file);
    if (size > LARGEST_LIST) throw new NoZip();
    return listed(await viewOf(file, from, from + size));
  } catch (error) {
    // Whoever made it up may point anywhere.
    if (error instanceof RangeError) throw new NoZip();
    throw error;
  }
}

/**
 * @param {Blob} file
 * @returns {Promise<{ from: number, size: number }>}
 */
async function listPlace(file) {
  const first = Math.max(0, file.size - END_SIZE - LONGEST_COMMENT);
  const tail = await viewOf(file, first, file.size);
  let at = tail.byteLength - END_SIZE;
  while (at >= 0 && tail.getUint32(at, true) !== END) at -= 1;
  if (at < 0) throw new NoZip();
  const [count, size, from] = [
    tail.getUint16(at + 10, true),
    tail.getUint32(at + 12, true),
    tail.getUint32(at + 16, true),
  ];
  if (count !== FULL_16 && size !== FULL_32 && from !== FULL_32) return { from, size };
  const place = await viewOf(file, first + at - 20, first + at);
  if (place.byteLength < 20 || place.getUint32(0, true) !== PLACE_64) return { from, size };
  const end = Number(place.getBigUint64(8, true));
  const large = await viewOf(file, end, end + 56);
  if (large.getUint32(0, true) !== END_64) throw new NoZip();
  return { size: Number(large.getBigUint64(40, true)), from: Number(large.getBigUint64(48, true)) };
}

/**
 * @param {DataView} list
 * @returns {Entry[]}
 */
function listed(list) {
  /** @type {Entry[]} */
  const entries = [];
  for (let at = 0; at + 46 <= list.byteLength && list.getUint32(at, true) === LISTED; ) {
    const [flags, method] = [list.getUint16(at + 8, true), list.getUint16(at + 10, true)];
    const [nameSize, extraSize, commentSize] = [28, 30, 32].map((by) => list.getUint16(at + by, true));
    const nameAt = at + 46;
    const name = textOf(new Uint8Array(list.buffer, list.byteOffset + nameAt, nameSize));
    const [packed, size, from] = placesOf(list, at, nameAt + Number(nameSize), Number(extraSize));
    entries.push({ name, size, packed, method, at: from, locked: (flags & 1) === 1 });
    if (entries.length > MOST_ENTRIES) throw new NoZip();
    at = nameAt + Number(nameSize) + Number(extraSize) + Number(commentSize);
  }
  return entries;
}

/**
 * Packed size, size, and where it lies; what is full stands in the extra field, in the order size, packed, place.
 *
 * @param {DataView} list
 * @param {number} at
 * @param {number} extraAt
 * @param {number} extraSize
 * @returns {[packed: number, size: number, from: number]}
 */
function placesOf(list, at, extraAt, extraSize) {
  let [packed, size, from] = [20, 24, 42].map((by) => list.getUint32(at + by, true));
  for (let x = extraAt; x + 4 <= extraAt + extraSize; x += 4 + list.getUint16(x + 2, true)) {
    if (list.getUint16(x, true) !== 1) continue;
    let y = x + 4;
    const next = () => {
      y += 8;
      return Number(list.getBigUint64(y - 8, true));
    };
    if (size === FULL_32) size = next();
    if (packed === FULL_32) packed = next();
    if (from === FULL_32) from = next();
    break;
  }
  return [Number(packed), Number(size), Number(from)];
}

/** @param {Uint8Array} bytes */
function textOf(bytes) {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder('latin1').decode(bytes);
  }
}

/**
 * Returns the bytes of one entry. Errors: NoZip where they are not as the list says.
 *
 * @param {Blob} file
 * @param {Entry} entry
 * @returns {Promise<Uint8Array<ArrayBuffer>>}
 */
export async function bytesOf(file, { at, packed, size, method, locked }) {
  if (locked || (method !== 0 && method !== 8)) throw new NoZip();
  const head = await viewOf(file, at, at + 30);
  if (head.byteLength < 30) throw new NoZip();
  const from = at + 30 + head.getUint16(26, true) + head.getUint16(28, true);
  const part = file.slice(from, from + packed);
  if (method === 0) return new Uint8Array(await part.arrayBuffer());
  const reader = part.stream().pipeThrough(new DecompressionStream('deflate-raw')).getReader();
  const bytes = new Uint8Array(size);
  let filled = 0;
  for (let piece = await reader.read(); !piece.done; piece = await reader.read()) {
    if (filled + piece.value.length > size) {
      await reader.cancel();
      throw new NoZip();
    }
    bytes.set(piece.value, filled);
    filled += piece.value.length;
  }
  if (filled !== size) throw new NoZip();
  return bytes;
}
