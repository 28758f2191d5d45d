/** A base type of the FIT protocol: its width, how to read it, and the value that means nothing. */
interface BaseType {
  readonly bytes: number;
  readonly read: (view: DataView, at: number, littleEndian: boolean) => number;
  readonly invalid: number;
}

const signed8: BaseType['read'] = (view, at) => view.getInt8(at);
const unsigned8: BaseType['read'] = (view, at) => view.getUint8(at);
const signed16: BaseType['read'] = (view, at, little) => view.getInt16(at, little);
const unsigned16: BaseType['read'] = (view, at, little) => view.getUint16(at, little);
const signed32: BaseType['read'] = (view, at, little) => view.getInt32(at, little);
const unsigned32: BaseType['read'] = (view, at, little) => view.getUint32(at, little);

/** By number without the endian flag. Source: FIT SDK, fit.js (base types and their invalid values). */
const BASE_TYPES: Readonly<Record<number, BaseType>> = {
  0: { bytes: 1, read: unsigned8, invalid: 0xff },
  1: { bytes: 1, read: signed8, invalid: 0x7f },
  2: { bytes: 1, read: unsigned8, invalid: 0xff },
  3: { bytes: 2, read: signed16, invalid: 0x7fff },
  4: { bytes: 2, read: unsigned16, invalid: 0xffff },
  5: { bytes: 4, read: signed32, invalid: 0x7fffffff },
  6: { bytes: 4, read: unsigned32, invalid: 0xffffffff },
  // All bits set is a NaN in both float widths.
  8: { bytes: 4, read: (view, at, little) => view.getFloat32(at, little), invalid: Number.NaN },
  9: { bytes: 8, read: (view, at, little) => view.getFloat64(at, little), invalid: Number.NaN },
  10: { bytes: 1, read: unsigned8, invalid: 0 },
  11: { bytes: 2, read: unsigned16, invalid: 0 },
  12: { bytes: 4, read: unsigned32, invalid: 0 },
};

/** Returns a reader of such a field's first value, NaN where it is invalid; undefined for what is no number. */
export function numberReader(
  baseType: number,
  size: number,
  littleEndian: boolean,
): ((view: DataView, at: number) => number) | undefined {
  const type = BASE_TYPES[baseType];
  if (type === undefined || size < type.bytes) return undefined;
  const { read, invalid } = type;
  return (view, at) => {
    const value = read(view, at, littleEndian);
    return value === invalid ? Number.NaN : value;
  };
}
