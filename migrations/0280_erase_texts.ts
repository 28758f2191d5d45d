import { type Kysely, PostgresAdapter, sql } from 'kysely';

/** Columns of a fact that stay as they were entered, whatever is erased. */
const KEPT =
  'seq workshop_id id entity_id kind subject_id object_id replaces_id is_void recorded_at_ms since_ms recorded_by';

/** What is erased of a fact: a fact may change to the words that its erasure holds, and in nothing else. */
export async function up(db: Kysely<unknown>): Promise<void> {
  const isServer = db.getExecutor().adapter instanceof PostgresAdapter;
  const text = isServer ? sql`text collate "C"` : 'text';
  await db.schema
    .createTable('erasure')
    .addColumn('workshop_id', text, (c) => c.notNull().references('workshop.id'))
    .addColumn('fact_id', text, (c) => c.notNull())
    .addColumn('body', 'text', (c) => c.notNull())
    .addColumn('why', 'text')
    .addColumn('at_ms', 'bigint', (c) => c.notNull())
    .addPrimaryKeyConstraint('erasure_pk', ['workshop_id', 'fact_id'])
    .execute();
  for (const guard of isServer ? guardsOnServer() : guardsInFile()) await sql.raw(guard).execute(db);
}

const columns = (of: 'old' | 'new'): string[] => KEPT.split(' ').map((column) => `${of}.${column}`);

const guardsInFile = (): string[] => [
  'DROP TRIGGER fact_no_update',
  `CREATE TRIGGER fact_no_update BEFORE UPDATE ON fact WHEN NOT ((${columns('new')}) IS (${columns('old')})
   AND EXISTS (SELECT 1 FROM erasure WHERE workshop_id = old.workshop_id AND fact_id = old.id AND body = new.body AND why IS new.why))
   BEGIN SELECT RAISE(ABORT, 'fact is append-only'); END`,
];

const guardsOnServer = (): string[] => [
  'DROP TRIGGER fact_no_change ON fact',
  'CREATE TRIGGER fact_no_change BEFORE DELETE OR TRUNCATE ON fact FOR EACH STATEMENT EXECUTE FUNCTION fact_is_append_only()',
  `CREATE FUNCTION fact_is_erased() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN
   IF (${columns('new')}) IS NOT DISTINCT FROM (${columns('old')}) AND EXISTS (SELECT 1 FROM erasure
     WHERE workshop_id = old.workshop_id AND fact_id = old.id AND body = new.body AND why IS NOT DISTINCT FROM new.why)
   THEN RETURN new; END IF;
   RAISE EXCEPTION 'fact is append-only'; END $$`,
  'CREATE TRIGGER fact_no_update BEFORE UPDATE ON fact FOR EACH ROW EXECUTE FUNCTION fact_is_erased()',
];
