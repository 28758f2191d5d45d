import type { Viewer } from '../viewer.js';

/** Returns what the rider hears of a booking: a mail, or a call that somebody has to make. */
export function riderHears(
  { texts: { leads: says } }: Viewer,
  rider: { readonly name: string; readonly isMailed: boolean } | null,
  mail: (rider: string) => string,
): string {
  if (rider === null) return says.tellsNobody;
  return rider.isMailed ? mail(rider.name) : says.tellsByPhone(rider.name);
}
