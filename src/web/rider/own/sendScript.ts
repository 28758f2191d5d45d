import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';

/** What runs in the browser, where it stands beside the program, built as it is written. */
export const SEND_SCRIPT = readFileSync(new URL('../../browser/sendFiles.js', import.meta.url), 'utf8');

/** Its own fingerprint is in the address, so that a browser may keep it and still sees a new one. */
export const SEND_SCRIPT_PATH = `/script/${createHash('sha256').update(SEND_SCRIPT).digest('hex').slice(0, 12)}.js`;
