import { distance, type Point } from '@haunch/geometry';
import type { Entity } from '../drawing.js';
import { type LooseSegment, strokeOf } from './loose-segment.js';
import { cellTable, pointTable } from './point-table.js';
import type { RepairBook } from './repair.js';

/** Ends nearer than this are one, mm: most files that join at all join here. */
export const JOIN = 0.01;

/** Segments as edges between nodes: places where ends meet. */
export interface SegmentGraph {
  readonly nodes: readonly Point[];
  /** For each segment, the node at its start and at its end. */
  readonly ends: readonly (readonly [number, number])[];
}

/** Segments with their graph; bridges over gaps are segments of their own. */
export interface JoinedEnds {
  readonly segments: readonly LooseSegment[];
  readonly graph: SegmentGraph;
}

interface Node {
  at: Point;
  /** Whether a straight line ends here: its end is surer than an arc's, which is computed. */
  straight: boolean;
  segments: number[];
}

const before = (a: Point, b: Point): number => a.x - b.x || a.y - b.y;

/** Ends that are equal are one node. */
export function equalEnds(segments: readonly LooseSegment[]): SegmentGraph {
  const table = pointTable(2 * segments.length);
  const ends = segments.map((s): [number, number] => [table.number(s.from), table.number(s.to)]);
  return { nodes: table.places, ends };
}

/**
 * Joins the ends of segments, the nearest pairs first: a loose end with another end within `JOIN` becomes one with
 * it. Where a wider gap, up to `within` mm, is left between two loose ends, two lines are met at their
 * corner, and everything else is bridged by a straight line, so that nothing drawn is bent. The two ends of one
 * segment are never merged. Every gap that is closed is entered, those within the grid as well.
 */
export function joinEnds(
  segments: readonly LooseSegment[],
  graph: SegmentGraph,
  within: number,
  book: RepairBook,
): JoinedEnds {
  const nodes = graph.nodes.map((at): Node => ({ at, straight: false, segments: [] }));
  segments.forEach((s, i) => {
    for (const n of graph.ends[i]!) {
      nodes[n]!.segments.push(i);
      if (s.bulge === 0) nodes[n]!.straight = true;
    }
  });
  const pairs = nearPairs(nodes, within);
  if (pairs.length === 0) return { segments, graph };

  const root = Int32Array.from(nodes, (_, i) => i);
  const find = (n: number): number => {
    let r = n;
    while (root[r] !== r) r = root[r]!;
    for (let i = n; root[i] !== r; ) {
      const up = root[i]!;
      root[i] = r;
      i = up;
    }
    return r;
  };
  const bridges: { segment: LooseSegment; ends: [number, number] }[] = [];
  // Ends that a bridge holds, or that were to be kept as they are drawn.
  const settled = new Set<number>();
  for (const { a, b, gap } of pairs) {
    const [ra, rb] = [find(a), find(b)];
    const [na, nb] = [nodes[ra]!, nodes[rb]!];
    const loose = (n: number, node: Node): boolean => node.segments.length === 1 && !settled.has(n);
    if (ra === rb || (!loose(ra, na) && !loose(rb, nb))) continue;
    if (settled.has(ra) || settled.has(rb)) continue;
    // Wider gaps are only closed between ends that are still open.
    if (gap > JOIN && !(loose(ra, na) && loose(rb, nb))) continue;
    const [few, other] = na.segments.length <= nb.segments.length ? [na, rb] : [nb, ra];
    if (few.segments.some((s) => find(graph.ends[s]![0]) === other || find(graph.ends[s]![1]) === other))
      continue;
    const entities = entitiesAt(segments, na, nb);
    const corner = gap > JOIN ? cornerOf(segments, na, nb, gap) : null;
    if (gap > JOIN && corner === null) {
      const entity = segments[na.segments[0]!]!.entity;
      const segment: LooseSegment = { from: na.at, to: nb.at, bulge: 0, entity };
      const draft = () => ({ before: endStrokes(na, nb), after: [strokeOf(segment)], deviation: gap });
      settled.add(ra).add(rb);
      if (book.mend('join', na.at, entities, draft)) bridges.push({ segment, ends: [ra, rb] });
      continue;
    }
    const keepA = na.straight !== nb.straight ? na.straight : before(na.at, nb.at) <= 0;
    const [keep, drop] = keepA ? [ra, rb] : [rb, ra];
    const place = corner ?? nodes[keep]!.at;
    const deviation = Math.max(distance(place, na.at), distance(place, nb.at));
    const draft = () => ({ before: endStrokes(na, nb), after: [pointStroke(place)], deviation });
    if (!book.mend('join', place, entities, draft)) {
      settled.add(ra).add(rb);
      continue;
    }
    root[drop] = keep;
    nodes[keep]!.at = place;
    nodes[keep]!.segments.push(...nodes[drop]!.segments);
  }
  return {
    segments: bridges.length === 0 ? segments : [...segments, ...bridges.map((b) => b.segment)],
    graph: {
      nodes: nodes.map((_, i) => nodes[find(i)]!.at),
      ends: [...graph.ends, ...bridges.map((b) => b.ends)].map(([a, b]) => [find(a), find(b)]),
    },
  };
}

