import type { RideKey } from '../../ports/rides.js';
import { instant } from '../../units.js';

/** Returns where a part of the tray begins, as it stands in an address. */
export const keyText = ({ start, id }: RideKey): string => `${start ?? ''}.${id}`;

/** Returns what `keyText` wrote; null for anything else. */
export function keyIn(text: string | undefined): RideKey | null {
  const [, start, id] = /^(-?\d{1,15})?\.(\w{1,40})$/.exec(text ?? '') ?? [];
  return id === undefined ? null : { start: start === undefined ? null : instant(Number(start)), id };
}
