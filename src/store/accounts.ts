import { ServiceError } from '../errors.js';
import type { Account, AccountTable, Role } from '../ports.js';
import { instant } from '../units.js';
import { newId, type Scope } from './scope.js';

export function accountTable({ db, workshopId }: Scope): AccountTable {
  const accounts = () => db.selectFrom('account').selectAll().where('workshop_id', '=', workshopId);
  const accountOf = (row: { id: string; name: string; password_hash: string; role: string }): Account => ({
    id: row.id,
    name: row.name,
    passwordHash: row.password_hash,
    role: row.role as Role,
  });
  const findByName = async (name: string): Promise<Account | undefined> => {
    const row = await accounts().where('name', '=', name).executeTakeFirst();
    return row && accountOf(row);
  };
  return {
    findByName,
    find: async (id) => {
      const row = await accounts().where('id', '=', id).executeTakeFirst();
      return row && accountOf(row);
    },
    count: async () => (await accounts().execute()).length,
    add: async (account) => {
      if (await findByName(account.name)) {
        throw new ServiceError('refused', 'add an account', `There is an account ${account.name} already.`);
      }
      const id = newId();
      await db
        .insertInto('account')
        .values({
          workshop_id: workshopId,
          id,
          name: account.name,
          password_hash: account.passwordHash,
          role: account.role,
        })
        .execute();
      return { ...account, id };
    },
    addSession: async (session) => {
      await db
        .insertInto('session')
        .values({
          workshop_id: workshopId,
          token_hash: session.tokenHash,
          account_id: session.accountId,
          created_at_ms: session.createdAt,
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
          expiresAt: instant(row.expires_at_ms),
        }
      );
    },
    removeSession: async (tokenHash) => {
      await db
        .deleteFrom('session')
        .where('workshop_id', '=', workshopId)
        .where('token_hash', '=', tokenHash)
        .execute();
    },
    removeSessionsOf: async (accountId) => {
      await db
        .deleteFrom('session')
        .where('workshop_id', '=', workshopId)
        .where('account_id', '=', accountId)
        .execute();
    },
  };
}
