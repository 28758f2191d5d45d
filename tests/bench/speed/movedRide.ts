/** Real rides at other times and other places: what is measured with them is the work that real files make. */
import { crc16 } from '../../../src/files/fit/crc16.js';

/** By how much. Units: milliseconds, whole multiples of 32 s; degrees. */
export interface Move {
  readonly ms: number;
  readonly lat: number;
  readonly lon: number;
}

/** Source: FIT SDK, profile: timestamp of every message; file_id, session and lap; activity. */
const TIMES: Readonly<Record<number, readonly number[]>> = { 0: [4], 18: [2], 19: [2], 34: [5] };
/** Source: FIT SDK, profile: record position_lat and position_long; of session and lap where they began and ended. */
const PLACES: Readonly<Record<number, readonly [lat: readonly number[], lon: readonly number[]]>> = {
  20: [[0], [1]],
  18: [
    [3, 29, 31, 38],
    [4, 30, 32, 39],
  ],
  19: [
    [3, 5, 27, 29],
    [4, 6, 28, 30],
  ],
};
const TIMESTAMP = 253;
const [SINT32, UINT32] = [0x85, 0x86];

interface Definition {
  readonly global: number;
  readonly isLittle: boolean;
  readonly fields: readonly { readonly number: number; readonly size: number; readonly type: number }[];
  readonly extra: number;
}

/** Returns a FIT file of one part at another time and place. */
export function movedFit(bytes: Uint8Array, { ms, lat, lon }: Move): Uint8Array {
  const moved = Uint8Array.from(bytes);
  const view = new DataView(moved.buffer);
  const end = moved[0]! + view.getUint32(4, true);
  const definitions: Definition[] = [];
  const semicircles = (degrees: number): number => Math.round((degrees * 2 ** 31) / 180);
  let at = moved[0]!;
  while (at < end) {
    const header = moved[at++]!;
    if ((header & 0xc0) === 0x40) {
      const count = moved[at + 4]!;
      const isLittle = moved[at + 1] === 0;
      const fields = Array.from({ length: count }, (_, i) => {
        const [number, size, type] = moved.subarray(at + 5 + 3 * i, at + 8 + 3 * i);
        return { number: number!, size: size!, type: type! };
      });
      const global = view.getUint16(at + 2, isLittle);
      at += 5 + 3 * count;
      let extra = 0;
      if (header & 0x20) {
        const more = moved[at]!;
        for (let i = 0; i < more; i += 1) extra += moved[at + 2 + 3 * i]!;
        at += 1 + 3 * more;
      }
      definitions[header & 0x0f] = { global, isLittle, fields, extra };
      continue;
    }
    const { global, isLittle, fields, extra } =
      definitions[header & 0x80 ? (header >> 5) & 3 : header & 0x0f]!;
    for (const { number, size, type } of fields) {
      if (size === 4 && type === UINT32 && (number === TIMESTAMP || TIMES[global]?.includes(number))) {
        const said = view.getUint32(at, isLittle);
        if (said !== 0xffffffff) view.setUint32(at, said + ms / 1000, isLittle);
      } else if (size === 4 && type === SINT32) {
        const by = PLACES[global]?.[0].includes(number)
          ? lat
          : PLACES[global]?.[1].includes(number)
            ? lon
            : null;
        const said = view.getInt32(at, isLittle);
        if (by !== null && said !== 0x7fffffff) view.setInt32(at, said + semicircles(by), isLittle);
      }
      at += size;
    }
    at += extra;
  }
  view.setUint16(end, crc16(moved.subarray(0, end)), true);
  return moved;
}

/** Returns a GPX file at another time and place. */
export const movedGpx = (text: string, { ms, lat, lon }: Move): string =>
  text
    .replaceAll(/<time>([^<]+)<\/time>/g, (whole, said: string) => {
      const at = Date.parse(said);
      if (Number.isNaN(at)) return whole;
      return `<time>${new Date(at + ms).toISOString().replace('.000', '')}</time>`;
    })
    .replaceAll(
      /\b(lat|lon)="(-?[\d.]+)"/g,
      (_, which: 'lat' | 'lon', said: string) =>
        `${which}="${(Number(said) + (which === 'lat' ? lat : lon)).toFixed(said.split('.')[1]?.length ?? 0)}"`,
    );
