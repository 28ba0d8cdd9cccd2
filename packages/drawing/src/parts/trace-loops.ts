import { type Point, type Ring, ringArea, type Vertex } from '@haunch/geometry';
import type { SegmentGraph } from './join-ends.js';
import type { LooseSegment } from './loose-segment.js';
import { type Neighbours, neighboursOf, peelLooseEnds } from './segment-neighbours.js';

/** A closed curve made of loose segments. */
export interface TracedLoop {
  readonly ring: Ring;
  /** The number of the segment that each of its edges is. */
  readonly segments: readonly number[];
}

/** Segments that close nothing, as a run from end to end. */
export interface OpenRun {
  readonly segments: readonly LooseSegment[];
  readonly start: Point;
  readonly end: Point;
  /** Whether it hangs on a closed curve or branches, so that it is no contour with a gap. */
  readonly hangs: boolean;
}

/** What a graph of segments holds. */
export interface Traced {
  readonly loops: readonly TracedLoop[];
  readonly open: readonly OpenRun[];
  /** Numbers of the segments that are in no loop. */
  readonly loose: readonly number[];
  /** Segments that lie between two loops and were given to both. */
  readonly shared: readonly number[];
}

/** Half-edge 2i runs segment i forward, 2i + 1 backward. */
const twin = (h: number): number => h ^ 1;

/**
 * Finds the closed curves in a graph of segments. Runs with a loose end are taken off first. Where every node
 * joins two segments the curve is plain; at branches the faces of the plane graph are walked, and a face that
 * passes a node twice is split there, so that a hole touching its outline stays a hole. `among` limits it to some
 * of the segments. Takes time of order n log n.
 */
export function traceLoops(
  segments: readonly LooseSegment[],
  graph: SegmentGraph,
  among?: readonly number[],
): Traced {
  const alive = new Uint8Array(segments.length);
  const numbers = among ?? segments.map((_, i) => i);
  for (const i of numbers) if (graph.ends[i]![0] !== graph.ends[i]![1]) alive[i] = 1;
  const at = neighboursOf(graph, alive);
  const loose = peelLooseEnds(graph, at, alive);
  const loops: TracedLoop[] = [];
  const branched = plainLoops(segments, graph, at, alive, loops);
  const walked = walkFaces(segments, graph, branched, loose);
  for (const l of walked.loops) loops.push(l);
  const looped = new Uint8Array(segments.length);
  for (const l of loops) for (const i of l.segments) looped[i] = 1;
  // What faces of no area leave over is in no loop either, and must not be lost.
  const given = new Set(loose);
  for (const i of branched) if (looped[i] === 0 && !given.has(i)) loose.push(i);
  loose.sort((a, b) => a - b);
  const open = openRuns(segments, graph, loose, looped);
  return { loops, open, loose, shared: walked.shared };
}

/** Makes loops of what joins two and two, and gives the numbers of all other segments. */
function plainLoops(
  segments: readonly LooseSegment[],
  graph: SegmentGraph,
  at: Neighbours,
  alive: Uint8Array,
  loops: TracedLoop[],
): number[] {
  const branched: number[] = [];
  const done = new Uint8Array(segments.length);
  for (let first = 0; first < segments.length; first++) {
    if (alive[first] === 0 || done[first] === 1) continue;
    const cycle: number[] = [];
    let plain = true;
    let node = graph.ends[first]![0];
    const origin = node;
    let s = first;
    do {
      done[s] = 1;
      const [a, b] = graph.ends[s]!;
      const forward = a === node;
      cycle.push(2 * s + (forward ? 0 : 1));
      node = forward ? b : a;
      let onward = -1;
      let count = 0;
      for (let k = at.first[node]!; k < at.first[node + 1]!; k++) {
        const t = at.list[k]!;
        if (alive[t] === 0) continue;
        count++;
        if (t !== s) onward = t;
      }
      if (count !== 2) plain = false;
      s = onward;
    } while (plain && node !== origin && done[s] === 0);
    if (plain && node === origin) {
      const ring = ringOf(segments, graph, cycle);
      if (ring !== null) {
        loops.push(loopOf(ring, cycle));
        continue;
      }
    }
    for (const h of cycle) branched.push(h >> 1);
  }
  return branched.sort((a, b) => a - b);
}

