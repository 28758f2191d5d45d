/** A mailbox as a real mail server keeps it: what is read of it, and that nothing in it changes. */
import { createServer } from 'node:net';
import { afterAll, beforeAll, beforeEach, expect, onTestFinished, test } from 'vitest';
import { imapMailbox } from '../../src/mailbox/imapMailbox.js';
import type { MailHead, OpenPostbox } from '../../src/ports/inbox.js';
import { madeMail } from '../fixtures/madeMail.js';
import {
  hasMailServer,
  MAIL_PASSWORD,
  type MailServer,
  NO_MAIL_SERVER,
  startMailServer,
} from '../fixtures/mailServer.js';

const ON = new AbortController().signal;
const TO = 'rides+x@bench.example';

let server: MailServer;
beforeAll(async () => {
  if (hasMailServer) server = await startMailServer();
});
beforeEach(() => server?.anotherUser());
afterAll(async () => server?.stop());

const mailbox = (rest: object = {}) =>
  imapMailbox({
    ...{ host: '127.0.0.1', port: server.port, isTls: false, user: server.user, password: MAIL_PASSWORD },
    ...{ folder: 'INBOX', doneFolder: null, ...rest },
  });
const visit = <T>(work: (open: OpenPostbox) => Promise<T>, rest: object = {}): Promise<T> =>
  mailbox(rest).visit(ON, work);

const bytesOf = async (open: OpenPostbox, { uid }: MailHead, part: string, most = 1e9): Promise<Buffer> => {
  const pieces: Uint8Array[] = [];
  for await (const piece of open.read(uid, part, most)) pieces.push(piece);
  return Buffer.concat(pieces);
};

/** Names and contents of all files of the first mail. */
const filesIn = (): Promise<[string, string][]> =>
  visit(async (open) => {
    const [head] = await open.list(0, 1);
    const files: [string, string][] = [];
    for (const { part, name } of head!.parts)
      files.push([name, (await bytesOf(open, head!, part)).toString('latin1')]);
    return files;
  });

const file = (name: string, text = name, type?: string) => ({
  name,
  bytes: Buffer.from(text, 'latin1'),
  ...(type === undefined ? {} : { type }),
});

test.runIf(hasMailServer)(`mails are listed in order, after a number${NO_MAIL_SERVER}`, async () => {
  for (let i = 0; i < 5; i++) await server.put(await madeMail({ to: TO, id: `m${i}@x` }));
  const told = await visit(async (open) => {
    const first = await open.list(0, 2);
    const rest = await open.list(first.at(-1)!.uid, 10);
    return [first, rest, await open.list(rest.at(-1)!.uid, 10)].map((some) =>
      some.map(({ fields }) => fields.messageId),
    );
  });
  expect(told).toEqual([['m0@x', 'm1@x'], ['m2@x', 'm3@x', 'm4@x'], []]);
});

test.runIf(hasMailServer)(`numbers with wide gaps between them lose no mail${NO_MAIL_SERVER}`, async () => {
  const put = async (id: string): Promise<void> => server.put(await madeMail({ to: TO, id }));
  await put('first@x');
  for (const [uid, id] of [
    [9_999, 'window@x'],
    [10_001, 'after@x'],
    [3_000_000, 'far@x'],
    [3_000_001, 'last@x'],
  ] as const) {
    server.numberFrom(uid);
    await put(id);
  }
  const told = await visit((open) => open.list(0, 99));
  expect(told.map(({ uid, fields }) => [uid, fields.messageId])).toEqual([
    [1, 'first@x'],
    [9_999, 'window@x'],
    [10_001, 'after@x'],
    [3_000_000, 'far@x'],
    [3_000_001, 'last@x'],
  ]);
  expect(told.every(({ bytes }) => bytes > 100)).toBe(true);
  expect(await visit((open) => open.list(3_000_001, 99))).toEqual([]);
  expect((await visit((open) => open.list(3_000_000, 99))).map(({ uid }) => uid)).toEqual([3_000_001]);
});

test.runIf(hasMailServer)(`nothing is marked, moved or deleted${NO_MAIL_SERVER}`, async () => {
  await server.put(await madeMail({ to: TO, files: [file('a.gpx')] }));
  const flags = () =>
    server.as(async (client) => {
      await client.mailboxOpen('INBOX', { readOnly: true });
      const found = await client.fetchAll('1:*', { uid: true, flags: true });
      return found.map(({ uid, flags }) => [uid, [...(flags ?? [])].filter((flag) => flag !== '\\Recent')]);
    });
  const before = await flags();
  await filesIn();
  expect(await flags()).toEqual(before);
  expect(before).toEqual([[1, []]]);
});

