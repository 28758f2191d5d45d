/** Whose a mail with rides is, by its head alone. */
import { describe, expect, it, test } from 'vitest';
import {
  isAutomatic,
  type MailFields,
  provenSender,
  ridesAddress,
  ridesTokens,
} from '../../src/core/mailedIn.js';

const MAILBOX = 'Rides@bench.example';
const token = { riderId: 'abc123def456', mark: '0123456789abcdef01234567' };

const fields = (rest: Partial<MailFields> = {}): MailFields => ({
  messageId: 'a@b',
  from: ['ada@example.com'],
  to: [],
  authentication: null,
  autoSubmitted: null,
  precedence: null,
  returnPath: null,
  isOfList: false,
  isReport: false,
  ...rest,
});

test('a rider’s address is found again, however its letters were written on the way', () => {
  const address = ridesAddress(MAILBOX, token);
  expect(address).toBe('Rides+abc123def456-0123456789abcdef01234567@bench.example');
  // RFC 5321 4.5.3.1.1: at most 64 octets before the @.
  expect(address.indexOf('@')).toBeLessThanOrEqual(64);
  expect(ridesTokens(MAILBOX, [address.toUpperCase(), address, 'other@bench.example'])).toEqual([token]);
});

test.each([
  'rides@bench.example',
  'rides+@bench.example',
  'rides+abc123def456@bench.example',
  'rides+abc123def456-0123@bench.example',
  'rides+abc123def456-0123456789abcdef01234567@other.example',
  'x+abc123def456-0123456789abcdef01234567@bench.example',
  'rides+abc123def456-0123456789abcdef01234567@bench.example@bench.example',
  '',
])('%s claims nothing', (address) => expect(ridesTokens(MAILBOX, [address])).toEqual([]));

// RFC 3834 2: no answer to what is automatic, a list's, or a bounce.
describe('is never answered', () => {
  it.each<[string, Partial<MailFields>]>([
    ['auto-generated', { autoSubmitted: 'auto-generated' }],
    ['auto-replied, with a comment', { autoSubmitted: 'auto-replied (away)' }],
    ['of a list', { isOfList: true }],
    ['bulk', { precedence: ' Bulk ' }],
    ['a bounce', { returnPath: '<>' }],
    ['a report', { isReport: true }],
  ])('%s', (_, rest) => expect(isAutomatic(fields(rest))).toBe(true));

  it('a person’s mail is answered', () => {
    expect(isAutomatic(fields())).toBe(false);
    // RFC 3834 5: `no` is what a person wrote.
    expect(isAutomatic(fields({ autoSubmitted: 'no', returnPath: '<ada@example.com>' }))).toBe(false);
  });
});

// RFC 8601 2.2 (form), 2.7.6 and RFC 7489 11.1 (dmarc, header.from). The values are ours.
describe('who sent a mail counts where the server of that name says so', () => {
  const told = (authentication: string | null, rest: Partial<MailFields> = {}) =>
    provenSender(fields({ authentication, ...rest }), 'mx.bench.example');

  it.each([
    'mx.bench.example; dmarc=pass header.from=example.com',
    'MX.bench.example 1; spf=fail smtp.mailfrom=x.example;\tdmarc = pass (p=reject dis=none) header.from="example.com"',
    'mx.bench.example (a; comment \\) with (brackets)); dkim=none; dmarc=pass reason="a; b" header.from=EXAMPLE.com',
  ])('%s', (text) => expect(told(text)).toBe('ada@example.com'));

  it.each([
    'mx.other.example; dmarc=pass header.from=example.com',
    'mx.bench.example.evil.example; dmarc=pass header.from=example.com',
    'mx.bench.example; dmarc=fail header.from=example.com',
    'mx.bench.example; dmarc=passed header.from=example.com',
    'mx.bench.example; dmarc=pass header.from=evil.example',
    'mx.bench.example; dmarc=pass header.from=sub.example.com',
    'mx.bench.example; dmarc=pass',
    'mx.bench.example; (dmarc=pass header.from=example.com)',
    'mx.bench.example; dkim=fail reason="; dmarc=pass header.from=example.com"',
    'mx.bench.example; dmarc=fail header.from=example.com; dmarc=pass header.from=example.com',
    'mx.bench.example; none',
    '',
    null,
  ])('not: %s', (text) => expect(told(text)).toBeNull());

  it('of two senders neither counts', () => {
    const from = ['ada@example.com', 'bob@example.com'];
    expect(told('mx.bench.example; dmarc=pass header.from=example.com', { from })).toBeNull();
  });
});
