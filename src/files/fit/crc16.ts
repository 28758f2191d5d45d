/** The nibble table of the FIT protocol, widened to bytes. Source: FIT SDK, CRC calculator. */
const NIBBLES = [
  0x0000, 0xcc01, 0xd801, 0x1400, 0xf001, 0x3c00, 0x2800, 0xe401, 0xa001, 0x6c00, 0x7800, 0xb401, 0x5000,
  0x9c01, 0x8801, 0x4400,
];
const BYTES = Uint16Array.from({ length: 256 }, (_, byte) => {
  const low = NIBBLES[byte & 15]!;
  return (low >> 4) ^ NIBBLES[low & 15]! ^ NIBBLES[byte >> 4]!;
});

/** Returns the checksum that a FIT file carries over its header and data. */
export function crc16(bytes: Uint8Array): number {
  let crc = 0;
  for (let i = 0; i < bytes.length; i += 1) crc = (crc >> 8) ^ BYTES[(crc ^ bytes[i]!) & 255]!;
  return crc;
}
