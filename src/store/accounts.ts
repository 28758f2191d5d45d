import { ServiceError } from '../errors.js';
import type { Account, AccountTable, Role } from '../ports/accounts.js';
import { instant } from '../units.js';
import { newId, type Scope } from './scope.js';
import type { Tables } from './tables.js';

export function accountTable({ db, workshopId }: Scope): AccountTable {
  const accounts = () => db.selectFrom('account').selectAll().where('workshop_id', '=', workshopId);
  const accountOf = (row: Tables['account']): Account => ({
    id: row.id,
    name: row.name,
    passwordHash: row.password_hash,
    role: row.role as Role,
    fleetId: row.fleet_id,
  });
  const findByName = async (name: string): Promise<Account | undefined> => {
    const row = await accounts().where('name', '=', name).executeTakeFirst();
    return row && accountOf(row);
  };
  const removeSessionsOf = async (accountId: string): Promise<void> => {
    await db
      .deleteFrom('session')
      .where('workshop_id', '=', workshopId)
      .where('account_id', '=', accountId)
      .execute();
  };
  return {
    findByName,
    find: async (id) => {
      const row = await accounts().where('id', '=', id).executeTakeFirst();
      return row && accountOf(row);
    },
    list: async () => (await accounts().orderBy('name').execute()).map(accountOf),
    add: async (account) => {
      if (await findByName(account.name)) {
        throw new ServiceError('refused', `There is an account ${account.name} already.`);
      }
      const id = newId();
      const { fleetId = null } = account;
      await db
        .insertInto('account')
        .values({
          workshop_id: workshopId,
          id,
          name: account.name,
          password_hash: account.passwordHash,
          role: account.role,
          fleet_id: fleetId,
        })
        .execute();
      return { ...account, id, fleetId };
    },
    setPassword: async (id, passwordHash) => {
      await db
        .updateTable('account')
        .set({ password_hash: passwordHash })
        .where('workshop_id', '=', workshopId)
        .where('id', '=', id)
        .execute();
    },
    remove: async (id) => {
      await removeSessionsOf(id);
      await db.deleteFrom('account').where('workshop_id', '=', workshopId).where('id', '=', id).execute();
    },
    addSession: async (session) => {
      await db
        .insertInto('session')
        .values({
          workshop_id: workshopId,
          token_hash: session.tokenHash,
          account_id: session.accountId,
          created_at_ms: session.createdAt,
          used_at_ms: session.usedAt,
          expires_at_ms: session.expiresAt,
        })
        .execute();
    },
    findSession: async (tokenHash) => {
      const row = await db
        .selectFrom('session')
        .selectAll()
        .where('workshop_id', '=', workshopId)
        .where('token_hash', '=', tokenHash)
        .executeTakeFirst();
      return (
        row && {
          tokenHash: row.token_hash,
          accountId: row.account_id,
          createdAt: instant(row.created_at_ms),
          usedAt: instant(row.used_at_ms),
          expiresAt: instant(row.expires_at_ms),
        }
      );
    },
    useSession: async (tokenHash, at) => {
      await db
        .updateTable('session')
        .set({ used_at_ms: at })
        .where('workshop_id', '=', workshopId)
        .where('token_hash', '=', tokenHash)
        .execute();
    },
    removeSession: async (tokenHash) => {
      await db
        .deleteFrom('session')
        .where('workshop_id', '=', workshopId)
        .where('token_hash', '=', tokenHash)
        .execute();
    },
    removeSessionsOf,
  };
}
