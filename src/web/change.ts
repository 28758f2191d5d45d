import { setImmediate } from 'node:timers/promises';
import type { Context } from 'hono';
import { HTTPException } from 'hono/http-exception';
import { refreshDueOnce } from '../flow/due/refreshDue.js';
import type { Entry } from '../flow/entry.js';
import { mayUse } from '../flow/rights.js';
import { findSigned } from '../flow/sessions.js';
import type { Clock } from '../ports/clock.js';
import type { Store, Tx } from '../ports/store.js';
import type { WebDeps } from './deps.js';
import { hashOf } from './signIn/session.js';
import type { WebEnv } from './viewer.js';

/** So many steps of the refresh are waited for; what is left follows within a minute and is marked as of when. */
const MOST_STEPS = 10;

/** Does a viewer's work in one transaction, if the viewer still may; then refreshes what follows from it. */
export async function change<T>(
  deps: WebDeps,
  c: Context<WebEnv>,
  work: (tx: Tx, entry: Entry) => Promise<T>,
): Promise<T> {
  const result = await writeAsAllowed(deps, c, work);
  await refreshSome(deps);
  return result;
}

/**
 * Does a viewer's work in one transaction, in which it is asked again who the viewer is and what that account may use.
 * Between the page and the form somebody may have been signed out, or a unit have gone to another fleet.
 */
export async function writeAsAllowed<T>(
  { store, clock, restDays }: WebDeps,
  c: Context<WebEnv>,
  work: (tx: Tx, entry: Entry) => Promise<T>,
): Promise<T> {
  const at = clock.now();
  return store.write(async (tx) => {
    const signed = await findSigned(tx, hashOf(c.get('sessionToken')), at, restDays);
    if (!signed) throw new HTTPException(403);
    if (!(await mayUse(tx, signed.account, c.get('asked'), at))) throw new HTTPException(404);
    return work(tx, { by: signed.account.name, at });
  });
}

/** Refreshes what follows from a change, as far as somebody who looks at a page should wait. */
export async function refreshSome(deps: { readonly store: Store; readonly clock: Clock }): Promise<void> {
  for (let step = 0; step < MOST_STEPS && (await refreshDueOnce(deps)) === 'more'; step++)
    await setImmediate();
}
