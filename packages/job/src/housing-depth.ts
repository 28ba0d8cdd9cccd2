import type { Part } from '@haunch/model';

/** The depth of a job's housings: that of the most of them, the shallower of equals; undefined where it has none. mm */
export function housingDepthOf(parts: readonly Part[]): number | undefined {
  const counts = new Map<number, number>();
  for (const p of parts) for (const { depth } of p.pockets) counts.set(depth, (counts.get(depth) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1] || a[0] - b[0])[0]?.[0];
}
