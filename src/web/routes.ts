import type { Context, Handler, Hono } from 'hono';
import { HTTPException } from 'hono/http-exception';
import { mayUse, type Named } from '../flow/rights.js';
import type { Role } from '../ports/accounts.js';
import type { WebDeps } from './deps.js';
import type { WebEnv } from './viewer.js';

/** Who may use a route, and what the parts of its address name. */
interface Access {
  /** `anybody` needs no signing in; behind a `link` the address itself is the right to use it. */
  readonly who: 'anybody' | 'link' | readonly Role[];
  readonly names?: Readonly<Record<string, Named>>;
}

const ANYBODY = { who: 'anybody' } as const;
const LINK = { who: 'link' } as const;
const OWNER = ['owner'] as const;
/** The daily work of the workshop. */
const DAILY = ['owner', 'technician'] as const;
/** A mechanic's, about the own fleet, too. */
const ALL = ['owner', 'technician', 'mechanic'] as const;
const UNIT = { tag: 'unit' } as const;
const PHOTO = { tag: 'unit', photo: 'photo' } as const;
const RIDER = { handle: 'rider' } as const;
const LINE = { tag: 'unit', fact: 'line' } as const;
const RULE = { unitKind: 'unit kind', serviceKind: 'service kind' } as const;
const FLEET = { fleet: 'fleet' } as const;
const ACCOUNT = { account: 'account' } as const;

/**
 * Every page and form but those behind links in mails, which `rider/pages.ts` lists by purpose. The pages are built from
 * this table, so that none can stand outside of it.
 */
