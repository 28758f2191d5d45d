import type { FactKind } from '../../core/ledger/facts.js';
import { COPIED, type Copied, type CopiedRow } from '../../ports/copies.js';
import { SAY_NOTHING, type SayLeft } from '../../ports/loops.js';
import type { Tx } from '../../ports/store.js';
import { getFactRow } from '../facts/correctFact.js';
import { type FactRowKind, isRowKind, loadHandles, rowOfBody } from '../facts/factRows.js';
import { DOCUMENT_KEYS, type DocumentRowKind } from '../facts/ledgerDocument.js';

/** Takes an export piece by piece, for a ledger may be larger than memory. */
export interface ExportWriter {
  /** What is in force, as the rows of an import file: one for the workshop and its weights, else a list. */
  key(name: string, rows: object | readonly object[]): void;
  /** The ledger as it is stored, row by row. */
  copy(of: Copied, row: CopiedRow): void;
}

/** Writes the whole ledger: what is in force for people and other programs to read, and all of it with its history. */
export async function exportLedger(
  tx: Tx,
  writer: ExportWriter,
  sayLeft: SayLeft = SAY_NOTHING,
): Promise<{ readonly schema: string }> {
  for (const kind of ['workshop', 'weights'] as const) {
    const fact = (await tx.facts.list(kind)).at(-1);
    if (fact) writer.key(kind, (await getFactRow(tx, fact.id)).row);
  }
  const kinds = Object.keys(DOCUMENT_KEYS) as DocumentRowKind[];
  let left = kinds.length + COPIED.length;
  const say = (): Promise<void> => sayLeft('writing lists', left);
  for (const kind of kinds) {
    await say();
    writer.key(DOCUMENT_KEYS[kind], await listRows(tx, kind));
    left -= 1;
  }
  for (const of of COPIED) {
    for await (const row of tx.copies.rows(of)) {
      await say();
      writer.copy(of, row);
    }
    left -= 1;
  }
  return { schema: tx.copies.schema };
}

async function listRows(tx: Tx, kind: DocumentRowKind): Promise<object[]> {
  const handles = await loadHandles(tx);
  const rows: object[] = [];
  for (const fact of await tx.facts.list(kind as FactKind))
    rows.push(
      isRowKind(kind)
        ? rowOfBody(kind as FactRowKind, fact.body as never, handles)
        : (await getFactRow(tx, fact.id)).row,
    );
  return rows;
}
