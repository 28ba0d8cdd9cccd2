import { readFileSync } from 'node:fs';
import type { PaperData, PaperItem } from '../../src/paper/paper-data.js';
import { readPaperData } from '../../src/paper/read-paper.js';

/**
 * What `haunch make docs/examples/reading-stand/job.json` wrote as paper/paper.json: three leaning plates from two boards. After a wanted
 * change of the data, copy it here again.
 */
export const STORED = readFileSync(new URL('reading-stand.paper.json', import.meta.url), 'utf8');

/** The stored data, read anew. */
export function stored(): PaperData {
  const read = readPaperData(STORED, 'paper.json');
  if (!read.ok) throw new Error(read.diagnostics[0]?.message);
  return read.value;
}

/** The same job with its first side's parts so many times over, each with a name of its own, side by side. */
export function manyParts(count: number): PaperData {
  const data = stored();
  const [side, ...others] = data.sides;
  const { items } = side!;
  const parts = data.report.parts.filter((p) => items.some((i) => i.part === p.id));
  const id = (k: number): string => `P${k + 1}`;
  const many = Array.from({ length: count }, (_, k): PaperItem => {
    const like = items[k % items.length]!;
    return { ...like, item: id(k), part: id(k) };
  });
  return {
    ...data,
    sides: [{ ...side!, items: many }, ...others.map((o) => ({ ...o, items: [] }))],
    report: {
      ...data.report,
      parts: many.map((m, k) => ({ ...parts[k % parts.length]!, id: m.part, name: `shelf ${k + 1}` })),
      joints: [],
    },
  };
}