test.runIf(hasMailServer)(`a mail is put away where the owner named a folder${NO_MAIL_SERVER}`, async () => {
  await server.as((client) => client.mailboxCreate('Taken'));
  await server.put(await madeMail({ to: TO, id: 'one@x' }));
  await visit((open) => open.putAway(1), { doneFolder: 'Taken' });
  const seen = await visit((open) => open.list(0, 9), { folder: 'Taken' });
  expect(seen.map(({ fields }) => fields.messageId)).toEqual(['one@x']);
  expect(await visit((open) => open.list(0, 9))).toEqual([]);
});

const encoded = (head: string): string =>
  [
    `To: ${TO}`,
    'MIME-Version: 1.0',
    'Content-Type: multipart/mixed; boundary=b',
    '',
    '--b',
    'Content-Type: text/plain',
    '',
    'hello',
    '--b',
    head,
    '',
    Buffer.from('content').toString('base64'),
    '--b--',
    '',
  ].join('\r\n');

// RFC 2231 4 (long and foreign names of files), RFC 2047 as programs misuse it, RFC 2183 (disposition).
test.runIf(hasMailServer).each([
  ['Content-Type: application/gpx+xml; name="trail.gpx"\r\nContent-Transfer-Encoding: base64', 'trail.gpx'],
  [
    "Content-Type: application/octet-stream\r\nContent-Transfer-Encoding: BASE64\r\nContent-Disposition: attachment; filename*=utf-8''volta%20de%20s%C3%A1bado.fit",
    'volta de sábado.fit',
  ],
  [
    'Content-Type: application/octet-stream\r\nContent-Transfer-Encoding: base64\r\nContent-Disposition: attachment; filename="=?utf-8?Q?s=C3=A1bado.fit?="',
    'sábado.fit',
  ],
  [
    'Content-Type: application/octet-stream\r\nContent-Transfer-Encoding: base64\r\nContent-Disposition: attachment; filename*0="a very long"; filename*1=" name.fit"',
    'a very long name.fit',
  ],
  [
    'Content-Type: application/octet-stream; name="../../etc/x.fit"\r\nContent-Transfer-Encoding: base64\r\nContent-Disposition: inline',
    'x.fit',
  ],
])(`a file is named and decoded: %s${NO_MAIL_SERVER}`, async (head, name) => {
  await server.put(encoded(head));
  expect(await filesIn()).toEqual([[name, 'content']]);
});

test.runIf(hasMailServer)(`a mail that is a file and nothing else${NO_MAIL_SERVER}`, async () => {
  await server.put(
    `To: ${TO}\r\nContent-Type: application/octet-stream; name=a.fit\r\nContent-Transfer-Encoding: base64\r\n\r\n${Buffer.from('ride').toString('base64')}\r\n`,
  );
  expect(await filesIn()).toEqual([['a.fit', 'ride']]);
});

test.runIf(hasMailServer)(`mails inside mails are looked into${NO_MAIL_SERVER}`, async () => {
  const innermost = await madeMail({ to: 'x@y.example', files: [file('deep.gpx')] });
  const alone = Buffer.from(
    `To: x@y.example\r\nContent-Type: application/octet-stream; name=alone.fit\r\nContent-Transfer-Encoding: base64\r\n\r\n${Buffer.from('alone').toString('base64')}\r\n`,
  );
  const inside = await madeMail({ to: 'x@y.example', files: [file('middle.gpx')], inside: innermost });
  await server.put(await madeMail({ to: TO, files: [file('outer.gpx')], inside }));
  await server.put(await madeMail({ to: TO, inside: alone }));
  expect(await filesIn()).toEqual([
    ['outer.gpx', 'outer.gpx'],
    ['middle.gpx', 'middle.gpx'],
    ['deep.gpx', 'deep.gpx'],
  ]);
  const second = await visit(async (open) => {
    const head = (await open.list(1, 1))[0]!;
    return [head.parts[0]!.name, String(await bytesOf(open, head, head.parts[0]!.part))];
  });
  expect(second).toEqual(['alone.fit', 'alone']);
});

