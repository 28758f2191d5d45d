import { expect, it } from 'vitest';
import { countedPlace, networkOf, plainAddress } from '../../../src/web/door/address.js';

// RFC 5737 and RFC 3849: addresses for documentation. RFC 4291 2.2 and 2.5.5.2: how they are written.
it.each([
  ['192.0.2.7', '192.0.2.7', '192.0.2.7'],
  ['::ffff:192.0.2.7', '192.0.2.7', '192.0.2.7'],
  ['::FFFF:C000:0207', '192.0.2.7', '192.0.2.7'],
  ['2001:DB8::1', '2001:db8:0:0:0:0:0:1', '2001:db8:0:0::/64'],
  ['2001:db8:0:0:ffff:eeee:dddd:cccc', '2001:db8:0:0:ffff:eeee:dddd:cccc', '2001:db8:0:0::/64'],
  ['2001:db8:0:1::1', '2001:db8:0:1:0:0:0:1', '2001:db8:0:1::/64'],
  ['fe80::1%eth0', 'fe80:0:0:0:0:0:0:1', 'fe80:0:0:0::/64'],
  ['::1', '0:0:0:0:0:0:0:1', '0:0:0:0::/64'],
  ['::', '0:0:0:0:0:0:0:0', '0:0:0:0::/64'],
])('%s is compared as %s and counted as %s', (text, plain, place) => {
  expect(plainAddress(text)).toBe(plain);
  expect(countedPlace(plain)).toBe(place);
});

it.each(['', 'unknown', '192.0.2.7:80', '192.0.2', '[::1]', '2001:db8::1::2', '<b>', '192.0.2.07'])(
  '%j is no address',
  (text) => {
    expect(plainAddress(text)).toBeNull();
  },
);

it.each([
  ['192.0.2.7', '192.0.2.0/24'],
  ['2001:db8:7:1::/64', '2001:db8:7::/48'],
  ['unknown', 'unknown'],
])('of %s a log says %s', (place, network) => {
  expect(networkOf(place)).toBe(network);
});
