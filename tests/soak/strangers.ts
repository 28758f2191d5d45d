/** Strangers from many places, for as long as they are let: bodies without a link, passwords, links, a sending that stalls. */
import { type ClientRequest, request } from 'node:http';
import { setTimeout as pause } from 'node:timers/promises';

const MB = 1024 * 1024;
const SENT_MB = 60;
/** Every address of the loopback is a place of its own. */
const placeOf = (n: number): string => `127.${1 + (n % 200)}.${1 + (Math.floor(n / 200) % 250)}.1`;

function send(url: string, path: string, n: number, headers: Record<string, string>): ClientRequest {
  const { hostname, port } = new URL(url);
  const options = { hostname, port, path, method: 'POST', localAddress: placeOf(n), agent: false };
  const sent = request({ ...options, headers: { origin: url, ...headers } });
  sent.on('error', () => undefined);
  sent.on('response', (response) => response.resume());
  return sent;
}

const ended = (sent: ClientRequest): Promise<void> => new Promise((done) => sent.once('close', () => done()));

/** Sends megabytes to a page behind a link that nobody made. */
async function pour(url: string, n: number): Promise<void> {
  const sent = send(url, `/r/page/made-up-${n}/files`, n, {
    'content-type': 'multipart/form-data; boundary=x',
  });
  const closed = ended(sent);
  const chunk = Buffer.alloc(MB);
  let left = SENT_MB;
  const pump = (): void => {
    while (left > 0 && !sent.destroyed) {
      left -= 1;
      if (!sent.write(chunk)) return void sent.once('drain', pump);
    }
    sent.end();
  };
  pump();
  await closed;
}

async function ask(url: string, path: string, n: number, body: string): Promise<void> {
  const sent = send(url, path, n, { 'content-type': 'application/x-www-form-urlencoded' });
  const closed = ended(sent);
  sent.end(body);
  await closed;
}

/** Starts them all; returns how to send them away, with how often they tried. */
export function startStrangers(url: string): () => Promise<number> {
  let isOver = false;
  let tries = 0;
  const over = async (work: (n: number) => Promise<void>, restMs: number, from: number): Promise<void> => {
    for (let n = from; !isOver; n += 7) {
      await work(n);
      tries += 1;
      await pause(restMs);
    }
  };
  const stalled = send(url, '/r/page/made-up/files', 1, {
    'content-type': 'multipart/form-data; boundary=x',
  });
  stalled.write('--x\r\n');
  const all = [
    ...[0, 1, 2, 3].map((at) => over((n) => pour(url, n), 500, at)),
    ...[0, 1, 2].map((at) =>
      over((n) => ask(url, '/sign-in', n, `name=owner&password=guess number ${n}`), 200, 100 + at),
    ),
    ...[0, 1].map((at) => over((n) => ask(url, `/r/stop/made-up-${n}`, n, ''), 50, 200 + at)),
  ];
  return async () => {
    isOver = true;
    stalled.destroy();
    await Promise.all(all);
    return tries;
  };
}
