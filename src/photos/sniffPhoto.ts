import type { PhotoFault } from '../core/tokens.js';

export type PhotoFormat = 'jpeg' | 'png' | 'webp';

/** Of the box that begins a file of the phones’ own format. Source: ISO/IEC 23008-12, from memory. */
const HEIC_BRANDS = ['heic', 'heix', 'heim', 'heis', 'hevc', 'mif1', 'msf1', 'avif'];

/**
 * Returns what a file is by its first bytes; no other format ever reaches a decoder.
 * Source: ISO/IEC 10918-1 B.1.1; PNG specification 5.2; RFC 9649 2.
 */
export function sniffPhoto(bytes: Uint8Array): PhotoFormat | Extract<PhotoFault, 'no-picture' | 'heic'> {
  const text = (from: number, to: number): string => Buffer.from(bytes.subarray(from, to)).toString('latin1');
  if (text(0, 3) === '\xff\xd8\xff') return 'jpeg';
  if (text(0, 8) === '\x89PNG\r\n\x1a\n') return 'png';
  if (text(0, 4) === 'RIFF' && text(8, 12) === 'WEBP') return 'webp';
  return text(4, 8) === 'ftyp' && HEIC_BRANDS.includes(text(8, 12)) ? 'heic' : 'no-picture';
}
