import { type Kysely, sql } from 'kysely';

/** Rows of one workshop, as the planner is to expect them. */
const MANY = 1_000_000;
/** And those that an index of a few holds, such as rides that wait. */
const FEW = 1_000;
/** What the planner takes for a column of which nothing is known; source: sqlite.org/fileformat2.html#stat1tab, whereInt.h. */
const UNKNOWN = 10;

/**
 * Tells the planner of a file what it cannot know: that nearly all rows are of one workshop, so that an index is of no use
 * by that column alone. Not knowing it, it read whole tables by it where it had only to look up a key. The figures are
 * stated and not counted, so that a plan is the same in a new ledger and in one of ten years.
 * Source: sqlite.org/optoverview.html, "manual control of query plans using sqlite_stat tables".
 */
export async function weighIndexes(db: Kysely<unknown>): Promise<void> {
  // Makes the table of figures; counting what is in a full ledger would take long and is not wanted.
  await sql`ANALYZE workshop`.execute(db);
  const { rows } = await sql<{
    table: string;
    name: string;
    columns: number;
    isUnique: number;
    isPartial: number;
  }>`
    select t.name as "table", i.name as name, count(*) as columns, i."unique" as "isUnique", i.partial as "isPartial"
    from sqlite_schema as t, pragma_index_list(t.name) as i, pragma_index_info(i.name) as c
    where t.type = 'table'
    group by t.name, i.name
    having max(case when c.seqno = 0 then c.name end) = 'workshop_id' and count(*) > 1`.execute(db);
  await sql`delete from sqlite_stat1`.execute(db);
  for (const { table, name, columns, isUnique, isPartial } of rows) {
    const all = isPartial === 1 ? FEW : MANY;
    const each = Array.from({ length: columns }, (_, i) => {
      if (i === 0) return all;
      if (isPartial === 1) return 1;
      return i === columns - 1 && isUnique === 1 ? 1 : UNKNOWN;
    });
    await sql`insert into sqlite_stat1 (tbl, idx, stat) values (${table}, ${name}, ${[all, ...each].join(' ')})`.execute(
      db,
    );
  }
  await sql`ANALYZE sqlite_schema`.execute(db);
}
