import { createHash, createVerify, generateKeyPairSync } from 'node:crypto';
import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { simpleParser } from 'mailparser';
import { SMTPServer } from 'smtp-server';
import { describe, expect, it } from 'vitest';
import { LANGUAGES } from '../../src/languages/index.js';
import { calendarAttachment } from '../../src/mail/calendar.js';
import { renderDigest } from '../../src/mail/digest.js';
import { emlFolder } from '../../src/mail/emlFolder.js';
import type { Rendered } from '../../src/mail/letter.js';
import { renderBooking, renderConfirmAddress, renderLink, renderSilence } from '../../src/mail/letters.js';
import { mailHeaders } from '../../src/mail/mailHeaders.js';
import { renderReminder } from '../../src/mail/reminder.js';
import { smtpMailer } from '../../src/mail/smtp.js';
import type { OutgoingMail } from '../../src/ports/mailer.js';
import { day } from '../../src/units.js';
import { digest, outgoing, reminder, today, withoutLinks, workshop } from '../mail/mailSamples.js';

const stop = {
  oneClickUrl: 'https://bench.example.org/stop/abcdefghijklmnop',
  address: 'counter@example.org',
};
const link = 'https://bench.example.org/r/gggggggggggg';

const calendar = calendarAttachment({
  method: 'PUBLISH',
  uid: '7f0e2c1a-0000-4000-8000-0123456789ab',
  sequence: 0,
  stamp: outgoing.date,
  day: day('2025-06-10'),
  organizer: outgoing.from,
  summary: 'Açores, 日本: lower-leg service',
  description: 'x',
  location: null,
});

const mailOf = (language: string, { subject, text, html }: Rendered): OutgoingMail => ({
  ...outgoing,
  from: { ...outgoing.from, name: 'Oficina Inventada: “Ação”, Lda. <x>' },
  subject,
  text,
  html,
  headers: mailHeaders(language === 'pt' ? 'pt' : 'en', stop),
});

const allMails = (language: string): OutgoingMail[] => {
  const rider = { name: 'Ada Inventação', language };
  const frame = { workshop, rider, today };
  return [
    renderReminder({ ...reminder, rider }),
    renderReminder({ ...withoutLinks, rider }),
    renderDigest({ ...digest, workshop: { ...digest.workshop, language } }),
    renderConfirmAddress({ ...frame, link }),
    renderSilence({ ...frame, since: day('2025-05-03'), links: null }),
    renderLink({ ...frame, link, why: 'fresh', ridesAddress: null }),
    renderLink({ ...frame, link, why: 'first', ridesAddress: null }),
    renderBooking({
      ...frame,
      change: 'booked',
      bike: 'Moss Hopper',
      tag: 'F-0412',
      unitKind: 'fork',
      serviceKind: 'lower-leg',
      day: day('2025-06-10'),
      calendar: { uid: '7f0e2c1a-0000-4000-8000-0123456789ab', sequence: 0, stamp: outgoing.date },
      organizer: outgoing.from,
      also: [],
      offered: [],
      link: null,
    }),
  ].map((rendered, i) => ({
    ...mailOf(language, rendered),
    ...(i === 7 ? { attachments: [calendar] } : {}),
  }));
};

