import type { AddressInfo } from 'node:net';
import { createServer, type Server } from 'node:net';
import { simpleParser } from 'mailparser';
import { SMTPServer, type SMTPServerOptions } from 'smtp-server';
import { afterEach, describe, expect, it, onTestFinished } from 'vitest';
import { smtpMailer } from '../../src/mail/smtp.js';
import { outgoing } from './mailSamples.js';

const closers: (() => Promise<void>)[] = [];
afterEach(async () => {
  for (const close of closers.splice(0)) await close();
});

interface Relay {
  readonly url: string;
  readonly taken: string[];
}

const refusal = (responseCode: number, text: string): Error =>
  Object.assign(new Error(text), { responseCode });

/** A relay on this machine that takes mails, or answers as told. */
const relay = async (options: SMTPServerOptions = {}): Promise<Relay> => {
  const taken: string[] = [];
  const server = new SMTPServer({
    authOptional: true,
    disabledCommands: ['STARTTLS', 'AUTH'],
    disableReverseLookup: true,
    logger: false,
    onData(stream, _link, done) {
      let text = '';
      stream.on('data', (part: Buffer) => {
        text += part.toString('utf8');
      });
      stream.on('end', () => {
        taken.push(text);
        done();
      });
    },
    ...options,
  });
  // A client that breaks off is part of these tests.
  server.on('error', () => undefined);
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  closers.push(() => new Promise((resolve) => server.close(() => resolve())));
  return { url: `smtp://127.0.0.1:${(server.server.address() as AddressInfo).port}`, taken };
};