test.runIf(hasMailServer)(
  `a large file comes in pieces, and no more of it than asked${NO_MAIL_SERVER}`,
  async () => {
    const bytes = Buffer.alloc(3_000_000, 'abcdefg');
    await server.put(await madeMail({ to: TO, files: [{ name: 'big.fit', bytes }] }));
    const [whole, some] = await visit(async (open) => {
      const head = (await open.list(0, 1))[0]!;
      const { part } = head.parts[0]!;
      return [await bytesOf(open, head, part), await bytesOf(open, head, part, 100_000)];
    });
    expect(whole.equals(bytes)).toBe(true);
    expect(some.equals(bytes.subarray(0, 100_000))).toBe(true);
  },
);

test.runIf(hasMailServer)(`heads that nobody honest writes are no fault${NO_MAIL_SERVER}`, async () => {
  await server.put(
    `To: ${'x@y.example, '.repeat(20_000)}${TO}\r\n\r\nlong\r\n`,
    'no head at all',
    '\r\n\r\n',
    `From: =?utf-8?B?${'A'.repeat(5000)}?=\r\nTo: ":;<>@[\\]\r\n\r\nodd\r\n`,
    Buffer.from([...Buffer.from('To: '), 0xff, 0xfe, 0x80, ...Buffer.from('\r\n\r\nbytes\r\n')]),
    `${'Content-Type: multipart/mixed; boundary=x\r\n'}\r\n${'--x\r\nContent-Type: text/plain; name=a\r\n\r\nx\r\n'.repeat(500)}--x--\r\n`,
  );
  const heads = await visit((open) => open.list(0, 99));
  expect(heads).toHaveLength(6);
  expect(Math.max(...heads.map(({ parts }) => parts.length))).toBe(200);
});

test.runIf(hasMailServer)(`a mailbox that was made anew says so${NO_MAIL_SERVER}`, async () => {
  await server.put(await madeMail({ to: TO }));
  const before = await visit(async ({ validity }) => validity);
  await new Promise((resolve) => setTimeout(resolve, 1100));
  await server.renew();
  await server.put(await madeMail({ to: TO }));
  expect(await visit(async ({ validity }) => validity)).not.toBe(before);
});

test.runIf(hasMailServer)(`who is refused or not answered is told why${NO_MAIL_SERVER}`, async () => {
  const none = (open: OpenPostbox) => open.list(0, 1);
  await expect(visit(none, { password: 'wrong' })).rejects.toMatchObject({
    code: 'mailbox-failed',
    message: 'The mailbox refuses the name or password.',
  });
  await expect(visit(none, { folder: 'No such folder' })).rejects.toMatchObject({ code: 'mailbox-failed' });
  await server.halt();
  await expect(visit(none)).rejects.toMatchObject({
    code: 'mailbox-failed',
    message: 'The mailbox does not answer.',
  });
  await server.resume();
  expect(await visit(none)).toEqual([]);
});

test('a server that says nothing is left when the program ends', async () => {
  const mute = createServer();
  await new Promise<void>((resolve) => mute.listen(0, '127.0.0.1', resolve));
  onTestFinished(() => void mute.close());
  const { port } = mute.address() as { port: number };
  const asked = new AbortController();
  const visited = imapMailbox({
    ...{
      host: '127.0.0.1',
      port,
      isTls: false,
      user: 'rides',
      password: 'x',
      folder: 'INBOX',
      doneFolder: null,
    },
  }).visit(asked.signal, async () => 'never');
  mute.once('connection', () => asked.abort());
  await expect(visited).rejects.toMatchObject({ code: 'mailbox-failed' });
});

test('a password goes over no line that is not safe', async () => {
  const heard: string[] = [];
  const plain = createServer((socket) => {
    socket.write('* OK [CAPABILITY IMAP4rev1 AUTH=PLAIN] ready\r\n');
    socket.on('data', (data) => heard.push(String(data)));
    socket.on('error', () => undefined);
  });
  await new Promise<void>((resolve) => plain.listen(0, '127.0.0.2', resolve));
  onTestFinished(() => void plain.close());
  const { port } = plain.address() as { port: number };
  const access = { host: '127.0.0.2', port, isTls: false, user: 'rides', password: 'secret-word' };
  const visited = imapMailbox({ ...access, folder: 'INBOX', doneFolder: null }).visit(ON, async () => 1);
  await expect(visited).rejects.toMatchObject({ code: 'mailbox-failed' });
  expect(heard.join('')).not.toContain('secret-word');
  expect(heard.join('')).not.toContain(Buffer.from(`\0rides\0secret-word`).toString('base64'));
});
