import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  expiryFrom,
  LINK_PURPOSES,
  type Link,
  madeAt,
  readToken,
  signedText,
  tokenOf,
} from '../../src/core/links.js';
import { DAY_MS, instant } from '../../src/units.js';
import { at } from './ledger/ledgerBuilders.js';

const MARK = '0123456789abcdef0123456789abcdef';
const holder = { workshopId: 'w1', addressId: 'a1', epoch: 0 };
const link: Link = {
  purpose: 'ask',
  riderId: 'r1abc',
  unitId: 'u1abc',
  serviceKind: 'lower-leg',
  expiresAt: expiryFrom(at('2025-06-10T08:00:00.500Z')),
};

const id = fc.stringMatching(/^[0-9a-z]{1,20}$/);
const kind = fc.constantFrom('lower-leg', 'full', 'wipers. and more', 'a.b', 'limpeza ção');
const anyLink = fc
  .record({
    purpose: fc.constantFrom(...LINK_PURPOSES),
    riderId: id,
    about: fc.option(fc.record({ unitId: id, serviceKind: kind }), {
      nil: { unitId: null, serviceKind: null },
    }),
    expiresAt: fc.integer({ min: 1_600_000_000, max: 3_000_000_000 }).map((s) => instant(s * 1000)),
  })
  .map(({ about, ...link }): Link => ({ ...link, ...about }));

it('lives for 60 days, and tells when it was made', () => {
  expect(link.expiresAt - at('2025-06-10T08:00:00Z')).toBe(60 * DAY_MS);
  expect(madeAt(link)).toBe(at('2025-06-10T08:00:00Z'));
});

it('is read back from its token as it was', () => {
  fc.assert(
    fc.property(anyLink, (one) => {
      expect(readToken(one.purpose, tokenOf(one, MARK))).toEqual({ link: one, mark: MARK });
    }),
  );
});

it('is signed with its purpose, whose it is, what it is about, its end, the address and the epoch', () => {
  fc.assert(
    fc.property(anyLink, anyLink, (a, b) => {
      const isSame = JSON.stringify(Object.values(a)) === JSON.stringify(Object.values(b));
      expect(signedText(a, holder) === signedText(b, holder)).toBe(isSame);
    }),
  );
  for (const other of [{ workshopId: 'w2' }, { addressId: 'a2' }, { epoch: 1 }])
    expect(signedText(link, { ...holder, ...other })).not.toBe(signedText(link, holder));
  for (const purpose of LINK_PURPOSES.filter((one) => one !== link.purpose))
    expect(signedText({ ...link, purpose }, holder)).not.toBe(signedText(link, holder));
});

it('is not read from what is no token', () => {
  const good = tokenOf(link, MARK);
  for (const bad of [
    '',
    'x',
    good.slice(1, 30),
    `${good}0`,
    good.replace('.', ''),
    good.toUpperCase(),
    `/${good}`,
    // The same number, written otherwise.
    `0${good}`,
  ])
    expect(readToken('ask', bad)).toBeNull();
});