const pointStroke = (p: Point) => ({ vertices: [{ x: p.x, y: p.y, bulge: 0 }], closed: false });
const endStrokes = (a: Node, b: Node) => [pointStroke(a.at), pointStroke(b.at)];

const entitiesAt = (segments: readonly LooseSegment[], a: Node, b: Node): Entity[] => [
  ...new Set([...a.segments, ...b.segments].map((i) => segments[i]!.entity)),
];

/** Lines are met at their corner where it lies no further than this times the gap from both ends. */
const CORNER_REACH = 1.5;
/** Lines whose directions differ by less than this sine have no corner. */
const PARALLEL = 0.1;

/** Where two lines with loose ends would meet, if that is beside the gap; on no other end. */
function cornerOf(segments: readonly LooseSegment[], a: Node, b: Node, gap: number): Point | null {
  if (a.segments.length !== 1 || b.segments.length !== 1) return null;
  const [s, t] = [segments[a.segments[0]!]!, segments[b.segments[0]!]!];
  if (s.bulge !== 0 || t.bulge !== 0) return null;
  const [u, v] = [directionOf(s), directionOf(t)];
  const sine = u.x * v.y - u.y * v.x;
  if (Math.abs(sine) < PARALLEL) return null;
  const along = ((b.at.x - a.at.x) * v.y - (b.at.y - a.at.y) * v.x) / sine;
  const corner = { x: a.at.x + along * u.x, y: a.at.y + along * u.y };
  const off = Math.max(distance(corner, a.at), distance(corner, b.at));
  const room = Math.min(distance(s.from, s.to), distance(t.from, t.to)) / 2;
  if (off > CORNER_REACH * gap || off > room) return null;
  return { x: Math.round(corner.x * 1e4) / 1e4 + 0, y: Math.round(corner.y * 1e4) / 1e4 + 0 };
}

function directionOf(s: LooseSegment): Point {
  const d = distance(s.from, s.to);
  return { x: (s.to.x - s.from.x) / d, y: (s.to.y - s.from.y) / d };
}

/** Pairs of nodes within reach, one of them a loose end; the nearest first, in a total order. */
function nearPairs(nodes: readonly Node[], within: number): { a: number; b: number; gap: number }[] {
  const loose: number[] = [];
  nodes.forEach((n, i) => {
    if (n.segments.length === 1) loose.push(i);
  });
  if (loose.length === 0) return [];
  const cell = (v: number): number => Math.floor(v / within);
  const cells = cellTable(nodes.length);
  nodes.forEach((n, i) => {
    if (n.segments.length > 0) cells.add(cell(n.at.x), cell(n.at.y), i);
  });
  const out: { a: number; b: number; gap: number }[] = [];
  for (const i of loose) {
    const { at } = nodes[i]!;
    for (let dx = -1; dx <= 1; dx++)
      for (let dy = -1; dy <= 1; dy++)
        cells.visit(cell(at.x) + dx, cell(at.y) + dy, (j) => {
          const other = nodes[j]!;
          if (j === i || (other.segments.length === 1 && j < i)) return;
          const gap = distance(at, other.at);
          if (gap <= within) out.push({ a: i, b: j, gap });
        });
  }
  const place = (p: { a: number; b: number }): Point => {
    const [a, b] = [nodes[p.a]!.at, nodes[p.b]!.at];
    return before(a, b) <= 0 ? a : b;
  };
  return out.sort((p, q) => p.gap - q.gap || before(place(p), place(q)) || p.a - q.a || p.b - q.b);
}
