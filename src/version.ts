import { existsSync, readFileSync } from 'node:fs';

/** However deep a build lies: the nearest description of this package above this file. */
function ownVersion(): string {
  for (const up of ['../', '../../', '../../../', '../../../../']) {
    const file = new URL(`${up}package.json`, import.meta.url);
    if (!existsSync(file)) continue;
    const { name, version } = JSON.parse(readFileSync(file, 'utf8')) as Record<string, unknown>;
    if (name === 'stanchion') return String(version);
  }
  throw new Error('The program lies without its package.json, which says its version.');
}

/** Of this program, as its package says. */
export const VERSION: string = ownVersion();
