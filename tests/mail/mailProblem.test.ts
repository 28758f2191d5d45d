import { describe, expect, it } from 'vitest';
import { mailOptions } from '../../src/mail/mailOptions.js';
import { mailProblem } from '../../src/mail/mailProblem.js';
import type { OutgoingMail } from '../../src/ports/mailer.js';
import { outgoing } from './mailSamples.js';

const BREAKS = [
  'x\r\nBcc: spy@example.org',
  'x\nBcc: spy@example.org',
  'x\r',
  'x\u0000y',
  'x\u2028y',
  'x\u202ey',
];

const PLACES: Readonly<Record<string, (text: string) => Partial<OutgoingMail>>> = {
  messageId: (text) => ({ messageId: `<${text}@bench.example.org>` }),
  subject: (text) => ({ subject: text }),
  'sender name': (text) => ({ from: { ...outgoing.from, name: text } }),
  'sender address': (text) => ({ from: { ...outgoing.from, address: `${text}@example.org` } }),
  'reply name': (text) => ({ replyTo: { name: text, address: 'a@example.org' } }),
  'reply address': (text) => ({ replyTo: { name: '', address: `a@example.org${text}` } }),
  'recipient name': (text) => ({ to: { ...outgoing.to, name: text } }),
  'recipient address': (text) => ({ to: { ...outgoing.to, address: `${text}@example.org` } }),
  'header name': (text) => ({ headers: { [text]: 'x' } }),
  'header value': (text) => ({ headers: { 'List-Unsubscribe': text } }),
  'attachment name': (text) => ({
    attachments: [{ filename: text, contentType: 'text/plain', content: '' }],
  }),
  'attachment type': (text) => ({ attachments: [{ filename: 'a', contentType: text, content: '' }] }),
};

describe('mailProblem', () => {
  it('finds nothing wrong with a sound mail, with or without a reply address', () => {
    expect(mailProblem(outgoing)).toBeNull();
    expect(mailProblem({ ...outgoing, replyTo: null })).toBeNull();
  });

  it.each(Object.keys(PLACES))(
    'refuses a line break or a hidden character in %s (ASVS 5.0 1.3.11)',
    (place) => {
      for (const text of BREAKS) {
        const mail = { ...outgoing, ...PLACES[place]!(text) };
        expect(mailProblem(mail)).toMatchObject({ message: expect.stringMatching(/[.:]/) });
        expect(() => mailOptions(mail)).toThrowError(
          expect.objectContaining({ code: 'mail-failed', permanent: true }),
        );
      }
    },
  );

  it('refuses a second sender, recipient, subject, date or content by way of the headers', () => {
    for (const name of ['From', 'bcc', 'To', 'SUBJECT', 'Date', 'Content-Type', 'Message-Id', 'Reply-To'])
      expect(mailProblem({ ...outgoing, headers: { [name]: 'x' } })).toMatchObject({ code: 'mail-header' });
  });

  it('refuses two recipients in one address, and a value that no line can hold', () => {
    for (const address of [
      'a@example.org, b@example.org',
      'a@example.org>',
      '<a@example.org>',
      'a b@example.org',
    ])
      expect(mailProblem({ ...outgoing, to: { name: '', address } })).toMatchObject({ code: 'mail-address' });
    const long = { 'List-Unsubscribe': `<https://bench.example.org/${'a'.repeat(900)}>` };
    expect(mailProblem({ ...outgoing, headers: long })).toMatchObject({ code: 'mail-header' });
  });
});
