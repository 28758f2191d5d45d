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

/** Control characters and those that turn the direction of writing would forge what a terminal shows. */
const plain = (text: string): string =>
  text.replace(
    /[\p{Cc}\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu,
    (c) => `\\u{${c.codePointAt(0)!.toString(16)}}`,
  );

export function openOutput(json: boolean): Output {
  const write = (text: string) => void process.stdout.write(`${text}\n`);
  return {
    json,
    object: (value) => {
      if (json) write(JSON.stringify(value));
    },
    line: (text) => {
      if (!json) write(text.split('\n').map(plain).join('\n'));
    },
    table: (head, rows) => {
      if (json) return;
      const cells = [head, ...rows].map((row) => row.map(plain));
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
