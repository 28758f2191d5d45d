/** Whatever is sent as a photograph is made anew, or refused with its reason; memory stays flat. */
import { deflateSync } from 'node:zlib';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { encodePhoto, MOST_PIXELS } from '../../src/photos/encodePhoto.js';
import { sniffPhoto } from '../../src/photos/sniffPhoto.js';
import type { MadePhoto } from '../../src/ports/originals.js';
import { phonePicture, ringsPicture } from '../fixtures/photos.js';

const made = async (bytes: Uint8Array): Promise<MadePhoto> => {
  const photo = await encodePhoto(bytes);
  if (typeof photo === 'string') throw new Error(photo);
  return photo;
};
const text = (bytes: Uint8Array): string => Buffer.from(bytes).toString('latin1');

const u32 = (value: number): Buffer => {
  const bytes = Buffer.alloc(4);
  bytes.writeUInt32BE(value);
  return bytes;
};

/** Source: PNG specification 5.3 and annex D, of which the sum is from memory. */
function chunk(type: string, body: Buffer): Buffer {
  const content = Buffer.concat([Buffer.from(type, 'latin1'), body]);
  let sum = ~0;
  for (const byte of content) {
    sum ^= byte;
    for (let bit = 0; bit < 8; bit++) sum = sum & 1 ? (sum >>> 1) ^ 0xedb88320 : sum >>> 1;
  }
  return Buffer.concat([u32(body.length), content, u32(~sum >>> 0)]);
}

const pngOf = (width: number, height: number, rows: Buffer): Buffer =>
  Buffer.concat([
    Buffer.from('\x89PNG\r\n\x1a\n', 'latin1'),
    chunk('IHDR', Buffer.concat([u32(width), u32(height), Buffer.from([8, 0, 0, 0, 0])])),
    chunk('IDAT', deflateSync(rows, { level: 9 })),
    chunk('IEND', Buffer.alloc(0)),
  ]);

/** A JPEG that says to be as large as one can be. */
async function hugeJpeg(): Promise<Buffer> {
  const bytes = Buffer.from(await ringsPicture({ width: 64, height: 64 }));
  const frame = bytes.indexOf(Buffer.from([0xff, 0xc0]));
  bytes.writeUInt16BE(65_500, frame + 5);
  bytes.writeUInt16BE(65_500, frame + 7);
  return bytes;
}

describe('a photograph', () => {
  it.each(['jpeg', 'png', 'webp'] as const)(
    'in %s becomes a JPEG of its own and a small one',
    async (format) => {
      const photo = await made(await ringsPicture({ format, width: 3000, height: 2000 }));
      expect([photo.width, photo.height]).toEqual([1600, 1067]);
      expect(await sharp(photo.picture).metadata()).toMatchObject({
        format: 'jpeg',
        width: 1600,
        space: 'srgb',
      });
      expect(await sharp(photo.small).metadata()).toMatchObject({ format: 'jpeg', width: 320 });
    },
  );

  it('stands upright and holds no place, maker, text or profile of what was sent', async () => {
    const sent = await phonePicture();
    expect(text(sent)).toContain('Invented phone');
    const { picture, small, width, height } = await made(sent);
    expect([width, height]).toEqual([600, 800]);
    for (const bytes of [picture, small]) {
      expect(text(bytes)).not.toMatch(/Exif|Invented|Lanternby|http|ICC_PROFILE|Photoshop/);
      const { exif, icc, xmp, iptc, orientation } = await sharp(bytes).metadata();
      expect([exif, icc, xmp, iptc, orientation]).toEqual(Array(5).fill(undefined));
    }
  });

  it('is never larger than it was', async () => {
    expect(await made(await ringsPicture({ width: 40, height: 30 }))).toMatchObject({
      width: 40,
      height: 30,
    });
  });

  it('of the same bytes is the same photograph', async () => {
    const bytes = await ringsPicture();
    expect((await made(bytes)).picture).toEqual((await made(bytes)).picture);
  });
});

