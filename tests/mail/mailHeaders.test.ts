import { expect, it } from 'vitest';
import { mailHeaders } from '../../src/mail/mailHeaders.js';

const oneClickUrl = 'https://bench.example.org/stop/abc';
const address = 'counter@example.org';

it('marks every mail as automatic, in its language', () => {
  expect(mailHeaders('pt', null)).toEqual({ 'Auto-Submitted': 'auto-generated', 'Content-Language': 'pt' });
});

it('offers one click over HTTPS, with an address beside it', () => {
  expect(mailHeaders('en', { oneClickUrl, address })).toMatchObject({
    'List-Unsubscribe': '<https://bench.example.org/stop/abc>, <mailto:counter@example.org?subject=stop>',
    'List-Unsubscribe-Post': 'List-Unsubscribe=One-Click',
  });
});

it.each([
  ['without a page for it', { oneClickUrl: null, address }],
  ['over plain HTTP', { oneClickUrl: 'http://bench.example.org/stop', address }],
  ['with something that is no URL', { oneClickUrl: 'bench', address }],
])('offers only an address %s', (_, stop) => {
  const headers = mailHeaders('en', stop);
  expect(headers['List-Unsubscribe']).toBe('<mailto:counter@example.org?subject=stop>');
  expect(headers).not.toHaveProperty('List-Unsubscribe-Post');
});

it('keeps signs of an address from meaning something else in the link', () => {
  const headers = mailHeaders('en', { oneClickUrl: null, address: 'a?b%c@example.org' });
  expect(headers['List-Unsubscribe']).toBe('<mailto:a%3Fb%25c@example.org?subject=stop>');
});