export const ROUTES = {
  'GET /metrics': ANYBODY,
  'GET /healthz': ANYBODY,
  'GET /readyz': ANYBODY,
  'GET /style/:file': ANYBODY,
  'GET /icon.svg': ANYBODY,
  'GET /app.webmanifest': ANYBODY,
  'GET /script/:print/:file': ANYBODY,
  'GET /sign-in': ANYBODY,
  'POST /sign-in': ANYBODY,
  'GET /bookings/:file': LINK,

  'POST /sign-out': { who: ALL },
  'POST /sign-out-everywhere': { who: ALL },
  'GET /account': { who: ALL },
  'POST /account': { who: ALL },

  'GET /workshop': { who: OWNER },
  'POST /workshop': { who: OWNER },
  'GET /settings/workshop': { who: OWNER },
  'POST /settings/workshop': { who: OWNER },
  'GET /settings/kinds': { who: OWNER },
  'POST /settings/kinds': { who: OWNER },
  'GET /settings/bench': { who: OWNER },
  'POST /settings/bench': { who: OWNER },
  'GET /settings/mails': { who: OWNER },
  'POST /settings/mails': { who: OWNER },
  'GET /settings/calendar': { who: OWNER },
  'GET /settings/weights': { who: OWNER },
  'POST /settings/weights': { who: OWNER },
  'GET /settings/accounts': { who: OWNER },
  'POST /settings/accounts': { who: OWNER },
  'POST /settings/accounts/:account/password': { who: OWNER, names: ACCOUNT },
  'POST /settings/accounts/:account/remove': { who: OWNER, names: ACCOUNT },

  'GET /settings': { who: DAILY },
  'GET /settings/closed': { who: DAILY },
  'POST /settings/closed': { who: DAILY },
  'GET /settings/people': { who: DAILY },
  'POST /settings/people': { who: DAILY },
  'GET /settings/jobs': { who: DAILY },
  'POST /settings/jobs': { who: DAILY },
  'GET /settings/home': { who: DAILY },
  'POST /settings/home': { who: DAILY },
  'GET /settings/shelf': { who: DAILY },
  'POST /settings/shelf': { who: DAILY },
  'GET /settings/parts/:unitKind/:serviceKind': { who: DAILY, names: RULE },
  'POST /settings/parts/:unitKind/:serviceKind': { who: DAILY, names: RULE },

  'GET /': { who: ALL },
  'GET /find': { who: ALL },
  'GET /lists/:list': { who: ALL, names: { list: 'list' } },
  'POST /clock': { who: DAILY },
  'GET /due': { who: DAILY },
  'GET /tray': { who: DAILY },
  'POST /tray': { who: DAILY },
  'POST /tray/:id': { who: DAILY, names: { id: 'question' } },
  'GET /leads': { who: DAILY },
  'POST /leads/:lead/book': { who: DAILY, names: { lead: 'lead' } },
  'POST /leads/:lead/decline': { who: DAILY, names: { lead: 'lead' } },
  'POST /leads/:lead/reopen': { who: DAILY, names: { lead: 'lead' } },
  'POST /leads/:lead/done': { who: DAILY, names: { lead: 'lead' } },
  'GET /units': { who: DAILY },
  'GET /units/new': { who: DAILY },
  'POST /units/new': { who: DAILY },
  'GET /units/:tag/day': { who: DAILY, names: UNIT },
  'POST /units/:tag/day': { who: DAILY, names: UNIT },
  'GET /units/:tag/book': { who: DAILY, names: UNIT },
  'GET /units/:tag/inspect': { who: DAILY, names: UNIT },
  'POST /units/:tag/inspect': { who: DAILY, names: UNIT },
  'GET /units/:tag/looked/:fact': { who: DAILY, names: LINE },
  'GET /units/:tag/lines/:fact': { who: DAILY, names: LINE },
  'POST /units/:tag/lines/:fact/day': { who: DAILY, names: LINE },
  'POST /units/:tag/lines/:fact/void': { who: DAILY, names: LINE },
  'POST /units/:tag/lines/:fact/service': { who: DAILY, names: LINE },
  'POST /units/:tag/lines/:fact/agree': { who: DAILY, names: LINE },
  'POST /units/:tag/change': { who: DAILY, names: UNIT },
  'POST /units/:tag/tag': { who: DAILY, names: UNIT },
  'GET /customers/new': { who: DAILY },
  'POST /customers/new': { who: DAILY },
  'GET /riders': { who: DAILY },
  'GET /ways': { who: DAILY },
  'POST /ways/files': { who: DAILY },
  'GET /riders/:handle': { who: DAILY, names: RIDER },
  'GET /riders/:handle/history': { who: DAILY, names: RIDER },
  'GET /riders/:handle/labels': { who: DAILY, names: RIDER },
  'POST /riders/:handle/contact': { who: DAILY, names: RIDER },
  'POST /riders/:handle/bikes': { who: DAILY, names: RIDER },
  'POST /riders/:handle/link': { who: DAILY, names: RIDER },
  'POST /riders/:handle/mail': { who: DAILY, names: RIDER },
  'POST /riders/:handle/revoke': { who: DAILY, names: RIDER },
  'POST /bikes/:handle/change': { who: DAILY, names: { handle: 'bike' } },
  'POST /bikes/:handle/unit': { who: DAILY, names: { handle: 'bike' } },
  'GET /reminders': { who: DAILY },
  'POST /reminders': { who: OWNER },
  'POST /reminders/:tag/told': { who: DAILY, names: UNIT },
  'GET /reminders/:handle': { who: DAILY, names: RIDER },
  'GET /mails': { who: DAILY },
  'GET /mails/:mail': { who: DAILY, names: { mail: 'mail' } },
  'GET /bench': { who: DAILY },
  'POST /bench/arrive': { who: DAILY },
  'GET /load': { who: DAILY },
  'GET /load/quiet': { who: DAILY },
  'POST /load/quiet': { who: DAILY },
  'GET /day': { who: DAILY },
  'GET /findings': { who: DAILY },
  'GET /findings/year': { who: DAILY },
  'GET /comebacks': { who: DAILY },
  'GET /kits': { who: DAILY },
  'POST /kits/:tag': { who: DAILY, names: UNIT },
  'GET /sheets': { who: DAILY },
  'GET /sheets/edit': { who: DAILY },
  'POST /sheets/edit': { who: DAILY },
  'POST /sheets/check': { who: DAILY },
  'POST /sheets/look': { who: OWNER },
  'GET /intervals': { who: DAILY },
  'GET /intervals/:unitKind/:serviceKind': { who: DAILY, names: RULE },
  'POST /intervals/:unitKind/:serviceKind': { who: DAILY, names: RULE },
  'GET /fleets': { who: DAILY },
  'GET /fleets/new': { who: DAILY },
  'POST /fleets/new': { who: DAILY },
  'GET /fleets/:fleet/change': { who: DAILY, names: FLEET },
  'POST /fleets/:fleet/change': { who: DAILY, names: FLEET },

  'GET /fleets/:fleet': { who: ALL, names: FLEET },
  'GET /fleets/:fleet/hire': { who: ALL, names: FLEET },
  'POST /fleets/:fleet/hire': { who: ALL, names: FLEET },
  'GET /fleets/:fleet/spares': { who: ALL, names: FLEET },
  'POST /fleets/:fleet/spares': { who: ALL, names: FLEET },
  'GET /fleets/:fleet/swap': { who: ALL, names: FLEET },
  'POST /fleets/:fleet/swap': { who: ALL, names: FLEET },
  'POST /fleets/:fleet/swap/back': { who: ALL, names: FLEET },
  'GET /races': { who: ALL },
  'GET /races/new': { who: ALL },
  'POST /races/new': { who: ALL },
  'GET /races/:race': { who: ALL, names: { race: 'race' } },
  'GET /races/:race/change': { who: ALL, names: { race: 'race' } },
  'POST /races/:race/change': { who: ALL, names: { race: 'race' } },
  'GET /units/:tag': { who: ALL, names: UNIT },
  'GET /units/:tag/card': { who: ALL, names: UNIT },
  'GET /units/:tag/service': { who: ALL, names: UNIT },
  'POST /units/:tag/service': { who: ALL, names: UNIT },
  'POST /units/:tag/photos': { who: ALL, names: UNIT },
  'GET /units/:tag/photos/:photo': { who: ALL, names: PHOTO },
  'GET /units/:tag/photos/:photo/small': { who: ALL, names: PHOTO },
  'POST /units/:tag/photos/:photo/remove': { who: ALL, names: PHOTO },
  'POST /units/:tag/fit': { who: ALL, names: UNIT },
  'POST /units/:tag/off': { who: ALL, names: UNIT },
  'POST /units/:tag/swap': { who: ALL, names: UNIT },
  'POST /units/:tag/gone': { who: DAILY, names: UNIT },
  'POST /units/:tag/back': { who: DAILY, names: UNIT },
  'POST /units/:tag/fleet': { who: DAILY, names: UNIT },
  'POST /units/:tag/mark': { who: ALL, names: UNIT },
  'POST /units/:tag/claim': { who: DAILY, names: UNIT },
  'GET /units/:tag/crash': { who: ALL, names: UNIT },
  'POST /units/:tag/crash': { who: ALL, names: UNIT },
  'POST /units/:tag/arrive': { who: ALL, names: UNIT },
  'POST /units/:tag/job': { who: ALL, names: UNIT },
  'POST /units/:tag/step': { who: ALL, names: UNIT },
  'GET /bikes/:handle': { who: ALL, names: { handle: 'bike' } },
  'POST /bikes/:handle/hours': { who: ALL, names: { handle: 'bike' } },
  'POST /units/:tag/question': { who: ALL, names: UNIT },
  'POST /units/:tag/answer': { who: ALL, names: UNIT },
  'GET /units/:tag/set-up': { who: ALL, names: UNIT },
  'POST /units/:tag/set-up': { who: ALL, names: UNIT },
  'POST /bikes/:handle/declared': { who: ALL, names: { handle: 'bike' } },
  'POST /bikes/:handle/unrecorded': { who: ALL, names: { handle: 'bike' } },
  'GET /rides/:id': { who: ALL, names: { id: 'ride' } },
} as const satisfies Readonly<Record<`${'GET' | 'POST'} /${string}`, Access>>;

