/** Rows as a table of Markdown, the first of them its head; all but the first `left` columns stand to the right. */
export function markdownTable(rows: readonly (readonly string[])[], left = 2): string[] {
  const widths = rows[0]!.map((_, i) => Math.max(...rows.map((r) => r[i]!.length)));
  const rule = widths.map((w) => '-'.repeat(w));
  return [rows[0]!, rule, ...rows.slice(1)].map(
    (r) => `| ${r.map((c, i) => (i < left ? c.padEnd(widths[i]!) : c.padStart(widths[i]!))).join(' | ')} |`,
  );
}