describe('what is no photograph', () => {
  it.each([
    ['an empty file', Buffer.alloc(0)],
    [
      'a drawing that a browser runs',
      Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"/>'),
    ],
    ['a page', Buffer.from('<!doctype html><script>alert(1)</script>')],
    ['a document', Buffer.from('%PDF-1.7\n')],
    ['an archive', Buffer.from('PK\x03\x04')],
  ])('%s is refused before a decoder sees it', async (_, bytes) => {
    expect(await encodePhoto(bytes)).toBe('no-picture');
  });

  it.each(['gif', 'tiff'] as const)('a %s is refused, which the library could read', async (format) => {
    expect(await encodePhoto(await ringsPicture({ format }))).toBe('no-picture');
  });

  it('the format of a phone is named', () => {
    expect(sniffPhoto(Buffer.from('\0\0\0\x18ftypheic\0\0\0\0', 'latin1'))).toBe('heic');
  });

  it('what begins like a picture and is none is damaged', async () => {
    expect(await encodePhoto(Buffer.from('\xff\xd8\xff<svg onload="alert(1)"/>', 'latin1'))).toBe('broken');
    expect(await encodePhoto(Buffer.from('RIFF\0\0\0\0WEBP<script>', 'latin1'))).toBe('broken');
  });

  it('one that is cut off is damaged', async () => {
    const bytes = await ringsPicture();
    expect(await encodePhoto(bytes.subarray(0, bytes.length / 2))).toBe('broken');
  });

  it('a picture that is also a page or an archive leaves neither', async () => {
    const page = '<script>alert(1)</script>';
    const both = Buffer.concat([await ringsPicture(), Buffer.from(`PK\x03\x04${page}`)]);
    const comment = Buffer.from(page);
    const inside = Buffer.concat([
      both.subarray(0, 2),
      Buffer.from([0xff, 0xfe, 0, comment.length + 2]),
      comment,
      both.subarray(2),
    ]);
    expect(text(inside).split(page)).toHaveLength(3);
    const { picture } = await made(inside);
    for (const left of ['script', 'PK\x03\x04']) expect(text(picture)).not.toContain(left);
  });

  it('a bomb of dimensions costs no memory', async () => {
    const before = process.memoryUsage().rss;
    expect(await encodePhoto(pngOf(60_000, 60_000, Buffer.alloc(100)))).toBe('too-many-pixels');
    expect(await encodePhoto(await hugeJpeg())).toBe('too-many-pixels');
    expect(await encodePhoto(pngOf(6400, 6400, Buffer.alloc(6400 * 6401)))).toBe('too-many-pixels');
    expect(process.memoryUsage().rss - before).toBeLessThan(80_000_000);
  });

  it('the largest that is taken is read in bounded memory', async () => {
    const side = 6300;
    expect(side * side).toBeLessThan(MOST_PIXELS);
    const bytes = pngOf(side, side, Buffer.alloc(side * (side + 1)));
    const before = process.memoryUsage().rss;
    expect(await made(bytes)).toMatchObject({ width: 1600, height: 1600 });
    expect(process.memoryUsage().rss - before).toBeLessThan(120_000_000);
  });

  it('whatever byte is wrong, it ends in a photograph or a reason', async () => {
    const sent = await Promise.all(
      (['jpeg', 'png', 'webp'] as const).map((format) => ringsPicture({ format, width: 120, height: 90 })),
    );
    for (const bytes of sent)
      for (let at = 3; at < bytes.length; at += Math.ceil(bytes.length / 40)) {
        const bent = Buffer.from(bytes);
        bent[at] = bent[at]! ^ 0xff;
        const photo = await encodePhoto(bent);
        if (typeof photo === 'string') expect(['broken', 'no-picture', 'too-many-pixels']).toContain(photo);
        else expect(text(photo.picture).slice(0, 3)).toBe('\xff\xd8\xff');
      }
  });
});
