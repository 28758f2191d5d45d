import { shownName } from '../core/lines.js';
/** What a command says: JSON lines for scripts, or aligned tables and sentences for people. */
export interface Output {
  readonly json: boolean;
  /** One JSON object a line; nothing where people read. */
  object(value: object): void;
  /** For people only. */
  line(text: string): void;
  table(head: readonly string[], rows: readonly (readonly string[])[]): void;
  /** On stderr: what went wrong and what to do next. */
  complain(text: string): void;
}

export function openOutput(json: boolean): Output {
  const write = (text: string) => void process.stdout.write(`${text}\n`);
  return {
    json,
    object: (value) => {
      if (json) write(JSON.stringify(value));
    },
    line: (text) => {
      if (!json) write(text.split('\n').map(shownName).join('\n'));
    },
    table: (head, rows) => {
      if (json) return;
      const cells = [head, ...rows].map((row) => row.map(shownName));
      const widths = head.map((_, i) => Math.max(...cells.map((row) => [...(row[i] ?? '')].length)));
      for (const row of cells) {
        write(
          row
            .map((cell, i) => cell.padEnd(widths[i]! + cell.length - [...cell].length))
            .join('  ')
            .trimEnd(),
        );
      }
    },
    complain: (text) => void process.stderr.write(`${text}\n`),
  };
}
