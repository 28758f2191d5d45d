import { createServer, type Server } from 'node:http';
import { createAdaptorServer } from '@hono/node-server';
import type { Hono } from 'hono';
import { ServiceError } from '../errors.js';
import { MINUTE_MS } from '../units.js';
import type { WebEnv } from './viewer.js';

/** A page that is being made may take so long to finish when the program is told to stop. */
const LAST_REQUESTS_MS = 2500;

/** Longer than any sending may take, which is bounded where it is known whose it is; who asks nothing is let go of. */
const TIMES = { requestTimeout: 20 * MINUTE_MS, headersTimeout: MINUTE_MS / 2 };

/** All that are sent at once on one connection are begun at once, and nobody else's meanwhile. */
const MOST_ON_A_CONNECTION = 100;

export interface Serving {
  /** Where the pages are, with the port that was got. */
  readonly url: string;
  /** Takes no more requests, lets those under way finish, and resolves when the port is free. */
  close(): Promise<void>;
}

interface Place {
  readonly host: string;
  readonly port: number;
}

/** Errors: `refused` when the port is taken or not allowed. */
export async function tryPort(place: Place): Promise<void> {
  const server = createServer();
  await listen(server, place);
  await new Promise((resolve) => server.close(resolve));
}

const listen = (server: Server, { host, port }: Place): Promise<void> =>
  new Promise<void>((resolve, reject) => {
    server.once('error', (cause) => reject(cannotListen(host, port, cause)));
    server.listen(port, host, resolve);
  });

/** Errors: as of `tryPort`. */
export async function startWeb(app: Hono<WebEnv>, { host, port }: Place): Promise<Serving> {
  const server = createAdaptorServer({ fetch: app.fetch, serverOptions: TIMES }) as Server;
  server.maxRequestsPerSocket = MOST_ON_A_CONNECTION;
  await listen(server, { host, port });
  const got = server.address();
  const shownPort = typeof got === 'object' && got !== null ? got.port : port;
  return {
    url: `http://${host.includes(':') ? `[${host}]` : host}:${shownPort}`,
    close: () =>
      new Promise((resolve, reject) => {
        const late = setTimeout(() => server.closeAllConnections(), LAST_REQUESTS_MS);
        server.close((error) => {
          clearTimeout(late);
          if (error) reject(error);
          else resolve();
        });
        server.closeIdleConnections();
      }),
  };
}

const cannotListen = (host: string, port: number, cause: unknown): ServiceError =>
  new ServiceError('refused', `Nothing can be served at ${host}, port ${port}.`, {
    hint: `Another program may use that port: stop it, or put another before the command, such as PORT=${port + 1} npm run demo; serve also takes --port.`,
    cause,
  });