/** A listener that speaks by hand, for what a sound server never does. */
const listener = async (
  onLine: (line: string, socket: import('node:net').Socket) => void,
  greeting: string | null,
) => {
  const sockets = new Set<import('node:net').Socket>();
  const server: Server = createServer((socket) => {
    sockets.add(socket);
    socket.on('error', () => undefined);
    if (greeting !== null) socket.write(`${greeting}\r\n`);
    socket.on('data', (bytes) => {
      for (const line of bytes
        .toString()
        .split('\r\n')
        .filter((each) => each !== ''))
        onLine(line, socket);
    });
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  closers.push(
    () =>
      new Promise((resolve) => {
        for (const socket of sockets) socket.destroy();
        server.close(() => resolve());
      }),
  );
  return `smtp://127.0.0.1:${(server.address() as AddressInfo).port}`;
};

const failed = (permanent: boolean, hint: RegExp) => ({
  code: 'mail-failed',
  permanent,
  hint: expect.stringMatching(hint),
});

describe('smtpMailer', () => {
  it('hands over the mail as it is', async () => {
    const { url, taken } = await relay();
    await smtpMailer(url).deliver(outgoing);
    expect(taken).toHaveLength(1);
    const mail = await simpleParser(taken[0] ?? '');
    expect(mail.messageId).toBe(outgoing.messageId);
    expect(mail.date?.getTime()).toBe(outgoing.date);
    expect(mail.headers.has('x-mailer')).toBe(false);
  });

  it('gives up for now on a relay that goes on answering and never ends, and leaves it', async () => {
    const gone: Promise<unknown>[] = [];
    const server = createServer((socket) => {
      gone.push(new Promise((resolve) => socket.once('close', resolve)));
      socket.on('error', () => undefined);
      socket.write('220 relay.example.org\r\n');
      socket.once('data', () => {
        const more = setInterval(() => socket.write('250-X\r\n'), 20);
        socket.once('close', () => clearInterval(more));
      });
    });
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    onTestFinished(() => void server.close());
    const url = `smtp://127.0.0.1:${(server.address() as AddressInfo).port}`;
    await expect(smtpMailer(url, { wholeMs: 400 }).deliver(outgoing)).rejects.toMatchObject({
      ...failed(false, /tried again/),
      message: expect.stringContaining('took too long over one mail'),
    });
    await Promise.all(gone);
    const stop = new AbortController();
    const asked = smtpMailer(url).deliver(outgoing, stop.signal);
    setTimeout(() => stop.abort(), 100);
    await expect(asked).rejects.toMatchObject(failed(false, /tried again/));
    await Promise.all(gone);
  });

  it.each([421, 450, 451, 452, 552])('tries again after %i at the recipient', async (code) => {
    const { url } = await relay({ onRcptTo: (_address, _link, done) => done(refusal(code, 'not now')) });
    await expect(smtpMailer(url).deliver(outgoing)).rejects.toMatchObject(failed(false, /tried again/));
  });

  it.each([550, 551, 553])('gives up after %i at the recipient', async (code) => {
    const { url } = await relay({
      onRcptTo: (_address, _link, done) => done(refusal(code, 'no such user')),
    });
    await expect(smtpMailer(url).deliver(outgoing)).rejects.toMatchObject(failed(true, /[Cc]all/));
  });

  it('tries again after 451 and gives up after 554 at the end of the data', async () => {
    for (const [code, permanent] of [
      [451, false],
      [554, true],
    ] as const) {
      const { url } = await relay({
        onData(stream, _link, done) {
          stream.resume();
          stream.on('end', () => done(refusal(code, 'after the data')));
        },
      });
      await expect(smtpMailer(url).deliver(outgoing)).rejects.toMatchObject({
        code: 'mail-failed',
        permanent,
      });
    }
  });

  it('lays a refused sender, a wrong password and a missing relay on the settings, not on the rider', async () => {
    const sender = await relay({ onMailFrom: (_address, _link, done) => done(refusal(550, 'not you')) });
    await expect(smtpMailer(sender.url).deliver(outgoing)).rejects.toMatchObject(
      failed(false, /STANCHION_SMTP_URL/),
    );
    const login = await relay({
      disabledCommands: ['STARTTLS'],
      allowInsecureAuth: true,
      authOptional: false,
      onAuth: (_auth, _link, done) => done(refusal(535, 'wrong')),
    });
    const error: unknown = await smtpMailer(login.url.replace('//', '//me:s3cret@'))
      .deliver(outgoing)
      .catch((cause: unknown) => cause);
    expect(error).toMatchObject(failed(false, /login/));
    expect(String(error)).not.toContain('s3cret');
  });

  it('tries again where nobody listens', async () => {
    const url = await listener(() => undefined, null);
    await closers.pop()?.();
    await expect(smtpMailer(url).deliver(outgoing)).rejects.toMatchObject(failed(false, /tried again/));
  });

  it('does not wait for a server that says nothing', async () => {
    const url = await listener(() => undefined, null);
    await expect(smtpMailer(url, { timeoutMs: 100 }).deliver(outgoing)).rejects.toMatchObject(
      failed(false, /tried again/),
    );
  });

  it('tries again under the same id after a connection that dropped before the last answer', async () => {
    let hasData = false;
    let messageId = '';
    const url = await listener((line, socket) => {
      if (!hasData && line === 'DATA') {
        hasData = true;
        socket.write('354 go on\r\n');
      } else if (!hasData) socket.write('250 fine\r\n');
      else if (line.startsWith('Message-ID:')) messageId = line.slice(12);
      else if (line === '.') socket.destroy();
    }, '220 here');
    await expect(smtpMailer(url, { timeoutMs: 2000 }).deliver(outgoing)).rejects.toMatchObject(
      failed(false, /tried again/),
    );
    expect(messageId).toBe(outgoing.messageId);
    const { url: sound, taken } = await relay();
    await smtpMailer(sound).deliver(outgoing);
    expect(taken[0]).toContain(`Message-ID: ${outgoing.messageId}\r\n`);
  });

  it('refuses TLS that nobody vouches for, and a relay without TLS where the URL insists on it', async () => {
    const unvouched = await relay({ disabledCommands: ['AUTH'] });
    await expect(smtpMailer(unvouched.url).deliver(outgoing)).rejects.toMatchObject(
      failed(false, /certificate/),
    );
    expect(unvouched.taken).toEqual([]);
    const plain = await relay();
    await expect(smtpMailer(`${plain.url}/?requireTLS=true`).deliver(outgoing)).rejects.toMatchObject(
      failed(false, /certificate/),
    );
    await expect(
      smtpMailer(plain.url.replace('smtp:', 'smtps:'), { timeoutMs: 1000 }).deliver(outgoing),
    ).rejects.toMatchObject({
      code: 'mail-failed',
      permanent: false,
      message: expect.stringMatching(/does not speak TLS at once on this port\. Use smtp:/),
    });
    expect(plain.taken).toEqual([]);
  });

  it('sends no password in the clear to another machine', async () => {
    const heard: string[] = [];
    const url = await listener((line, socket) => {
      heard.push(line);
      socket.write(line.startsWith('EHLO') ? '250-here\r\n250 AUTH PLAIN LOGIN\r\n' : '500 no\r\n');
    }, '220 here');
    // This machine too, by an address that does not say so.
    const elsewhere = url.replace('//127.0.0.1', '//me:s3cret@0.0.0.0');
    await expect(smtpMailer(elsewhere).deliver(outgoing)).rejects.toMatchObject(failed(false, /certificate/));
    expect(heard.filter((line) => line.startsWith('AUTH'))).toEqual([]);
    expect(heard).toContain('STARTTLS');
  });

  it('takes TLS where it is offered and vouched for', async () => {
    const { url, taken } = await relay({ disabledCommands: ['AUTH'] });
    await smtpMailer(`${url}/?tls.rejectUnauthorized=false`).deliver(outgoing);
    expect(taken).toHaveLength(1);
  });

  it('refuses an address that is no mail server, and a key that would leave mails unsigned', () => {
    for (const url of ['', 'mail.example.org', 'https://mail.example.org', 'smtp://'])
      expect(() => smtpMailer(url)).toThrowError(expect.objectContaining({ code: 'wrong-use' }));
    const dkim = { domainName: 'example.org', keySelector: 's', privateKey: 'nonsense' };
    expect(() => smtpMailer('smtp://localhost', { dkim })).toThrowError(
      expect.objectContaining({ code: 'wrong-use', message: expect.stringContaining('DKIM') }),
    );
  });
});
