/** The nibble table of the FIT protocol, widened to bytes. Source: FIT SDK, CRC calculator. */
const NIBBLES = [
  0x0000, 0xcc01, 0xd801, 0x1400, 0xf001, 0x3c00, 0x2800, 0xe401, 0xa001, 0x6c00, 0x7800, 0xb401, 0x5000,
  0x9c01, 0x8801, 0x4400,
];
const BYTES = Uint16Array.from({ length: 256 }, (_, byte) => {
  const low = NIBBLES[byte & 15]!;
  return (low >> 4) ^ NIBBLES[low & 15]! ^ NIBBLES[byte >> 4]!;
});
/** What a byte makes with so many bytes of zero behind it. */
const behind = (table: Uint16Array): Uint16Array => table.map((crc) => (crc >> 8) ^ BYTES[crc & 255]!);
const BYTES_1 = behind(BYTES);
const BYTES_2 = behind(BYTES_1);
const BYTES_3 = behind(BYTES_2);

/** Returns the checksum that a FIT file carries over its header and data; four bytes at a time, which do not wait for one another. */
export function crc16(bytes: Uint8Array): number {
  const fours = bytes.length & ~3;
  let crc = 0;
  let i = 0;
  for (; i < fours; i += 4)
    crc =
      BYTES_3[(crc ^ bytes[i]!) & 255]! ^
      BYTES_2[(crc >> 8) ^ bytes[i + 1]!]! ^
      BYTES_1[bytes[i + 2]!]! ^
      BYTES[bytes[i + 3]!]!;
  for (; i < bytes.length; i += 1) crc = (crc >> 8) ^ BYTES[(crc ^ bytes[i]!) & 255]!;
  return crc;
}
