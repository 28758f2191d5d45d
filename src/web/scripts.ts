import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';

const ROOM = new URL('./browser/', import.meta.url);

/** What runs in a browser, by its name, as it is written: a worker’s script may hold neither import nor export. */
export const SCRIPTS: ReadonlyMap<string, string> = new Map(
  readdirSync(ROOM)
    .filter((name) => name.endsWith('.js'))
    .sort()
    .map((name) => [name, readFileSync(new URL(name, ROOM), 'utf8')]),
);

/** The fingerprint of all is in each address: a browser may keep them, sees new ones, and they find one another. */
export const SCRIPTS_PRINT = createHash('sha256')
  .update(JSON.stringify([...SCRIPTS]))
  .digest('hex')
  .slice(0, 12);

/** Returns where a script is. */
export const scriptPath = (
  name: 'climbSums' | 'fillExample' | 'findKey' | 'own' | 'sendFiles' | 'sendOnPhoto' | 'sendPhotos',
): string => `/script/${SCRIPTS_PRINT}/${name}.js`;

/** What works for a rider's page with its tab closed; its address is its reach, so it has one of its own. */
export const OWN_WORKER = SCRIPTS.get('ownWorker.js') ?? '';
