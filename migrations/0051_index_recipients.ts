import { type Kysely, PostgresAdapter } from 'kysely';
import { weighIndexes } from './weighIndexes.js';

/** A rider's page shows the last mails to that rider, however many there are. */
export async function up(db: Kysely<unknown>): Promise<void> {
  await db.schema
    .createIndex('mail_by_recipient')
    .on('mail')
    .columns(['workshop_id', 'recipient', 'queued_at_ms', 'id'])
    .execute();
  if (!(db.getExecutor().adapter instanceof PostgresAdapter)) await weighIndexes(db);
}
