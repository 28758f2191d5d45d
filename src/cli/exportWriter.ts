import { createHash } from 'node:crypto';
import type { ExportWriter } from '../flow/carry/exportLedger.js';
import { COPIED, type Copied } from '../ports/copies.js';
import { summed } from './ledgerPart.js';
import { rowsOf } from './writePart.js';

/** Writes an export as one JSON object, a row a line, so that it is never held whole. */
export function exportWriter(write: (text: string) => void): ExportWriter & { end(schema: string): void } {
  const sum = createHash('sha256');
  let isFirstKey = true;
  let isFirstRow = true;
  let open: Copied | null = null;
  const key = (name: string): string => {
    const lead = isFirstKey ? '{\n' : ',\n';
    isFirstKey = false;
    return `${lead}${JSON.stringify(name)}: `;
  };
  /** Opens the table of a row, and those before it that had none. */
  const turnTo = (of: Copied | null): void => {
    const from = open === null ? -1 : COPIED.indexOf(open);
    const to = of === null ? COPIED.length : COPIED.indexOf(of);
    if (from === to) return;
    if (open === null) write(`${key('ledger')}{"rows": {`);
    else write('\n]');
    for (const between of COPIED.slice(from + 1, to))
      write(`${comma(between)}${JSON.stringify(between)}: []`);
    if (of !== null) write(`${comma(of)}${JSON.stringify(of)}: [`);
    open = of;
    isFirstRow = true;
  };
  const comma = (of: Copied): string => (of === COPIED[0] ? '\n' : ',\n');
  return {
    key: (name, rows) => write(key(name) + rowsOf(rows)),
    copy: (of, row) => {
      turnTo(of);
      write(`${isFirstRow ? '' : ','}\n${summed(sum, of, row)}`);
      isFirstRow = false;
    },
    end: (schema) => {
      turnTo(null);
      write(`\n}, "schema": ${JSON.stringify(schema)}, "sha256": "${sum.digest('hex')}"}\n}\n`);
    },
  };
}
