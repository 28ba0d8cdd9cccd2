import { distance, type Point } from '@haunch/geometry';
import { cellTable } from './point-table.js';

/** Two nodes that are `gap` mm from each other. */
export interface NearPair {
  readonly a: number;
  readonly b: number;
  readonly gap: number;
}

/**
 * Pairs of nodes within reach of each other, of which at least one is a loose end; the nearest first, and among
 * equals in the order of their places. Takes time of order n log n where few nodes are that near.
 */
export function looseEndPairs(nodes: readonly Point[], degree: Int32Array, within: number): NearPair[] {
  const loose: number[] = [];
  nodes.forEach((_, i) => {
    if (degree[i] === 1) loose.push(i);
  });
  if (loose.length === 0) return [];
  // Cells twice as wide as the reach, so that four of them hold all that is near.
  const size = 2 * within;
  const cells = cellTable(nodes.length);
  nodes.forEach((p, i) => {
    if (degree[i]! > 0) cells.add(Math.floor(p.x / size), Math.floor(p.y / size), i);
  });
  const out: NearPair[] = [];
  let i = 0;
  const see = (j: number): void => {
    if (j === i || (degree[j] === 1 && j < i)) return;
    const [p, q] = [nodes[i]!, nodes[j]!];
    const gap = distance(p, q);
    if (gap > within) return;
    const first = p.x < q.x || (p.x === q.x && p.y <= q.y);
    out.push(first ? { a: i, b: j, gap } : { a: j, b: i, gap });
  };
  for (i of loose) {
    const [x, y] = [nodes[i]!.x / size, nodes[i]!.y / size];
    const [cx, cy] = [Math.floor(x), Math.floor(y)];
    const sideX = x - cx < 0.5 ? -1 : 1;
    const sideY = y - cy < 0.5 ? -1 : 1;
    cells.visit(cx, cy, see);
    cells.visit(cx + sideX, cy, see);
    cells.visit(cx, cy + sideY, see);
    cells.visit(cx + sideX, cy + sideY, see);
  }
  const place = (p: number): Point => nodes[p]!;
  return out.sort(
    (p, q) =>
      p.gap - q.gap ||
      place(p.a).x - place(q.a).x ||
      place(p.a).y - place(q.a).y ||
      place(p.b).x - place(q.b).x ||
      place(p.b).y - place(q.b).y ||
      p.a - q.a ||
      p.b - q.b,
  );
}
