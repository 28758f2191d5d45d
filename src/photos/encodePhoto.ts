/** Decodes what was sent and encodes it anew; runs in a thread of its own. */
import sharp from 'sharp';
import type { PhotoFault } from '../core/tokens.js';
import type { MadePhoto } from '../ports/originals.js';
import { sniffPhoto } from './sniffPhoto.js';

/** More than the cameras of phones give unasked, and little enough for a small machine. */
export const MOST_PIXELS = 40_000_000;
const LONGEST_SIDE = 1600;
const SMALL_SIDE = 320;
const LONGEST_S = 15;
const WHITE = '#ffffff';

sharp.cache(false);
sharp.concurrency(1);
// What is not named here could not be read even if it came past the first look.
sharp.block({ operation: ['VipsForeignLoad'] });
sharp.unblock({
  operation: ['VipsForeignLoadJpegBuffer', 'VipsForeignLoadPngBuffer', 'VipsForeignLoadWebpBuffer'],
});

const READING = { limitInputPixels: MOST_PIXELS, failOn: 'error', sequentialRead: true } as const;

/**
 * Returns the picture upright, no longer than 1 600 pixels, in sRGB and without anything that was written beside it, and a
 * small one; else why there is none.
 */
export async function encodePhoto(bytes: Uint8Array): Promise<MadePhoto | PhotoFault> {
  const format = sniffPhoto(bytes);
  if (format === 'heic' || format === 'no-picture') return format;
  try {
    const { width, height, format: read } = await sharp(bytes, READING).metadata();
    if (read !== format) return 'no-picture';
    if (width * height > MOST_PIXELS) return 'too-many-pixels';
    const picture = await sharp(bytes, READING)
      .autoOrient()
      .resize(LONGEST_SIDE, LONGEST_SIDE, { fit: 'inside', withoutEnlargement: true })
      .flatten({ background: WHITE })
      .toColourspace('srgb')
      .jpeg({ quality: 82 })
      .timeout({ seconds: LONGEST_S })
      .toBuffer({ resolveWithObject: true });
    const small = await sharp(picture.data, READING)
      .resize(SMALL_SIDE, SMALL_SIDE, { fit: 'inside', withoutEnlargement: true })
      .jpeg({ quality: 75 })
      .toBuffer();
    const { width: made, height: high } = picture.info;
    return { width: made, height: high, picture: picture.data, small };
  } catch (error) {
    return faultOf(error);
  }
}

/** The library tells its reasons as texts alone. */
function faultOf(error: unknown): PhotoFault {
  const text = error instanceof Error ? error.message : String(error);
  if (/pixel limit/i.test(text)) return 'too-many-pixels';
  return /timeout/i.test(text) ? 'too-slow' : 'broken';
}
