import { describe, expect, it } from 'vitest';
import { hmacSha256, sealWith } from '../../src/secret.js';

const hex = (text: string): Buffer => Buffer.from(text.replace(/\s/g, ''), 'hex');

/** Source: RFC 4231 sections 4.2 to 4.8. */
const VECTORS: readonly [string, Buffer, string | Buffer, string][] = [
  [
    'case 1',
    Buffer.alloc(20, 0x0b),
    'Hi There',
    'b0344c61d8db38535ca8afceaf0bf12b881dc200c9833da726e9376c2e32cff7',
  ],
  [
    'case 2',
    Buffer.from('Jefe'),
    'what do ya want for nothing?',
    '5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843',
  ],
  [
    'case 5, cut to 128 bits',
    Buffer.alloc(20, 0x0c),
    'Test With Truncation',
    'a3b6167473100ee06e0c796c2955552b',
  ],
  [
    'case 6',
    Buffer.alloc(131, 0xaa),
    'Test Using Larger Than Block-Size Key - Hash Key First',
    '60e431591ee0b67f0d8a26aacbf5b77f8e0bc6213728c5140546040f0ee37f54',
  ],
];

describe('RFC 4231', () => {
  it.each(VECTORS)('%s', (_, key, data, expected) => {
    expect(hmacSha256(key, data).subarray(0, expected.length / 2)).toEqual(hex(expected));
  });
});

describe('sealWith', () => {
  it('marks with the first 128 bits, as RFC 4231 case 5 does', () => {
    expect(sealWith(Buffer.alloc(20, 0x0c)).mark('Test With Truncation')).toBe(
      'a3b6167473100ee06e0c796c2955552b',
    );
  });

  it('fits only the same text, whole, under the same secret', () => {
    const seal = sealWith(Buffer.from('Jefe'));
    const mark = seal.mark('text');
    expect(seal.fits('text', mark)).toBe(true);
    for (const [text, given] of [
      ['text.', mark],
      ['text', mark.slice(1)],
      ['text', ''],
      ['text', mark.toUpperCase()],
    ] as const)
      expect(seal.fits(text, given)).toBe(false);
    expect(sealWith(Buffer.from('Jeff')).fits('text', mark)).toBe(false);
  });
});
