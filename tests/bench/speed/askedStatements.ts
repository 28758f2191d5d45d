import SQLite from 'better-sqlite3';

/** One statement as the database was asked it. */
export interface Asked {
  readonly sql: string;
  readonly values: readonly unknown[];
}

let asked: Asked[] | null = null;
let isListening = false;

/** The driver's own door: whatever is asked through it is written down while somebody listens. */
function listen(): void {
  if (isListening) return;
  isListening = true;
  const { prepare } = SQLite.prototype;
  SQLite.prototype.prepare = function (this: SQLite.Database, sql: string) {
    const statement = prepare.call(this, sql);
    for (const way of ['all', 'run'] as const) {
      const ask = (statement[way] as (...values: unknown[]) => unknown).bind(statement);
      statement[way] = ((...values: unknown[]) => {
        asked?.push({ sql, values: values.flat() });
        return ask(...values);
      }) as never;
    }
    return statement;
  } as typeof prepare;
}

/** Returns what every database in this process was asked during the work, in order. */
export async function statementsAskedBy(work: () => Promise<unknown>): Promise<readonly Asked[]> {
  listen();
  const own: Asked[] = [];
  asked = own;
  try {
    await work();
  } finally {
    asked = null;
  }
  return own;
}
