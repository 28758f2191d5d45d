import { getConnInfo } from '@hono/node-server/conninfo';
import type { Context } from 'hono';

const LOOPBACK = new Set(['127.0.0.1', '::1', '::ffff:127.0.0.1']);

export const isLoopback = (address: string | undefined): boolean =>
  address !== undefined && LOOPBACK.has(address);

/**
 * Returns where a request comes from, to count tries by. Behind a proxy on this machine that is what the proxy says;
 * only its own entry, the last one, can be believed.
 */
export function placeOf(c: Context, isBehindProxy: boolean): string {
  const address = hasSocket(c) ? (getConnInfo(c).remote.address ?? 'unknown') : 'unknown';
  if (!isBehindProxy || !isLoopback(address)) return address;
  return c.req.header('x-forwarded-for')?.split(',').at(-1)?.trim() ?? address;
}

/** A request that a test hands to the app came over no socket. */
export const hasSocket = (c: Context): boolean =>
  (c.env as { incoming?: unknown } | undefined)?.incoming !== undefined;
