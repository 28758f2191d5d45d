import type { WorkshopFact } from '../core/ledger/facts.js';
import type { Account, Session } from '../ports/accounts.js';
import type { Tx } from '../ports/store.js';
import { DAY_MS, type Instant, instant } from '../units.js';
import { findFleetOf, type OwnFleet } from './rights.js';
import { findWorkshop } from './settings.js';

export const SESSION_DAYS = 14;

/** Of the secret that the browser keeps, only its hash is stored. */
export const startSession = (tx: Tx, accountId: string, tokenHash: string, now: Instant): Promise<void> =>
  tx.accounts.addSession({
    ...{ tokenHash, accountId, createdAt: now, usedAt: now },
    expiresAt: instant(now + SESSION_DAYS * DAY_MS),
  });

export const useSession = (tx: Tx, tokenHash: string, now: Instant): Promise<void> =>
  tx.accounts.useSession(tokenHash, now);

export const endSession = (tx: Tx, tokenHash: string): Promise<void> => tx.accounts.removeSession(tokenHash);

export const endSessionsOf = (tx: Tx, accountId: string): Promise<void> =>
  tx.accounts.removeSessionsOf(accountId);

export interface Signed {
  readonly account: Account;
  readonly session: Session;
}

/** Returns a session that has neither expired nor rested for `restDays`, with its account. */
export async function findSigned(
  tx: Tx,
  tokenHash: string,
  now: Instant,
  restDays: number,
): Promise<Signed | undefined> {
  const session = await tx.accounts.findSession(tokenHash);
  if (!session || session.expiresAt <= now || session.usedAt + restDays * DAY_MS <= now) return undefined;
  const account = await tx.accounts.find(session.accountId);
  return account && { account, session };
}

/** Who is signed in, with what every page shows of the workshop. */
export interface SessionVisit extends Signed {
  /** The one that a mechanic looks after; null for those who see the whole workshop. */
  readonly fleet: OwnFleet | null;
  /** Null until it is imported or made on the first page. */
  readonly workshop: WorkshopFact | null;
  /** Rides that wait in the tray; a mechanic sees none of it. */
  readonly waiting: number;
}

export async function findVisit(
  tx: Tx,
  tokenHash: string,
  now: Instant,
  restDays: number,
): Promise<SessionVisit | undefined> {
  const signed = await findSigned(tx, tokenHash, now, restDays);
  if (!signed) return undefined;
  return {
    ...signed,
    fleet: await findFleetOf(tx, signed.account),
    workshop: (await findWorkshop(tx))?.body ?? null,
    waiting: signed.account.role === 'mechanic' ? 0 : await tx.rides.countAsking(),
  };
}
