import { COPIED } from '../../ports/copies.js';
import type { Tx } from '../../ports/store.js';
import type { CopiedLedger } from '../facts/ledgerDocument.js';
import type { Touched } from '../facts/touched.js';
import { refuseCommand } from '../refuse.js';
import { findWorkshop } from '../settings.js';

/**
 * Takes the rows of an export as they were stored, ids and history with them. Returns the ids of the facts it added.
 * Errors: `refused` where they have another shape, or contradict what is here.
 */
export async function copyLedger(
  tx: Tx,
  { schema, rows }: CopiedLedger,
  touched: Touched,
): Promise<string[]> {
  if (schema !== tx.copies.schema)
    refuseCommand(
      `This export was made by another version (${schema}; this one is ${tx.copies.schema}).`,
      'Export it again with this version, or restore a backup.',
    );
  const standing = await findWorkshop(tx);
  const isOurs = rows.fact.some((row) => row.kind === 'workshop' && row.entity_id === standing?.entityId);
  if (standing && !isOurs)
    refuseCommand(
      `This data folder has a ledger of its own, of workshop "${standing.body.handle}".`,
      'Import the export into an empty data folder: --data FOLDER.',
    );
  const factIds: string[] = [];
  let isNews = false;
  for (const of of COPIED) {
    for (const row of rows[of]) {
      if (!(await tx.copies.add(of, row))) continue;
      isNews = true;
      if (of === 'fact') factIds.push(String(row.id));
      if (of === 'reading') touched.readingIds.add(String(row.id));
    }
  }
  if (isNews) {
    await touchAll(tx, touched);
    await tx.findWords.rebuild();
  }
  return factIds;
}

/** Everything derived follows from what was taken. */
async function touchAll(tx: Tx, touched: Touched): Promise<void> {
  touched.allRides = touched.allUnits = true;
  for (const id of await tx.readings.listIds()) touched.readingIds.add(id);
  for (const fact of await tx.facts.list('hours')) touched.entryIds.add(fact.entityId);
  for (const fact of await tx.facts.list('booking')) touched.bookingIds.add(fact.entityId);
}
