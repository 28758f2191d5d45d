import { isIP } from 'node:net';

/** An IPv4 address that an IPv6 socket tells begins with these. Source: RFC 4291 2.5.5.2. */
const MAPPED = [0, 0, 0, 0, 0, 0xffff];

/** Returns the eight numbers of an IPv6 address. Source: RFC 4291 2.2. */
function groupsOf(address: string): number[] {
  // The URL parser writes each address in one way only, without dots. Source: RFC 5952.
  const written = new URL(`http://[${address.replace(/%.*$/, '')}]`).hostname.slice(1, -1);
  const [head = [], tail = []] = written
    .split('::')
    .map((part) => (part === '' ? [] : part.split(':').map((group) => Number.parseInt(group, 16))));
  return [...head, ...new Array<number>(8 - head.length - tail.length).fill(0), ...tail];
}

/** Returns an address as it is compared, an IPv4 one always as such; null where the text is none. */
export function plainAddress(text: string): string | null {
  if (isIP(text) === 4) return text;
  if (isIP(text) !== 6) return null;
  const groups = groupsOf(text);
  if (!MAPPED.every((group, i) => groups[i] === group))
    return groups.map((one) => one.toString(16)).join(':');
  const [high = 0, low = 0] = groups.slice(6);
  return [high >> 8, high & 255, low >> 8, low & 255].join('.');
}

/** So many bits of an address name a provider's network, and no household. */
const WIDE_BITS = { ipv4: 24, ipv6: 48 } as const;

/** Returns the network that a place is in, as logs say it: so wide that it names no household. */
export function networkOf(place: string): string {
  const plain = place.replace('::/64', '');
  if (isIP(plain) === 4) return `${plain.split('.').slice(0, 3).join('.')}.0/${WIDE_BITS.ipv4}`;
  const groups = plain.split(':');
  return groups.length === 4 ? `${groups.slice(0, 3).join(':')}::/${WIDE_BITS.ipv6}` : plain;
}

/**
 * Returns what tries from an address are counted by: an IPv4 address, or the 64 bits that one household or machine has of
 * IPv6, within which it changes its address as it likes. Source: RFC 6177, RFC 8981.
 */
export const countedPlace = (plain: string): string =>
  plain.includes(':') ? `${plain.split(':').slice(0, 4).join(':')}::/64` : plain;
