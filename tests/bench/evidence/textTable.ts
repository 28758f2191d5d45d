/** Returns rows as aligned text, the first column to the left. */
export function textTable(rows: readonly (readonly string[])[]): string {
  const widths = rows[0]!.map((_, i) => Math.max(...rows.map((row) => (row[i] ?? '').length)));
  return rows
    .map((row) =>
      row.map((cell, i) => (i === 0 ? cell.padEnd(widths[i]!) : cell.padStart(widths[i]!))).join('  '),
    )
    .join('\n');
}