/** The direction in which a half-edge leaves its node, and its curvature to part those that leave alike. */
function leaving(
  segments: readonly LooseSegment[],
  graph: SegmentGraph,
  h: number,
): { angle: number; curve: number } {
  const s = segments[h >> 1]!;
  const [from, to] = graph.ends[h >> 1]!;
  const [a, b] = h & 1 ? [graph.nodes[to]!, graph.nodes[from]!] : [graph.nodes[from]!, graph.nodes[to]!];
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
  branched: readonly number[],
  loose: number[],
): { loops: TracedLoop[]; shared: number[] } {
  const start = (h: number): number => graph.ends[h >> 1]![h & 1]!;
  let left = branched;
  for (;;) {
    const out = new Map<number, number[]>();
    for (const i of left)
      for (const h of [2 * i, 2 * i + 1]) {
        const list = out.get(start(h));
        if (list === undefined) out.set(start(h), [h]);
        else list.push(h);
      }
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
    const bridges = new Set(left.filter((i) => faceOf.get(2 * i) === faceOf.get(2 * i + 1)));
    if (bridges.size === 0) return loopsOfFaces(segments, graph, faces, start);
    for (const i of bridges) loose.push(i);
    left = left.filter((i) => !bridges.has(i));
  }
}

function loopsOfFaces(
  segments: readonly LooseSegment[],
  graph: SegmentGraph,
  faces: readonly number[][],
  start: (h: number) => number,
): { loops: TracedLoop[]; shared: number[] } {
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
      if (ring !== null) loops.push(loopOf(ring, cycle));
    }
  }
  const shared = [...inside]
    .filter(([i, n]) => n > 1 && !pinched.has(i))
    .map(([i]) => i)
    .sort((a, b) => a - b);
  return { loops, shared };
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
    const { bulge } = segments[h >> 1]!;
    return { x: p.x, y: p.y, bulge: h & 1 ? -bulge + 0 : bulge };
  });
  if (vertices.length < 2 || (vertices.length < 3 && vertices.every((v) => v.bulge === 0))) return null;
  return { vertices };
}

const loopOf = (ring: Ring, cycle: readonly number[]): TracedLoop => ({
  ring,
  segments: cycle.map((h) => h >> 1),
});

/** Orders the segments that closed nothing into runs. */
function openRuns(
  segments: readonly LooseSegment[],
  graph: SegmentGraph,
  loose: readonly number[],
  looped: Uint8Array,
): OpenRun[] {
  if (loose.length === 0) return [];
  const at = new Map<number, number[]>();
  for (const s of loose)
    for (const n of graph.ends[s]!) {
      const list = at.get(n);
      if (list === undefined) at.set(n, [s]);
      else list.push(s);
    }
  const onLoop = new Set<number>();
  for (let i = 0; i < looped.length; i++)
    if (looped[i] === 1) {
      onLoop.add(graph.ends[i]![0]);
      onLoop.add(graph.ends[i]![1]);
    }
  const used = new Set<number>();
  const runs: OpenRun[] = [];
  const stops = (n: number): boolean => at.get(n)!.length !== 2 || onLoop.has(n);
  const walk = (first: number, from: number): void => {
    const run: LooseSegment[] = [];
    let node = from;
    for (let s: number | undefined = first; s !== undefined; ) {
      used.add(s);
      const [a, b] = graph.ends[s]!;
      // With its ends where they were joined, so that no gap is closed twice.
      run.push({ ...segments[s]!, from: graph.nodes[a]!, to: graph.nodes[b]! });
      node = a === node ? b : a;
      s = stops(node) ? undefined : at.get(node)!.find((t) => !used.has(t));
    }
    const hangs = [from, node].some((n) => at.get(n)!.length > 1 || onLoop.has(n));
    runs.push({ segments: run, start: graph.nodes[from]!, end: graph.nodes[node]!, hangs });
  };
  for (const s of loose) for (const n of graph.ends[s]!) if (!used.has(s) && stops(n)) walk(s, n);
  // What goes round without an end, as a line drawn there and back does.
  for (const s of loose) if (!used.has(s)) walk(s, graph.ends[s]![0]);
  return runs;
}
