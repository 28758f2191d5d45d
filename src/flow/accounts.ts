import type { FleetFact } from '../core/ledger/facts.js';
import { isLine } from '../core/lines.js';
import { ServiceError } from '../errors.js';
import type { Account, Role } from '../ports/accounts.js';
import type { Tx } from '../ports/store.js';
import { listFleetFacts } from './fittings/fleet.js';
import { refuse } from './refuse.js';

const LONGEST_NAME = 60;

export interface NewAccount {
  readonly name: string;
  readonly passwordHash: string;
  readonly role: Role;
  /** Handle of the fleet that a mechanic looks after. */
  readonly fleet: string | null;
}

/** Adds an account: a mechanic looks after one fleet, the others after the whole workshop. Errors: `refused`. */
export async function addAccount(tx: Tx, { fleet, ...account }: NewAccount): Promise<Account> {
  const name = account.name.trim();
  if (name.length > LONGEST_NAME || name === '' || !isLine(name))
    refuse('account-name', { most: LONGEST_NAME });
  if (await tx.accounts.findByName(name)) refuse('account-there', { name });
  if (account.role !== 'mechanic') {
    if (fleet !== null) refuse('only-mechanic');
    return tx.accounts.add({ ...account, name });
  }
  const fleetId = fleet === null ? undefined : await tx.handles.find('fleet', fleet);
  if (fleetId === undefined) return refuse('needs-fleet', { fleets: await listFleetHandles(tx) });
  return tx.accounts.add({ ...account, name, fleetId });
}

const listFleetHandles = async (tx: Tx): Promise<string[]> =>
  (await tx.facts.list('fleet')).map(({ body }) => body.handle).sort();

export const findAccountByName = (tx: Tx, name: string): Promise<Account | undefined> =>
  tx.accounts.findByName(name);

/** Errors: `not-found`. */
export async function getAccountByName(tx: Tx, name: string): Promise<Account> {
  const account = await tx.accounts.findByName(name);
  if (account) return account;
  throw new ServiceError('not-found', `There is no account "${name}".`);
}

/** Errors: `not-found`. */
export async function getAccount(tx: Tx, id: string): Promise<Account> {
  const account = await tx.accounts.find(id);
  if (account) return account;
  throw new ServiceError('not-found', 'There is no such account.');
}

/** Who may sign in, and the fleets that they may look after. */
export interface AccountsPage {
  readonly accounts: readonly Account[];
  readonly fleets: readonly (FleetFact & { readonly id: string })[];
}

export const getAccountsPage = async (tx: Tx): Promise<AccountsPage> => ({
  accounts: await tx.accounts.list(),
  fleets: (await listFleetFacts(tx)).map(({ entityId: id, body }) => ({ id, ...body })),
});

/** Removes an account and ends its sessions. Errors: `refused` for the last owner. */
export async function removeAccount(tx: Tx, account: Account): Promise<void> {
  const owners = (await tx.accounts.list()).filter(({ role }) => role === 'owner');
  if (account.role === 'owner' && owners.length < 2) refuse('last-owner');
  await tx.accounts.remove(account.id);
}

/** Sets another password and ends every session that was opened with the one before. */
export async function setPassword(tx: Tx, account: Account, passwordHash: string): Promise<void> {
  await tx.accounts.setPassword(account.id, passwordHash);
  await tx.accounts.removeSessionsOf(account.id);
}
