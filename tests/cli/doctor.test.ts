import { generateKeyPairSync } from 'node:crypto';
import { chmodSync, mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { createServer as createHttp } from 'node:http';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { putLedger, serveIn } from '../faults/serving.js';
import { hasMailServer, MAIL_PASSWORD, NO_MAIL_SERVER, startMailServer } from '../fixtures/mailServer.js';
import { scratchFolder } from '../fixtures/program.js';
import { runHere } from '../fixtures/runHere.js';

const examined = async (data: string) => {
  const ran = await runHere(['doctor', '--json', '--data', data]);
  for (const row of ran.rows) expect(Object.keys(row)).toEqual(['check', 'ok', 'message', 'hint']);
  const of = (check: string) => ran.rows.find((row) => row.check === check);
  return { status: ran.status, of };
};
const setFor = (name: string, value: string): void => {
  process.env[name] = value;
  onTestFinished(() => {
    delete process.env[name];
  });
};

test('a folder that is not there, one that is open to others, and a setting that is none are named with what to do', async () => {
  const data = join(scratchFolder(), 'data');
  setFor('STANCHION_SMPT_URL', 'smtp://127.0.0.1');
  const none = await examined(data);
  expect(none.status).toBe(3);
  expect(none.of('settings')).toMatchObject({ ok: false, message: 'Not a setting: STANCHION_SMPT_URL.' });
  expect(none.of('data folder')).toMatchObject({ ok: false, hint: 'stanchion setup makes it.' });
  setFor('STANCHION_PASSWORD', 'a password of eight words or so');
  expect((await runHere(['setup', '--data', data])).status).toBe(0);
  expect((await examined(data)).of('data folder')).toMatchObject({ ok: true });
  chmodSync(data, 0o755);
  expect((await examined(data)).of('data folder')).toMatchObject({ ok: false, hint: `chmod 700 ${data}` });
});

test('a relay that answers is told from one that does not, and no relay from both', async () => {
  const data = join(scratchFolder(), 'data');
  expect((await examined(data)).of('mail')).toMatchObject({ ok: false, hint: 'Set STANCHION_SMTP_URL.' });
  const relay = createServer((socket) => {
    socket.on('error', () => undefined);
    socket.write('220 here\r\n');
  });
  await new Promise<void>((done) => relay.listen(0, '127.0.0.1', done));
  const { port } = relay.address() as { port: number };
  setFor('STANCHION_SMTP_URL', `smtp://127.0.0.1:${port}`);
  expect((await examined(data)).of('mail')).toMatchObject({ ok: true });
  await new Promise((done) => relay.close(done));
  expect((await examined(data)).of('mail')).toMatchObject({ ok: false });
});

test.runIf(hasMailServer)(
  `a mailbox that answers is told from one that refuses and one that does not answer${NO_MAIL_SERVER}`,
  async () => {
    const data = join(scratchFolder(), 'data');
    expect((await examined(data)).of('mailbox')).toBeUndefined();
    const server = await startMailServer();
    onTestFinished(() => server.stop());
    const key = join(scratchFolder(), 'password');
    setFor('STANCHION_RIDES_ADDRESS', 'rides@bench.example.org');
    setFor('STANCHION_IMAP_URL', `imap://${server.user}@127.0.0.1:${server.port}`);
    setFor('STANCHION_IMAP_PASSWORD_FILE', key);
    writeFileSync(key, `${MAIL_PASSWORD}\n`);
    expect((await examined(data)).of('mailbox')).toMatchObject({ ok: true });
    writeFileSync(key, 'another\n');
    const refused = (await examined(data)).of('mailbox');
    expect(refused).toMatchObject({ ok: false, message: 'The mailbox refuses the name or password.' });
    await server.stop();
    expect((await examined(data)).of('mailbox')).toMatchObject({ message: 'The mailbox does not answer.' });
  },
);

test('folders that the settings name are there, are folders, and can be written, or it is said which is not', async () => {
  const data = join(scratchFolder(), 'data');
  setFor('STANCHION_PASSWORD', 'a password of eight words or so');
  expect((await runHere(['setup', '--data', data])).status).toBe(0);
  for (const check of ['drop folder', 'originals', 'outbox', 'backup folder'])
    expect((await examined(data)).of(check), check).toMatchObject({ ok: true });
  const away = join(scratchFolder(), 'unplugged');
  setFor('STANCHION_INBOX', away);
  setFor('STANCHION_ORIGINALS', join(data, 'stanchion.db'));
  const found = await examined(data);
  expect(found.of('drop folder')).toMatchObject({ ok: false, message: `${away} is not there.` });
  expect(found.of('originals')).toMatchObject({ ok: false, message: expect.stringMatching(/is no folder/) });
});

test('the secret is there, or it is said that links no longer open; what is damaged or open to others too', async () => {
  const data = join(scratchFolder(), 'data');
  setFor('STANCHION_PASSWORD', 'a password of eight words or so');
  await runHere(['setup', '--data', data]);
  const secret = join(data, 'secret');
  writeFileSync(secret, `${'0f'.repeat(32)}\n`, { mode: 0o600 });
  expect((await examined(data)).of('secret')).toMatchObject({ ok: true });
  chmodSync(secret, 0o644);
  expect((await examined(data)).of('secret')).toMatchObject({ ok: false, hint: `chmod 600 ${secret}` });
  writeFileSync(secret, 'cut off');
  expect((await examined(data)).of('secret')).toMatchObject({ ok: false, message: `${secret} is damaged.` });
  rmSync(secret);
  expect((await examined(data)).of('secret')).toMatchObject({
    ok: false,
    message: expect.stringMatching(/links in mails that were sent no longer open/),
    hint: expect.stringMatching(/^Bring the file/),
  });
});

test('a signing key that is there is told from one that is not, and from a file that is none', async () => {
  const data = join(scratchFolder(), 'data');
  const key = join(scratchFolder(), 'bench.pem');
  setFor('STANCHION_DKIM_DOMAIN', 'bench.example.org');
  setFor('STANCHION_DKIM_SELECTOR', 'bench1');
  setFor('STANCHION_DKIM_KEY_FILE', key);
  expect((await examined(data)).of('signing key')).toMatchObject({
    ok: false,
    message: `${key} cannot be read.`,
  });
  writeFileSync(key, 'Dear workshop');
  expect((await examined(data)).of('signing key')).toMatchObject({
    ...{ ok: false, message: `${key} holds no private key.` },
  });
  const { privateKey } = generateKeyPairSync('rsa', { modulusLength: 2048 });
  writeFileSync(key, privateKey.export({ type: 'pkcs8', format: 'pem' }));
  expect((await examined(data)).of('signing key')).toMatchObject({ ok: true });
});

test('a public address that leads here is told from one that leads elsewhere, and from one that does not answer', async () => {
  const data = scratchFolder();
  await putLedger(data);
  const serving = await serveIn(data, {});
  setFor('STANCHION_PUBLIC_URL', serving.url);
  expect((await examined(data)).of('public address')).toMatchObject({
    ...{ ok: true, message: `${serving.url} leads here.` },
  });
  // Another workshop's program, with another secret, behind the same name.
  const other = join(scratchFolder(), 'data');
  mkdirSync(other, { mode: 0o700 });
  writeFileSync(join(other, 'secret'), `${'0f'.repeat(32)}\n`, { mode: 0o600 });
  expect((await examined(other)).of('public address')).toMatchObject({
    ...{ ok: false, message: expect.stringMatching(/leads somewhere else/) },
  });
  expect(await serving.stop()).toBe(0);
  expect((await examined(data)).of('public address')).toMatchObject({
    ...{ ok: false, message: `${serving.url} does not answer.` },
  });
  const stranger = createHttp((_request, response) => void response.end('hello'));
  await new Promise<void>((done) => stranger.listen(0, '127.0.0.1', done));
  const { port } = stranger.address() as { port: number };
  setFor('STANCHION_PUBLIC_URL', `http://127.0.0.1:${port}`);
  expect((await examined(data)).of('public address')).toMatchObject({ ok: false });
  stranger.closeAllConnections();
  await new Promise((done) => stranger.close(done));
}, 60_000);
