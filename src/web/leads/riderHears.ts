import type { Viewer } from '../viewer.js';

/** What a button says of the mail that its press sends, and how it looks. */
interface Heard {
  readonly tells: string | null;
  readonly look: 'mails' | 'usual';
}

/** Returns what the rider hears of a booking: a mail, a call that somebody has to make, or nothing where there is none. */
export function riderHears(
  { texts: { leads: says } }: Viewer,
  rider: { readonly name: string; readonly isMailed: boolean } | null,
  mail: (rider: string) => string,
): Heard {
  if (rider === null) return { tells: null, look: 'usual' };
  if (!rider.isMailed) return { tells: says.tellsByPhone(rider.name), look: 'usual' };
  return { tells: mail(rider.name), look: 'mails' };
}