const written = async (mail: OutgoingMail): Promise<Buffer> => {
  const folder = await mkdtemp(join(tmpdir(), 'message-'));
  try {
    await emlFolder(folder).deliver(mail);
    const [name] = await readdir(folder);
    return await readFile(join(folder, name ?? ''));
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
};

const headOf = (raw: Buffer): string => raw.toString('latin1').split('\r\n\r\n', 1)[0] ?? '';
const fieldsOf = (raw: Buffer): [name: string, value: string][] =>
  headOf(raw)
    .replace(/\r\n[ \t]/g, ' ')
    .split('\r\n')
    .map((line) => [
      line.slice(0, line.indexOf(':')).toLowerCase(),
      line.slice(line.indexOf(':') + 1).trim(),
    ]);

describe.each(LANGUAGES)('every mail in %s', (language) => {
  it('keeps to the lines of RFC 5322 2.1.1 and to the seven bits of RFC 5321', async () => {
    for (const mail of allMails(language)) {
      const raw = await written(mail);
      expect(raw.every((octet) => octet < 0x80 && octet !== 0)).toBe(true);
      const text = raw.toString('latin1');
      expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
      const lengths = text.split('\r\n').map((line) => line.length);
      expect(Math.max(...lengths)).toBeLessThanOrEqual(78);
    }
  });

  it('has each field of RFC 5322 3.6 once, and is marked as automatic once (RFC 3834 5.2)', async () => {
    for (const mail of allMails(language)) {
      const fields = fieldsOf(await written(mail));
      for (const name of [
        'from',
        'to',
        'reply-to',
        'date',
        'message-id',
        'subject',
        'mime-version',
        'auto-submitted',
        'content-language',
        'list-unsubscribe',
      ])
        expect(fields.filter(([each]) => each === name)).toHaveLength(1);
      expect(Object.fromEntries(fields)).toMatchObject({
        'message-id': mail.messageId,
        date: 'Tue, 27 May 2025 08:00:00 +0000',
        'auto-submitted': 'auto-generated',
        'content-language': language,
      });
    }
  });

  it('is read back by an independent reader as it was meant', async () => {
    for (const mail of allMails(language)) {
      const read = await simpleParser(await written(mail));
      expect(read.from?.value).toEqual([mail.from]);
      expect(read.replyTo?.value).toEqual([mail.replyTo]);
      expect(read.to).toMatchObject({ value: [mail.to] });
      expect(read.subject).toBe(mail.subject);
      expect(read.messageId).toBe(mail.messageId);
      expect(read.text?.trimEnd()).toBe(mail.text.trimEnd());
      expect(String(read.html).trimEnd()).toBe(mail.html.trimEnd());
      expect(read.attachments.map((part) => [part.contentType, part.content.toString('utf8')])).toEqual(
        (mail.attachments ?? []).map((part) => ['text/calendar', part.content]),
      );
    }
  });
});

describe('RFC 6047 2.4', () => {
  it('names the method and the charset in the type of the calendar part', async () => {
    const mail = allMails('en').at(-1);
    if (mail === undefined) throw new Error('no booking mail');
    const raw = (await written(mail)).toString('latin1').replace(/\r\n[ \t]/g, ' ');
    expect(raw).toMatch(/Content-Type: text\/calendar; method=PUBLISH; charset=UTF-8/i);
  });
});

describe('RFC 2369 2', () => {
  it.each([16, 60, 200, 600])(
    'lists bracketed links without white space inside, with a token of %i',
    async (signs) => {
      const oneClickUrl = `https://bench.example.org/stop/${'k'.repeat(signs)}`;
      const raw = await written({ ...outgoing, headers: mailHeaders('en', { ...stop, oneClickUrl }) });
      const value = new Map(fieldsOf(raw)).get('list-unsubscribe') ?? '';
      expect(value).toBe(`<${oneClickUrl}>, <mailto:counter@example.org?subject=stop>`);
      const lengths = raw
        .toString('latin1')
        .split('\r\n')
        .map((line) => line.length);
      expect(Math.max(...lengths)).toBeLessThanOrEqual(998);
    },
  );
});

/** Checks a signature by RFC 6376, relaxed on both sides, without the library that made it. */
const isSignedBy = (raw: string, publicKey: string): { valid: boolean; fields: string[] } => {
  const [head, ...rest] = raw.split('\r\n\r\n');
  const body = rest.join('\r\n\r\n');
  const lines = (head ?? '').split(/\r\n(?![ \t])/);
  const relaxed = (line: string): string => {
    const [name = '', ...value] = line.split(':');
    return `${name.toLowerCase()}:${value
      .join(':')
      .replace(/\r\n/g, '')
      .replace(/[ \t]+/g, ' ')
      .trim()}`;
  };
  const signature = lines.find((line) => /^dkim-signature:/i.test(line)) ?? '';
  const tags = new Map(
    signature
      .slice(signature.indexOf(':') + 1)
      .split(';')
      .map((tag) => [
        tag.slice(0, tag.indexOf('=')).trim(),
        tag.slice(tag.indexOf('=') + 1).replace(/\s/g, ''),
      ]),
  );
  const plainBody = body
    .split('\r\n')
    .map((line) => line.replace(/[ \t]+/g, ' ').replace(/ $/, ''))
    .join('\r\n')
    .replace(/(\r\n)*$/, '\r\n');
  const bodyHash = createHash('sha256').update(plainBody, 'latin1').digest('base64');
  const fields = (tags.get('h') ?? '').split(':');
  const signed = fields.map((name) =>
    relaxed(lines.find((line) => line.toLowerCase().startsWith(`${name}:`)) ?? ''),
  );
  const unsigned = relaxed(signature.replace(/(;\s*b=)[^;]*$/, '$1'));
  const verify = createVerify('RSA-SHA256').update([...signed, unsigned].join('\r\n'), 'latin1');
  return {
    valid: tags.get('bh') === bodyHash && verify.verify(publicKey, tags.get('b') ?? '', 'base64'),
    fields,
  };
};

describe('RFC 8058 3.1 and 4', () => {
  it('signs the mail, both unsubscribe fields included', async () => {
    const { privateKey, publicKey } = generateKeyPairSync('rsa', {
      // Short, because the test waits for it.
      modulusLength: 1024,
      publicKeyEncoding: { type: 'spki', format: 'pem' },
      privateKeyEncoding: { type: 'pkcs8', format: 'pem' },
    });
    const taken: Buffer[] = [];
    const server = new SMTPServer({
      authOptional: true,
      disabledCommands: ['STARTTLS', 'AUTH'],
      disableReverseLookup: true,
      onData(stream, _link, done) {
        stream.on('data', (part: Buffer) => taken.push(part));
        stream.on('end', () => done());
      },
    });
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    try {
      const { port } = server.server.address() as AddressInfo;
      const dkim = { domainName: 'example.org', keySelector: 'bench', privateKey };
      const [mail] = allMails('pt');
      if (mail === undefined) throw new Error('no mail');
      await smtpMailer(`smtp://127.0.0.1:${port}`, { dkim }).deliver(mail);
    } finally {
      await new Promise<void>((resolve) => server.close(() => resolve()));
    }
    const raw = Buffer.concat(taken).toString('latin1');
    const { valid, fields } = isSignedBy(raw, publicKey);
    expect(valid).toBe(true);
    expect(fields).toEqual(expect.arrayContaining(['from', 'list-unsubscribe', 'list-unsubscribe-post']));
    expect(raw).toMatch(/^List-Unsubscribe-Post: List-Unsubscribe=One-Click\r$/m);
    expect(isSignedBy(raw.replace('One-Click', 'Two-Click'), publicKey).valid).toBe(false);
    expect(isSignedBy(`${raw}x\r\n`, publicKey).valid).toBe(false);
  });
});
