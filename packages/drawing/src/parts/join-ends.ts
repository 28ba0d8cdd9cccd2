import { distance, type Point, snap } from '@haunch/geometry';
import { looseEndPairs } from './loose-end-pairs.js';
import { type LooseSegment, strokeOf } from './loose-segment.js';
import { pointTable } from './point-table.js';
import type { RepairBook, Stroke } from './repair.js';

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

/** Ends that are equal are one node. */
export function equalEnds(segments: readonly LooseSegment[]): SegmentGraph {
  const table = pointTable(2 * segments.length);
  const ends = segments.map((s): [number, number] => [table.number(s.from), table.number(s.to)]);
  return { nodes: table.places, ends };
}

/** What is known of nodes while they are joined, by their numbers. */
interface Nodes {
  readonly at: Point[];
  /** How many ends are in a node. */
  readonly degree: Int32Array;
  /** One of the segments that end there. */
  readonly segment: Int32Array;
  /** Whether a straight line ends there: its end is surer than an arc's, which is computed. */
  readonly straight: Uint8Array;
  /** Ends that a bridge holds, or that are to be kept as they are drawn. */
  readonly settled: Uint8Array;
}

/**
 * Joins the ends of segments, the nearest pairs first: a loose end with another end within `JOIN` becomes one with
 * it. Where a wider gap, up to `within` mm, is left between two loose ends, two lines are met at their corner, and
 * everything else is bridged by a straight line, so that nothing drawn is bent. The two ends of one segment are
 * never merged. Every gap that is closed is entered.
 */
export function joinEnds(
  segments: readonly LooseSegment[],
  graph: SegmentGraph,
  within: number,
  book: RepairBook,
): JoinedEnds {
  const n = graph.nodes.length;
  const nodes: Nodes = {
    at: [...graph.nodes],
    degree: new Int32Array(n),
    segment: new Int32Array(n),
    straight: new Uint8Array(n),
    settled: new Uint8Array(n),
  };
  segments.forEach((s, i) => {
    for (const m of graph.ends[i]!) {
      nodes.degree[m]!++;
      nodes.segment[m] = i;
      if (s.bulge === 0) nodes.straight[m] = 1;
    }
  });
  const pairs = looseEndPairs(graph.nodes, nodes.degree, within);
  if (pairs.length === 0) return { segments, graph };

  const root = Int32Array.from({ length: n }, (_, i) => i);
  const find = (m: number): number => {
    let r = m;
    while (root[r] !== r) {
      root[r] = root[root[r]!]!;
      r = root[r]!;
    }
    return r;
  };
  const bridges: { segment: LooseSegment; ends: [number, number] }[] = [];
  for (const { a, b, gap } of pairs) {
    const [p, q] = [find(a), find(b)];
    if (p === q || nodes.settled[p] === 1 || nodes.settled[q] === 1) continue;
    const bothLoose = nodes.degree[p] === 1 && nodes.degree[q] === 1;
    // Wider gaps are only closed between ends that are still open.
    if (nodes.degree[p] !== 1 && nodes.degree[q] !== 1) continue;
    if (gap > JOIN && !bothLoose) continue;
    const [few, other] = nodes.degree[p] === 1 ? [p, q] : [q, p];
    const [start, end] = graph.ends[nodes.segment[few]!]!;
    if (find(start) === other || find(end) === other) continue;

    const [from, to] = [nodes.at[p]!, nodes.at[q]!];
    const [s, t] = [segments[nodes.segment[p]!]!, segments[nodes.segment[q]!]!];
    const entities = s.entity === t.entity ? [s.entity] : [s.entity, t.entity];
    const before = (): Stroke[] => [pointStroke(from), pointStroke(to)];
    const corner = gap > JOIN ? cornerOf(s, from, t, to, gap) : null;
    if (gap > JOIN && corner === null) {
      nodes.settled[p] = 1;
      nodes.settled[q] = 1;
      const segment: LooseSegment = { from, to, bulge: 0, entity: s.entity };
      const draft = () => ({ before: before(), after: [strokeOf(segment)] });
      if (book.mend('join', from, entities, gap, draft)) bridges.push({ segment, ends: [p, q] });
      continue;
    }
    const keepP =
      nodes.straight[p] !== nodes.straight[q]
        ? nodes.straight[p] === 1
        : from.x < to.x || (from.x === to.x && from.y <= to.y);
    const [keep, drop] = keepP ? [p, q] : [q, p];
    const place = corner ?? nodes.at[keep]!;
    const moved = corner === null ? gap : Math.max(distance(place, from), distance(place, to));
    const draft = () => ({ before: before(), after: [pointStroke(place)] });
    if (!book.mend('join', place, entities, moved, draft)) {
      nodes.settled[p] = 1;
      nodes.settled[q] = 1;
      continue;
    }
    root[drop] = keep;
    nodes.at[keep] = place;
    nodes.degree[keep]! += nodes.degree[drop]!;
    if (nodes.straight[drop] === 1) nodes.straight[keep] = 1;
  }
  const ends = graph.ends.map(([a, b]): [number, number] => [find(a), find(b)]);
  return {
    segments: bridges.length === 0 ? segments : [...segments, ...bridges.map((b) => b.segment)],
    graph: { nodes: nodes.at, ends: [...ends, ...bridges.map((b) => b.ends)] },
  };
}

const pointStroke = (p: Point): Stroke => ({ vertices: [{ x: p.x, y: p.y, bulge: 0 }], closed: false });

/** Lines are met at their corner where it lies no further than this times the gap from both ends. */
const CORNER_REACH = 1.5;
/** Lines whose directions differ by less than this sine have no corner. */
const PARALLEL = 0.1;

/** Where two lines with loose ends would meet, if that is beside the gap. */
function cornerOf(s: LooseSegment, from: Point, t: LooseSegment, to: Point, gap: number): Point | null {
  if (s.bulge !== 0 || t.bulge !== 0) return null;
  const [u, v] = [directionOf(s), directionOf(t)];
  const sine = u.x * v.y - u.y * v.x;
  if (Math.abs(sine) < PARALLEL) return null;
  const along = ((to.x - from.x) * v.y - (to.y - from.y) * v.x) / sine;
  const corner = { x: snap(from.x + along * u.x), y: snap(from.y + along * u.y) };
  const off = Math.max(distance(corner, from), distance(corner, to));
  const room = Math.min(distance(s.from, s.to), distance(t.from, t.to)) / 2;
  return off > CORNER_REACH * gap || off > room ? null : corner;
}

function directionOf(s: LooseSegment): Point {
  const d = distance(s.from, s.to);
  return { x: (s.to.x - s.from.x) / d, y: (s.to.y - s.from.y) / d };
}
