/** The real program on loopback, with an owner, a rider's link, and strangers from many addresses. */

import { readFileSync } from 'node:fs';
import { type ClientRequest, type IncomingHttpHeaders, request } from 'node:http';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import { LinkMaker } from '../../src/flow/mail/links.js';
import { sealWith } from '../../src/secret.js';
import { openStore } from '../../src/store/open.js';
import { instant } from '../../src/units.js';
import { putLedger, type Serving, serveIn } from '../faults/serving.js';
import { scratchFolder } from '../fixtures/program.js';
import { runHere } from '../fixtures/runHere.js';

const SECRET = 'an invented secret of more than thirty-two letters';
export const PASSWORD = 'correct wheel spanner';

export interface Answer {
  readonly status: number;
  readonly headers: IncomingHttpHeaders;
  readonly text: string;
}

export interface Asked {
  readonly method?: 'GET' | 'POST';
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: string | Uint8Array;
  /** The address that it comes from. Linux has all of 127.0.0.0/8. */
  readonly from?: string;
}

export interface OpenDoor {
  readonly data: string;
  readonly serving: Serving;
  ask(path: string, asked?: Asked): Promise<Answer>;
  /** Begins a POST that the test writes itself. */
  begin(path: string, headers: Readonly<Record<string, string>>, from?: string): ClientRequest;
  signIn(password: string, asked?: Asked, name?: string): Promise<Answer>;
  /** Where a rider's link leads, `page` or `stop`. */
  linkOf(rider: string, purpose: 'page' | 'stop'): Promise<string>;
  residentBytes(): number;
}

const RIDERS = ['r1', 'r2'];
/** Invented: two riders with a bike and a fork each. */
const DOCUMENT = {
  workshop: { id: 'w1', name: 'Test bench', timeZone: 'UTC', openDays: ['mon', 'tue', 'wed', 'thu', 'fri'] },
  riders: RIDERS.map((id) => ({
    id,
    name: `Rider ${id}`,
    email: `${id}@example.org`,
    addressConfirmed: true,
  })),
  bikes: RIDERS.map((rider) => ({ id: `b-${rider}`, rider, name: 'Bike', type: 'trail' })),
  units: RIDERS.map((rider) => ({ tag: `F-${rider}`, unitKind: 'fork', history: 'new' })),
  fittings: RIDERS.map((rider) => ({ unit: `F-${rider}`, bike: `b-${rider}`, from: '2020-01-01' })),
};

export async function openDoor(env: Readonly<Record<string, string>> = {}): Promise<OpenDoor> {
  const data = scratchFolder();
  await putLedger(data, DOCUMENT);
  const made = await runHere(['setup', '--data', data], { STANCHION_PASSWORD: PASSWORD });
  if (made.status !== 0) throw new Error(made.stderr);
  const serving = await serveIn(data, { STANCHION_SECRET: SECRET, ...env });
  const requests = new Set<ClientRequest>();
  onTestFinished(() => {
    for (const one of requests) one.destroy();
  });
  const begin: OpenDoor['begin'] = (path, headers, from = '127.0.0.1') => {
    const sent = request(serving.url + path, {
      ...{ method: 'POST', agent: false, localAddress: from },
      headers: { origin: serving.url, ...headers },
    });
    requests.add(sent);
    sent.on('close', () => requests.delete(sent));
    return sent;
  };
  const ask: OpenDoor['ask'] = (path, { method = 'GET', headers = {}, body, from = '127.0.0.1' } = {}) =>
    new Promise((resolve, reject) => {
      const sent = request(serving.url + path, {
        ...{ method, agent: false, localAddress: from },
        headers: { origin: serving.url, ...headers },
      });
      requests.add(sent);
      sent.on('error', reject);
      sent.on('close', () => requests.delete(sent));
      sent.on('response', (response) => {
        const chunks: Buffer[] = [];
        response.on('data', (chunk: Buffer) => chunks.push(chunk));
        response.on('error', reject);
        response.on('end', () =>
          resolve({
            status: response.statusCode!,
            headers: response.headers,
            text: Buffer.concat(chunks).toString('utf8'),
          }),
        );
      });
      sent.end(body);
    });
  return {
    ...{ data, serving, begin, ask },
    signIn: (password, { headers = {}, ...asked } = {}, name = 'owner') =>
      ask('/sign-in', {
        ...asked,
        method: 'POST',
        headers: { 'content-type': 'application/x-www-form-urlencoded', ...headers },
        body: new URLSearchParams({ name, password }).toString(),
      }),
    linkOf: async (rider, purpose) => {
      const now = instant(Date.now());
      const store = await openStore(join(data, 'stanchion.db'), now);
      try {
        return await store.read(async (tx) => {
          const contact = await tx.contacts.find((await tx.handles.find('rider', rider))!);
          const links = { publicUrl: '', seal: sealWith(Buffer.from(SECRET)), isOneClick: false };
          return new LinkMaker(links, tx.workshopId, contact!, now).own(purpose);
        });
      } finally {
        await store.close();
      }
    },
    residentBytes: () => residentBytes(serving.child.pid!),
  };
}

/** Source: proc(5), VmRSS in kB. */
function residentBytes(pid: number): number {
  const kb = /^VmRSS:\s+(\d+) kB$/m.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1];
  if (kb === undefined) throw new Error('The program has ended.');
  return Number(kb) * 1024;
}

/** Address number so and so of this machine's own. */
export const fromOf = (number: number): string => `127.1.${Math.floor(number / 250)}.${1 + (number % 250)}`;

/** Asks again and again, and returns the largest answer once the work is done. */
export async function peakWhile(measure: () => number, work: () => Promise<unknown>): Promise<number> {
  let peak = measure();
  const timer = setInterval(() => {
    peak = Math.max(peak, measure());
  }, 20);
  try {
    await work();
  } finally {
    clearInterval(timer);
  }
  return Math.max(peak, measure());
}

/** The parts of a form with one file, before and after its bytes. */
export function fileForm(name: string): { type: string; before: Buffer; after: Buffer } {
  const boundary = 'a-line-between-parts';
  const head = `--${boundary}\r\nContent-Disposition: form-data; name="files"; filename="${name}"\r\n\r\n`;
  return {
    type: `multipart/form-data; boundary=${boundary}`,
    before: Buffer.from(head),
    after: Buffer.from(`\r\n--${boundary}--\r\n`),
  };
}
