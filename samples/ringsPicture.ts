/** A picture as a bench takes it: two dark foam rings on white paper, made from a seed. Nobody photographed it. */
import { crc32, deflateSync } from 'node:zlib';
import { seeded } from './seeded.js';

const WIDTH = 720;
const HEIGHT = 480;
/** Shape: RGB. */
const PAPER = [240, 238, 232];
const RING = [58, 44, 30];
/** Pixels. */
const RINGS = [
  { x: 235, y: 245, outer: 140, inner: 104 },
  { x: 515, y: 230, outer: 138, inner: 102 },
] as const;

/** Returns a PNG file: the same bytes for the same seed. Source: PNG specification (W3C), clauses 5 and 11. */
export function ringsPicture(seed: string): Uint8Array {
  const chance = seeded(seed);
  const rows = Buffer.alloc(HEIGHT * (1 + 3 * WIDTH));
  for (let y = 0; y < HEIGHT; y += 1)
    for (let x = 0; x < WIDTH; x += 1) {
      const share = Math.max(...RINGS.map((ring) => coverOf(ring, x, y)));
      const grain = chance.between(-5, 5) + share * chance.between(-14, 14);
      // The lamp stands at the left.
      const light = 1 - (0.12 * x) / WIDTH;
      for (const [i, paper] of PAPER.entries()) {
        const value = light * (paper + share * (RING[i]! - paper)) + grain;
        rows[y * (1 + 3 * WIDTH) + 1 + 3 * x + i] = Math.max(0, Math.min(255, Math.round(value)));
      }
    }
  const header = Buffer.alloc(13);
  header.writeUInt32BE(WIDTH, 0);
  header.writeUInt32BE(HEIGHT, 4);
  // Eight bits a sample, colour type RGB; the other three are zero.
  header.set([8, 2], 8);
  const signature = Buffer.from('\x89PNG\r\n\x1a\n', 'latin1');
  return Buffer.concat([
    signature,
    chunk('IHDR', header),
    chunk('IDAT', deflateSync(rows)),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

/** How much of a pixel a ring covers, soft at its edges. */
function coverOf({ x, y, outer, inner }: (typeof RINGS)[number], px: number, py: number): number {
  const far = Math.hypot(px - x, py - y);
  const within = (edge: number): number => Math.max(0, Math.min(1, 0.5 + edge / 3));
  return Math.min(within(outer - far), within(far - inner));
}

function chunk(type: string, data: Buffer): Buffer {
  const body = Buffer.concat([Buffer.from(type, 'latin1'), data]);
  const length = Buffer.alloc(4);
  length.writeUInt32BE(data.length);
  const check = Buffer.alloc(4);
  check.writeUInt32BE(crc32(body));
  return Buffer.concat([length, body, check]);
}
