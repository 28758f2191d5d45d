/** Bytes of each number among the base types, by its number without the endian flag. */
const WIDTHS: Readonly<Record<number, number>> = {
  0: 1,
  1: 1,
  2: 1,
  3: 2,
  4: 2,
  5: 4,
  6: 4,
  8: 4,
  9: 8,
  10: 1,
  11: 2,
  12: 4,
};

/** Returns whether a field of this type and size holds a number. */
export function isNumber(baseType: number, size: number): boolean {
  const width = WIDTHS[baseType];
  return width !== undefined && size >= width;
}

const unless = (value: number, invalid: number): number => (value === invalid ? Number.NaN : value);

/**
 * Returns the first value of a field that holds a number, NaN where it is invalid.
 * Source: FIT SDK, fit.js (base types and their invalid values).
 */
export function numberAt(view: DataView, at: number, baseType: number, littleEndian: boolean): number {
  switch (baseType) {
    case 0:
    case 2:
      return unless(view.getUint8(at), 0xff);
    case 1:
      return unless(view.getInt8(at), 0x7f);
    case 3:
      return unless(view.getInt16(at, littleEndian), 0x7fff);
    case 4:
      return unless(view.getUint16(at, littleEndian), 0xffff);
    case 5:
      return unless(view.getInt32(at, littleEndian), 0x7fffffff);
    case 6:
      return unless(view.getUint32(at, littleEndian), 0xffffffff);
    // All bits set is a NaN in both float widths.
    case 8:
      return view.getFloat32(at, littleEndian);
    case 9:
      return view.getFloat64(at, littleEndian);
    case 10:
      return unless(view.getUint8(at), 0);
    case 11:
      return unless(view.getUint16(at, littleEndian), 0);
    case 12:
      return unless(view.getUint32(at, littleEndian), 0);
    default:
      return Number.NaN;
  }
}
