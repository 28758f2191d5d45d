import { expect, it } from 'vitest';
import { classifyRefusal, type RelayRefusal } from '../../src/mail/refusal.js';

const reply = (responseCode: number, command: string, text = '', code = 'EENVELOPE') => ({
  code,
  responseCode,
  command,
  response: `${responseCode} ${text}`,
});

const CASES: [string, unknown, RelayRefusal][] = [
  ['a mailbox that is busy', reply(450, 'RCPT TO'), 'later'],
  ['a server that closes', reply(421, 'CONN', '', 'ECONNECTION'), 'later'],
  ['local trouble after the data', reply(451, 'DATA', '', 'EMESSAGE'), 'later'],
  ['too many recipients (RFC 5321 4.5.3.1.10)', reply(552, 'RCPT TO'), 'later'],
  ['a mailbox that is not there (RFC 3463 5.1.1)', reply(550, 'RCPT TO', '5.1.1 no such user'), 'final'],
  ['a disabled mailbox (RFC 3463 5.2.1)', reply(550, 'RCPT TO', '5.2.1 disabled'), 'final'],
  ['refused content', reply(554, 'DATA', '5.7.1 refused', 'EMESSAGE'), 'final'],
  ['a relay that does not relay for us', reply(550, 'RCPT TO', '5.7.1 Relaying denied'), 'relay'],
  ['a recipient whose name only sounds like it', reply(550, 'RCPT TO', '5.1.1 relayton unknown'), 'final'],
  ['a sender that is not allowed', reply(550, 'MAIL FROM', '5.7.1 sender refused'), 'relay'],
  ['a relay that serves nobody', reply(554, 'CONN', 'no service', 'EPROTOCOL'), 'relay'],
  ['a wrong password', reply(535, 'AUTH PLAIN', '', 'EAUTH'), 'relay'],
  ['a login that is wanted', reply(530, 'MAIL FROM'), 'relay'],
  ['a login that fails for now', reply(421, 'AUTH PLAIN', '', 'EAUTH'), 'later'],
  ['TLS that is refused', { code: 'ETLS', message: 'x' }, 'relay'],
  ['a certificate that nobody vouches for', { code: 'ESOCKET', message: 'self-signed certificate' }, 'relay'],
  ['a connection refused', { code: 'ESOCKET', message: 'connect ECONNREFUSED' }, 'later'],
  ['a silent server', { code: 'ETIMEDOUT', message: 'Timeout' }, 'later'],
  ['a name that is not found', { code: 'EDNS', message: 'queryA ENOTFOUND' }, 'later'],
  ['a connection that drops', { code: 'ECONNECTION', message: 'Connection closed unexpectedly' }, 'later'],
  ['a mail that cannot be made', { code: 'EENVELOPE', message: 'No recipients defined' }, 'final'],
  ['something unheard of', new Error('?'), 'later'],
  ['nothing at all', null, 'later'],
];

it.each(CASES)('%s', (_, error, refusal) => {
  expect(classifyRefusal(error)).toBe(refusal);
});
