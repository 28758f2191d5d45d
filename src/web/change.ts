import { setImmediate } from 'node:timers/promises';
import { refreshDueOnce } from '../flow/due/refreshDue.js';
import type { Entry } from '../flow/facts/fittings.js';
import type { Tx } from '../ports/store.js';
import type { WebDeps } from './deps.js';
import type { Viewer } from './viewer.js';

/** So many steps of the refresh are waited for; what is left follows within a minute and is marked as of when. */
const MOST_STEPS = 10;

/** Does a viewer's work in one transaction, then refreshes what follows from it. */
export async function change<T>(
  deps: WebDeps,
  viewer: Viewer,
  work: (tx: Tx, entry: Entry) => Promise<T>,
): Promise<T> {
  const entry = { by: viewer.account.name, at: deps.clock.now() };
  const result = await deps.store.write((tx) => work(tx, entry));
  for (let step = 0; step < MOST_STEPS && (await refreshDueOnce(deps)) === 'more'; step++)
    await setImmediate();
  return result;
}
