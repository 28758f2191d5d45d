import { expect, it } from 'vitest';
import { marksUnder } from '../../../src/files/threads/marks.js';

it('marks are an HMAC-SHA-256 of the text. Source: RFC 4231, test case 2', () => {
  const mark = marksUnder('Jefe')('what do ya want for nothing?');
  expect(Buffer.from(mark, 'base64').toString('hex')).toBe(
    '5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843',
  );
});
