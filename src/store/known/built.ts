import { type Compilable, CompiledQuery } from 'kysely';
import type { Scope } from '../scope.js';
import { anyTable, type Tables } from '../tables.js';

type Asks = Pick<Scope, 'db' | 'isShared' | 'direct'>;

/** The texts of statements by name: of a store in a file, and of one on a server. */
const TEXTS = [new Map<string, string>(), new Map<string, string>()] as const;
/** So many rows go into one statement: fewer texts are kept than for any number. */
const ROWS_AT_ONCE = 16;

/**
 * Returns the rows of a statement that is built once: for each ride, building took longer than asking.
 * Shape: `values` are what the built statement takes, in its order; under one name always the same statement is built.
 */
export async function ask<Row>(
  { db, isShared, direct }: Asks,
  name: string,
  values: readonly unknown[],
  build: () => Compilable<Row>,
): Promise<Row[]> {
  const texts = TEXTS[isShared ? 1 : 0];
  let text = texts.get(name);
  if (text === undefined) {
    const { sql, parameters } = build().compile();
    if (parameters.length !== values.length || parameters.some((value, i) => value !== values[i]))
      throw new Error(`The statement ${name} takes other values, or in another order.`);
    text = sql;
    texts.set(name, text);
  }
  if (direct !== null) return direct(text, values) as Row[];
  return (await db.executeQuery<Row>(CompiledQuery.raw(text, [...values]))).rows;
}

type PutRow = Readonly<Record<string, string | number | null>>;

/** Adds rows of one shape to a table; with a key, one that is there is put right. */
export async function putRows(
  asks: Asks,
  table: keyof Tables,
  rows: readonly PutRow[],
  key?: string,
): Promise<void> {
  for (let i = 0; i < rows.length; i += ROWS_AT_ONCE) {
    const some = rows.slice(i, i + ROWS_AT_ONCE);
    const columns = Object.keys(some[0]!);
    await ask(
      asks,
      `put ${some.length} ${table} ${columns} ${key ?? ''}`,
      some.flatMap(Object.values),
      () => {
        const insert = asks.db.insertInto(anyTable(table)).values(some as never);
        if (key === undefined) return insert;
        return insert.onConflict((on) =>
          on
            .column(key as never)
            .doUpdateSet((of) =>
              Object.fromEntries(columns.map((column) => [column, of.ref(`excluded.${column}` as never)])),
            ),
        );
      },
    );
  }
}
