import { type Point, type Ring, ringArea, type Vertex } from '@haunch/geometry';
import type { Entity } from '../drawing.js';
import type { SegmentGraph } from './join-ends.js';
import type { LooseSegment } from './loose-segment.js';

/** A closed curve made of loose segments. */
export interface TracedLoop {
  readonly ring: Ring;
  readonly entities: readonly Entity[];
}

/** Segments that close nothing, as a run from end to end. */
export interface OpenRun {
  readonly segments: readonly LooseSegment[];
  readonly start: Point;
  readonly end: Point;
  /** Whether it hangs on a closed curve or branches, so that it is no contour with a gap. */
  readonly hangs: boolean;
}

export interface Traced {
  readonly loops: readonly TracedLoop[];
  readonly open: readonly OpenRun[];
  /** Segments that lie between two loops and were given to both. */
  readonly shared: readonly LooseSegment[];
}

/** Half-edge 2i runs segment i forward, 2i + 1 backward. */
const twin = (h: number): number => h ^ 1;

/**
 * Finds the closed curves in a graph of segments. Runs with a loose end are taken off first. Where every node
 * joins two segments the curve is plain; at branches the faces of the plane graph are walked, and a face that
 * passes a node twice is split there, so that a hole touching its outline stays a hole.
 */
export function traceLoops(segments: readonly LooseSegment[], graph: SegmentGraph): Traced {
  const alive = segments.map((_, i) => graph.ends[i]![0] !== graph.ends[i]![1]);
  const at = new Map<number, number[]>();
  graph.ends.forEach(([a, b], i) => {
    if (!alive[i]) return;
    for (const n of [a, b]) {
      const list = at.get(n);
      if (list === undefined) at.set(n, [i]);
      else list.push(i);
    }
  });
  const peeled = peel(graph, at, alive);
  const faces = walkFaces(segments, graph, alive, peeled);
  const open = openRuns(segments, graph, peeled, alive);
  return { loops: faces.loops, open, shared: faces.shared };
}

/** Takes off, again and again, segments with an end at which nothing else ends. */
function peel(graph: SegmentGraph, at: ReadonlyMap<number, number[]>, alive: boolean[]): number[] {
  const degree = new Map([...at].map(([n, list]) => [n, list.length]));
  const queue = [...degree].filter(([, d]) => d === 1).map(([n]) => n);
  const out: number[] = [];
  for (let n = queue.pop(); n !== undefined; n = queue.pop()) {
    for (const s of at.get(n)!) {
      if (!alive[s]) continue;
      alive[s] = false;
      out.push(s);
      const [a, b] = graph.ends[s]!;
      for (const m of [a, b]) {
        const d = degree.get(m)! - 1;
        degree.set(m, d);
        if (d === 1) queue.push(m);
      }
    }
  }
  return out;
}

/** The direction in which a half-edge leaves its node, and its curvature to part those that leave alike. */
function leaving(
  segments: readonly LooseSegment[],
  graph: SegmentGraph,
  h: number,
): { angle: number; curve: number } {
  const s = segments[h >> 1]!;
  const [na, nb] = graph.ends[h >> 1]!;
  const [a, b] = h & 1 ? [graph.nodes[nb]!, graph.nodes[na]!] : [graph.nodes[na]!, graph.nodes[nb]!];
  const bulge = h & 1 ? -s.bulge : s.bulge;
  const chord = Math.atan2(b.y - a.y, b.x - a.x);
  const length = Math.hypot(b.x - a.x, b.y - a.y);
  const angle = chord - 2 * Math.atan(bulge);
  const full = 2 * Math.PI;
  // Rounded, so that tangents that agree in all but rounding are parted by curvature.
  const turned = Number((((angle % full) + full) % full).toFixed(7));
  return { angle: turned >= 6.2831853 ? 0 : turned, curve: (4 * bulge) / ((1 + bulge * bulge) * length) };
}

function walkFaces(
  segments: readonly LooseSegment[],
  graph: SegmentGraph,
  alive: boolean[],
  peeled: number[],
): { loops: TracedLoop[]; shared: LooseSegment[] } {
  for (;;) {
    const out = new Map<number, number[]>();
    const start = (h: number): number => graph.ends[h >> 1]![h & 1]!;
    segments.forEach((_, i) => {
      if (!alive[i]) return;
      for (const h of [2 * i, 2 * i + 1]) {
        const list = out.get(start(h));
        if (list === undefined) out.set(start(h), [h]);
        else list.push(h);
      }
    });
    const next = new Map<number, number>();
    for (const list of out.values()) {
      const sorted =
        list.length === 2
          ? list
          : list
              .map((h) => ({ h, ...leaving(segments, graph, h) }))
              .sort((p, q) => p.angle - q.angle || p.curve - q.curve || p.h - q.h)
              .map((p) => p.h);
      // After arriving by the twin of sorted[i], the face on the left goes on with the next clockwise.
      for (const [i, h] of sorted.entries())
        next.set(twin(h), sorted[(i + sorted.length - 1) % sorted.length]!);
    }
    const faceOf = new Map<number, number>();
    const faces: number[][] = [];
    for (const first of next.keys()) {
      if (faceOf.has(first)) continue;
      const face: number[] = [];
      for (let h = first; !faceOf.has(h); h = next.get(h)!) {
        faceOf.set(h, faces.length);
        face.push(h);
      }
      faces.push(face);
    }
    const bridges = segments.flatMap((_, i) =>
      alive[i] && faceOf.get(2 * i) === faceOf.get(2 * i + 1) ? [i] : [],
    );
    if (bridges.length === 0) return loopsOfFaces(segments, graph, faces, start);
    for (const i of bridges) {
      alive[i] = false;
      peeled.push(i);
    }
  }
}