export type RouteKey = keyof typeof ROUTES;
type PathOf<M extends 'GET' | 'POST'> = RouteKey extends infer K
  ? K extends `${M} ${infer P}`
    ? P
    : never
  : never;

export type PageAnswer = Response | Promise<Response>;

/** Where pages are added: a path that is not in the table does not compile. */
export interface Pages {
  get<P extends PathOf<'GET'>>(path: P, handler: (c: Context<WebEnv, P>) => PageAnswer): void;
  post<P extends PathOf<'POST'>>(path: P, handler: (c: Context<WebEnv, P>) => PageAnswer): void;
}

/** Returns the pages of an app; each lets through only those whom the table names, and to a mechanic only the own fleet's. */
export function pagesOf(app: Hono<WebEnv>, deps: WebDeps): Pages {
  const add = (method: 'GET' | 'POST', path: string, handler: unknown): void => {
    const access: Access = ROUTES[`${method} ${path}` as RouteKey];
    app.on(
      method,
      path,
      async (c, next) => {
        if (!(await mayBeUsed(c, access, deps))) throw new HTTPException(404);
        return next();
      },
      handler as Handler<WebEnv>,
    );
  };
  return {
    get: (path, handler) => add('GET', path, handler),
    post: (path, handler) => add('POST', path, handler),
  };
}

/** What somebody may not use is answered as what is not there. A form asks again in the transaction that writes. */
async function mayBeUsed(
  c: Context<WebEnv>,
  { who, names = {} }: Access,
  { store }: WebDeps,
): Promise<boolean> {
  if (typeof who === 'string') return true;
  const named = Object.entries(names).map(([part, what]) => ({ what, handle: c.req.param(part) ?? '' }));
  const asked = { roles: who, named };
  c.set('asked', asked);
  const { account, now } = c.get('viewer');
  return store.read((tx) => mayUse(tx, account, asked, now));
}
