import { createHmac } from 'node:crypto';
import type { Mark } from '../../core/ground/samples/placeMarks.js';

/** Returns what marks places and numbers under a key, so that they can be compared and not read. Source: RFC 2104. */
export const marksUnder =
  (key: string): Mark =>
  (text) =>
    createHmac('sha256', key).update(text).digest('base64');
