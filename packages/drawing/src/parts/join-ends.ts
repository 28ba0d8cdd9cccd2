import { distance, type Point } from '@haunch/geometry';
import { type LooseSegment, pointKey } from './loose-segment.js';

/** Segments as edges between nodes: places where ends meet. */
export interface SegmentGraph {
  readonly nodes: readonly Point[];
  /** For each segment, the node at its start and at its end. */
  readonly ends: readonly (readonly [number, number])[];
  /** Gaps that were closed, mm, with the place. */
  readonly joined: readonly { readonly gap: number; readonly at: Point }[];
}

interface Node {
  at: Point;
  /** Whether a straight line ends here: its end is surer than an arc's, which is computed. */
  straight: boolean;
  segments: number[];
}

const before = (a: Point, b: Point): number => a.x - b.x || a.y - b.y;

/**
 * Joins the ends of segments: equal ends first, then a loose end with the nearest other end within `within` mm,
 * the nearest pairs first. The two ends of one segment are never merged.
 */
export function joinEnds(segments: readonly LooseSegment[], within: number): SegmentGraph {
  const nodes: Node[] = [];
  const byKey = new Map<string, number>();
  const ends: [number, number][] = [];
  const nodeAt = (p: Point): number => {
    const key = pointKey(p);
    let n = byKey.get(key);
    if (n === undefined) {
      n = nodes.length;
      nodes.push({ at: p, straight: false, segments: [] });
      byKey.set(key, n);
    }
    return n;
  };
  segments.forEach((s, i) => {
    const pair: [number, number] = [nodeAt(s.from), nodeAt(s.to)];
    ends.push(pair);
    for (const n of pair) {
      nodes[n]!.segments.push(i);
      if (s.bulge === 0) nodes[n]!.straight = true;
    }
  });

  const root = nodes.map((_, i) => i);
  const find = (n: number): number => {
    let r = n;
    while (root[r] !== r) r = root[r]!;
    for (let i = n; root[i] !== r; ) [root[i], i] = [r, root[i]!];
    return r;
  };
  const joined: { gap: number; at: Point }[] = [];
  for (const { a, b, gap } of nearPairs(nodes, within)) {
    const [ra, rb] = [find(a), find(b)];
    const [na, nb] = [nodes[ra]!, nodes[rb]!];
    if (ra === rb || (na.segments.length !== 1 && nb.segments.length !== 1)) continue;
    const [few, other] = na.segments.length <= nb.segments.length ? [na, rb] : [nb, ra];
    if (few.segments.some((s) => find(ends[s]![0]) === other || find(ends[s]![1]) === other)) continue;
    const keepA = na.straight !== nb.straight ? na.straight : before(na.at, nb.at) <= 0;
    const [keep, drop] = keepA ? [ra, rb] : [rb, ra];
    root[drop] = keep;
    nodes[keep]!.segments.push(...nodes[drop]!.segments);
    joined.push({ gap, at: nodes[keep]!.at });
  }
  return {
    nodes: nodes.map((_, i) => nodes[find(i)]!.at),
    ends: ends.map(([a, b]) => [find(a), find(b)]),
    joined,
  };
}

/** Pairs of nodes within reach, one of them a loose end; the nearest first, in a total order. */
function nearPairs(nodes: readonly Node[], within: number): { a: number; b: number; gap: number }[] {
  const cell = (v: number): number => Math.floor(v / within);
  const cells = new Map<string, number[]>();
  nodes.forEach((n, i) => {
    const key = `${cell(n.at.x)},${cell(n.at.y)}`;
    const here = cells.get(key);
    if (here === undefined) cells.set(key, [i]);
    else here.push(i);
  });
  const out: { a: number; b: number; gap: number }[] = [];
  nodes.forEach((n, i) => {
    if (n.segments.length !== 1) return;
    for (let dx = -1; dx <= 1; dx++)
      for (let dy = -1; dy <= 1; dy++)
        for (const j of cells.get(`${cell(n.at.x) + dx},${cell(n.at.y) + dy}`) ?? []) {
          if (j === i || (nodes[j]!.segments.length === 1 && j < i)) continue;
          const gap = distance(n.at, nodes[j]!.at);
          if (gap <= within) out.push({ a: i, b: j, gap });
        }
  });
  return out.sort((p, q) => p.gap - q.gap || p.a - q.a || p.b - q.b);
}
