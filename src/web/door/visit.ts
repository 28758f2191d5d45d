import { BlockList, isIP } from 'node:net';
import { getConnInfo } from '@hono/node-server/conninfo';
import type { Context, MiddlewareHandler } from 'hono';
import type { WebDeps } from '../deps.js';
import type { WebEnv } from '../viewer.js';
import { countedPlace, plainAddress } from './address.js';

/** Where a request comes from and how, as the connection tells it, or a proxy that is trusted to say. */
export interface Visit {
  /** What tries are counted by. */
  readonly place: string;
  /** Whether the browser came by HTTPS. */
  readonly isHttps: boolean;
  /** The site as this browser knows it, so that forms of its own pages are told from others'. */
  readonly origin: string;
  /** Somebody on this machine itself: not through a proxy, and not as a page whose host was made to lead here. */
  readonly isHere: boolean;
}

const NO_SOCKET = 'unknown';
const HERE = new Set(['127.0.0.1', 'localhost', '[::1]']);
const FORWARDING = ['x-forwarded-for', 'forwarded', 'via'];

const familyOf = (plain: string): 'ipv4' | 'ipv6' => (isIP(plain) === 4 ? 'ipv4' : 'ipv6');

/** Returns whether an address is one of those listed, each an address or a network such as `10.0.0.0/8`. */
export function addressList(listed: readonly string[]): (plain: string) => boolean {
  const list = new BlockList();
  for (const one of listed) {
    const [address = '', bits] = one.split('/');
    if (bits === undefined) list.addAddress(address, familyOf(address));
    else list.addSubnet(address, Number(bits), familyOf(address));
  }
  return (plain) => isIP(plain) !== 0 && list.check(plain, familyOf(plain));
}

const isLoopback = addressList(['127.0.0.0/8', '::1']);

/**
 * Returns who is farthest away as those who are trusted say: each proxy adds whom it heard to the end of the list, so
 * it is read from there. What stands before an address that is not trusted anybody may have made up.
 */
function farthest(near: string, forwarded: string, isTrusted: (plain: string) => boolean): string {
  let at = near;
  for (const said of forwarded.split(',').reverse()) {
    const next = plainAddress(said.trim());
    if (!isTrusted(at) || next === null) return at;
    at = next;
  }
  return at;
}

/** A request that a test hands to the app came over no socket. */
function nearOf(c: Context): string {
  const hasSocket = (c.env as { incoming?: unknown } | undefined)?.incoming !== undefined;
  const address = hasSocket ? getConnInfo(c).remote.address : undefined;
  return (address === undefined ? null : plainAddress(address)) ?? NO_SOCKET;
}

/** Leaves for the pages where each request comes from. */
export function visits({ publicUrl, trustedProxy, log }: WebDeps): MiddlewareHandler<WebEnv> {
  const isTrusted = addressList(trustedProxy);
  let isTold = false;
  return async (c, next) => {
    const near = nearOf(c);
    // A host that is none, such as `xn--`: whoever made it up is told so, and nobody else.
    if (!URL.canParse(c.req.url)) return c.text('Bad Request', 400);
    const { host, hostname, protocol } = new URL(c.req.url);
    const forwarded = c.req.header('x-forwarded-for');
    const isByProxy = isTrusted(near);
    const scheme = isByProxy ? c.req.header('x-forwarded-proto')?.split(',').at(-1)?.trim() : undefined;
    const isAskedByHttps = (scheme ?? protocol.slice(0, -1)) === 'https';
    const isHttps = publicUrl === null ? isAskedByHttps : publicUrl.startsWith('https:');
    if (publicUrl !== null && forwarded !== undefined && !isByProxy && !isTold) {
      isTold = true;
      log.error(
        {},
        'A proxy that is not trusted hands on requests: all who come by it count as one. Name its address in STANCHION_TRUSTED_PROXY',
      );
    }
    c.set('visit', {
      place: countedPlace(isByProxy ? farthest(near, forwarded ?? '', isTrusted) : near),
      isHttps,
      origin: `${isAskedByHttps ? 'https' : 'http'}://${host}`,
      isHere:
        isLoopback(near) &&
        HERE.has(hostname) &&
        FORWARDING.every((name) => c.req.header(name) === undefined),
    });
    return next();
  };
}
