import type { Chance } from '../../samples/seeded.js';

/** From 0 up to, not including, `most`. */
export const upTo = (chance: Chance, most: number): number => Math.floor(chance.next() * most);

export const oneIn = (chance: Chance, many: number): boolean => chance.next() * many < 1;

export const pick = <T>(chance: Chance, list: readonly T[]): T => list[upTo(chance, list.length)]!;

export const times = <T>(count: number, make: (i: number) => T): T[] =>
  Array.from({ length: count }, (_, i) => make(i));

/** Bytes that stand at the edge of something: of a type, of a header, of a checksum. */
const EDGES = [0x00, 0x01, 0x0c, 0x0e, 0x3c, 0x40, 0x60, 0x7f, 0x80, 0xc0, 0xfe, 0xff];

/** Returns the bytes with a few of them flipped, cut off, doubled, moved or put in anew. */
export function bent(chance: Chance, bytes: Uint8Array): Uint8Array {
  let out = Uint8Array.from(bytes);
  for (let left = 1 + upTo(chance, 4); left > 0 && out.length > 0; left -= 1) {
    const at = upTo(chance, out.length);
    const size = 1 + upTo(chance, Math.min(64, out.length - at));
    const piece = out.slice(at, at + size);
    switch (upTo(chance, 7)) {
      case 0:
        out[at] = out[at]! ^ (1 << upTo(chance, 8));
        break;
      case 1:
        out[at] = pick(chance, EDGES);
        break;
      case 2:
        out = out.slice(0, at);
        break;
      case 3:
        out = joined(out.subarray(0, at), piece, out.subarray(at));
        break;
      case 4:
        out = joined(out.subarray(0, at), out.subarray(at + size));
        break;
      case 5:
        out = joined(
          out.subarray(0, at),
          Uint8Array.from(piece, () => upTo(chance, 256)),
          out.subarray(at),
        );
        break;
      default:
        out.set(piece, upTo(chance, out.length - size + 1));
    }
  }
  return out;
}

export function joined(...pieces: readonly Uint8Array[]): Uint8Array<ArrayBuffer> {
  const out = new Uint8Array(pieces.reduce((sum, one) => sum + one.length, 0));
  let at = 0;
  for (const piece of pieces) {
    out.set(piece, at);
    at += piece.length;
  }
  return out;
}