function loopsOfFaces(
  segments: readonly LooseSegment[],
  graph: SegmentGraph,
  faces: readonly number[][],
  start: (h: number) => number,
): { loops: TracedLoop[]; shared: LooseSegment[] } {
  const loops: TracedLoop[] = [];
  const seen = new Set<string>();
  const inside = new Map<number, number>();
  const pinched = new Set<number>();
  for (const face of faces) {
    const whole = ringOf(segments, graph, face);
    if (whole === null || ringArea(whole) <= 0) continue;
    for (const h of face) inside.set(h >> 1, (inside.get(h >> 1) ?? 0) + 1);
    const cycles = splitAtRepeats(face, start);
    for (const cycle of cycles) {
      // A hole that touches its outline has that face on one side and its own on the other: no neighbour's edge.
      if (cycles.length > 1 && isHole(segments, graph, cycle)) for (const h of cycle) pinched.add(h >> 1);
      const key = [...cycle]
        .map((h) => h >> 1)
        .sort((a, b) => a - b)
        .join(' ');
      const ring = seen.has(key) ? null : ringOf(segments, graph, cycle);
      seen.add(key);
      if (ring !== null) loops.push({ ring, entities: entitiesOf(cycle.map((h) => segments[h >> 1]!)) });
    }
  }
  const shared = [...inside]
    .filter(([, n]) => n > 1)
    .map(([i]) => i)
    .sort((a, b) => a - b);
  return { loops, shared: shared.filter((i) => !pinched.has(i)).map((i) => segments[i]!) };
}

const isHole = (
  segments: readonly LooseSegment[],
  graph: SegmentGraph,
  cycle: readonly number[],
): boolean => {
  const ring = ringOf(segments, graph, cycle);
  return ring !== null && ringArea(ring) < 0;
};

/** Cuts a closed walk into walks that pass no node twice. */
function splitAtRepeats(face: readonly number[], start: (h: number) => number): number[][] {
  const out: number[][] = [];
  const stack: number[] = [];
  const where = new Map<number, number>();
  for (const h of face) {
    const n = start(h);
    const before = where.get(n);
    if (before !== undefined) {
      const cycle = stack.splice(before);
      for (const c of cycle) where.delete(start(c));
      out.push(cycle);
    }
    where.set(n, stack.length);
    stack.push(h);
  }
  out.push(stack);
  return out;
}

function ringOf(
  segments: readonly LooseSegment[],
  graph: SegmentGraph,
  cycle: readonly number[],
): Ring | null {
  const vertices: Vertex[] = cycle.map((h) => {
    const p = graph.nodes[graph.ends[h >> 1]![h & 1]!]!;
    const bulge = segments[h >> 1]!.bulge;
    return { x: p.x, y: p.y, bulge: h & 1 ? -bulge + 0 : bulge };
  });
  if (vertices.length < 2 || vertices.every((v) => v.bulge === 0 && vertices.length < 3)) return null;
  return { vertices };
}

const entitiesOf = (segments: readonly LooseSegment[]): Entity[] => [
  ...new Set(segments.map((s) => s.entity)),
];

/** Orders the segments that closed nothing into runs. */
function openRuns(
  segments: readonly LooseSegment[],
  graph: SegmentGraph,
  peeled: readonly number[],
  alive: readonly boolean[],
): OpenRun[] {
  const at = new Map<number, number[]>();
  for (const s of peeled)
    for (const n of graph.ends[s]!) {
      const list = at.get(n);
      if (list === undefined) at.set(n, [s]);
      else list.push(s);
    }
  const onLoop = new Set<number>();
  graph.ends.forEach(([a, b], i) => {
    if (alive[i]) {
      onLoop.add(a);
      onLoop.add(b);
    }
  });
  const used = new Set<number>();
  const runs: OpenRun[] = [];
  const stops = (n: number): boolean => at.get(n)!.length !== 2 || onLoop.has(n);
  const walk = (first: number, from: number): void => {
    const run: LooseSegment[] = [];
    let node = from;
    for (let s: number | undefined = first; s !== undefined; ) {
      used.add(s);
      run.push(segments[s]!);
      const [a, b] = graph.ends[s]!;
      node = a === node ? b : a;
      s = stops(node) ? undefined : at.get(node)!.find((t) => !used.has(t));
    }
    const hangs = [from, node].some((n) => at.get(n)!.length > 1 || onLoop.has(n));
    runs.push({ segments: run, start: graph.nodes[from]!, end: graph.nodes[node]!, hangs });
  };
  for (const s of [...peeled].sort((a, b) => a - b))
    for (const n of graph.ends[s]!) if (!used.has(s) && stops(n)) walk(s, n);
  return runs;
}
