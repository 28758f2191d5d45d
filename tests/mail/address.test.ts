import { expect, it } from 'vitest';
import { addressProblem } from '../../src/mail/address.js';

it.each(['a@example.org', 'a.b+c@sub.example.org', "o'x_1@example-2.org", 'a@exämple.org'])(
  'takes %s',
  (address) => {
    expect(addressProblem(address)).toBeNull();
  },
);

it.each([
  '',
  'a',
  '@example.org',
  'a@',
  'a@b',
  'a@@b.org',
  'a..b@example.org',
  '.a@example.org',
  'a.@example.org',
  '"a b"@example.org',
  'a b@example.org',
  'a@exa mple.org',
  'a@-example.org',
  'a@example-.org',
  'a@example..org',
  'a@[127.0.0.1]',
  'a,b@example.org',
  'a@example.org,b',
  '<a@example.org>',
  'a@example.org\n',
  'ä@example.org',
  'a;b@example.org',
  'a(b)@example.org',
])('refuses %j and says why', (address) => {
  const found = addressProblem(address);
  expect(found?.code).toBe('mail-address');
  expect(found?.message).toMatch(/@|line break|domain/);
});
