import { chmodSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
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
