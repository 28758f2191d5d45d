import type { Command } from 'commander';
import { ServiceError } from '../../errors.js';
import { addAccount, getAccountByName, removeAccount, setPassword } from '../../flow/accounts.js';
import { findWorkshop } from '../../flow/settings.js';
import { hashPassword } from '../../main.js';
import type { Account, Role } from '../../ports/accounts.js';
import type { Tx } from '../../ports/store.js';
import { contextOf } from '../context.js';
import { withStanchion } from '../opened.js';
import { readPassword } from '../password.js';

interface Options {
  readonly role?: Role;
  readonly fleet?: string;
  readonly password?: boolean;
  readonly signOut?: boolean;
  readonly remove?: boolean;
}

export const showAccounts = async (_options: unknown, command: Command) => {
  const { out } = contextOf(command);
  await withStanchion(command, {}, async ({ store }) => {
    const { accounts, fleets } = await store.read(async (tx) => ({
      accounts: await tx.accounts.list(),
      fleets: await tx.handles.all('fleet'),
    }));
    const rows = accounts.map(({ name, role, fleetId }) => ({
      name,
      role,
      fleet: fleetId === null ? null : (fleets.get(fleetId) ?? null),
    }));
    for (const row of rows) out.object(row);
    out.table(
      ['account', 'role', 'fleet'],
      rows.map(({ name, role, fleet }) => [name, role, fleet ?? '']),
    );
  });
};

export const changeAccount = (name: string, options: Options, command: Command) =>
  change(name, options, command);

async function change(name: string, options: Options, command: Command): Promise<void> {
  const { role, fleet = null, password, signOut, remove } = options;
  if ([role, password, signOut, remove].filter((one) => one !== undefined).length !== 1)
    throw new ServiceError('wrong-use', 'Give one of --role ROLE, --password, --sign-out and --remove.');
  const { out } = contextOf(command);
  const given = role !== undefined || password ? await readPassword(command, name) : null;
  await withStanchion(command, {}, async ({ store }) => {
    const workshop = await store.read(findWorkshop);
    const names = workshop ? [name, workshop.body.name] : [name];
    const passwordHash = given === null ? '' : await hashPassword(given, names);
    const [did, account] = await store.write(async (tx): Promise<[string, Account]> => {
      if (role !== undefined) return ['made', await addAccount(tx, { name, passwordHash, role, fleet })];
      const known = await getAccountByName(tx, name);
      return [await changeKnown(tx, known, options, passwordHash), known];
    });
    out.object({ did: `account ${did}`, ids: [account.id], problems: [] });
    out.line(`Account "${account.name}" is ${did}.`);
  });
}

async function changeKnown(
  tx: Tx,
  account: Account,
  { remove, signOut }: Options,
  passwordHash: string,
): Promise<string> {
  if (remove) await removeAccount(tx, account);
  else if (signOut) await tx.accounts.removeSessionsOf(account.id);
  else await setPassword(tx, account, passwordHash);
  return remove ? 'removed' : signOut ? 'signed out everywhere' : 'given another password, and signed out';
}
