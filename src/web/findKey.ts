import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';

/** What the key for the field that finds anything does, where it stands beside the program. */
export const FIND_KEY_SCRIPT = readFileSync(new URL('./browser/findKey.js', import.meta.url), 'utf8');

/** Its own fingerprint is in the address, so that a browser may keep it and still sees a new one. */
export const FIND_KEY_PATH = `/script/${createHash('sha256').update(FIND_KEY_SCRIPT).digest('hex').slice(0, 12)}.js`;
