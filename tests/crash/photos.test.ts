/** The program is killed while photographs come in: none is half there, and what it left has no name. */
import { readdirSync } from 'node:fs';
import { request } from 'node:http';
import { join } from 'node:path';
import { setTimeout as later } from 'node:timers/promises';
import { expect, it } from 'vitest';
import { originalsIn } from '../../src/inbox/originals.js';
import { openStore } from '../../src/store/open.js';
import { instant } from '../../src/units.js';
import { formTokenOf, openSession } from '../../src/web/signIn/session.js';
import { putLedger, type Serving, serveIn } from '../faults/serving.js';
import { ringsPicture } from '../fixtures/photos.js';
import { scratchFolder } from '../fixtures/program.js';
import { runHere } from '../fixtures/runHere.js';

const SECRET = 'an invented secret of more than thirty-two letters';
const BOUNDARY = 'a-line-that-no-picture-holds';

async function signedIn(data: string): Promise<{ readonly cookie: string; readonly token: string }> {
  const store = await openStore(join(data, 'stanchion.db'), instant(Date.now()));
  const session = await store.write(async (tx) => {
    const account = await tx.accounts.add({ name: 'owner', passwordHash: 'none', role: 'owner' });
    return openSession(tx, account.id, instant(Date.now()));
  });
  await store.close();
  return { cookie: `session=${session}`, token: formTokenOf(Buffer.from(SECRET), session) };
}

function bodyOf(token: string, pictures: readonly Buffer[]): Buffer {
  const field = (name: string, value: string): Buffer =>
    Buffer.from(`--${BOUNDARY}\r\ncontent-disposition: form-data; name="${name}"\r\n\r\n${value}\r\n`);
  const file = (picture: Buffer, i: number): Buffer =>
    Buffer.concat([
      Buffer.from(
        `--${BOUNDARY}\r\ncontent-disposition: form-data; name="photo"; filename="${i}.jpg"\r\ncontent-type: image/jpeg\r\n\r\n`,
      ),
      picture,
      Buffer.from('\r\n'),
    ]);
  const fields = Object.entries({ token, from: 'unit', shows: 'rings' });
  return Buffer.concat([
    ...fields.map(([name, value]) => field(name, value)),
    ...pictures.map(file),
    Buffer.from(`--${BOUNDARY}--\r\n`),
  ]);
}

/** Sends a share of a body; the answer's status, or null where none came. */
function send({ url }: Serving, cookie: string, body: Buffer, share: number): Promise<number | null> {
  return new Promise((done) => {
    const sending = request(`${url}/units/F-1/photos`, {
      method: 'POST',
      headers: {
        ...{ cookie, origin: url, connection: 'close', 'content-length': body.length },
        'content-type': `multipart/form-data; boundary=${BOUNDARY}`,
      },
    });
    sending.on('response', (answer) => {
      answer.resume();
      done(answer.statusCode ?? null);
    });
    sending.on('error', () => done(null));
    sending.write(body.subarray(0, Math.floor(body.length * share)));
    if (share === 1) sending.end();
  });
}

async function kill({ child }: Serving): Promise<void> {
  const ended = new Promise((end) => child.once('exit', end));
  child.kill('SIGKILL');
  await ended;
}

it('killed in the middle of an upload and while it is taken, it keeps whole photographs or none', async () => {
  const data = scratchFolder();
  await putLedger(data);
  const { cookie, token } = await signedIn(data);
  const pictures = await Promise.all(
    [1400, 1500, 1600].map((width) => ringsPicture({ width, height: 1200 })),
  );
  const body = bodyOf(token, pictures);
  const files = originalsIn(join(data, 'photos'));
  const check = async () => (await runHere(['check', '--json', '--data', data])).rows[0]!;
  const serve = () => serveIn(data, { STANCHION_SECRET: SECRET });

  const first = await serve();
  const half = send(first, cookie, body, 0.6);
  await expect.poll(() => readdirSync(join(data, 'parts')).length).toBeGreaterThan(0);
  await kill(first);
  expect(await half).toBeNull();
  expect(await files.list()).toEqual([]);
  expect(await check()).toMatchObject({ ok: true, unnamedFiles: [] });

  // Whatever it was at: reading, making, keeping, or done with it.
  for (const afterMs of [30, 120, 250, 450]) {
    const serving = await serve();
    const sent = send(serving, cookie, body, 1);
    await later(afterMs);
    await kill(serving);
    await sent;
    expect(await check(), `killed after ${afterMs} ms`).toMatchObject({ ok: true, faults: [] });
  }

  const last = await serve();
  expect([303, 409]).toContain(await send(last, cookie, body, 1));
  expect(await last.stop()).toBe(0);
  const done = await check();
  expect(done).toMatchObject({ ok: true, unnamedFiles: [] });
  expect((await files.list()).length).toBe(6);
}, 120_000);
