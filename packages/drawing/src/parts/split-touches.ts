import {
  distance,
  fractionAlong,
  indexBoxes,
  nearestOnSegment,
  type Point,
  pointAlong,
  type Segment,
  segmentBounds,
  segmentLength,
  segmentOfBulge,
  snap,
  widenBox,
} from '@haunch/geometry';
import type { Entity } from '../drawing.js';
import { equalEnds, JOIN, type SegmentGraph } from './join-ends.js';
import { type LooseSegment, strokeOf } from './loose-segment.js';
import type { RepairBook, RepairDraft, RepairKind } from './repair.js';
import { properCrossing } from './self-crossing.js';
import { budgetOf } from './too-tangled.js';
import { type Traced, traceLoops } from './trace-loops.js';

interface Wish {
  readonly kind: RepairKind;
  readonly at: Point;
  readonly entities: readonly Entity[];
  readonly deviation: number;
  readonly draft: () => RepairDraft;
  /** A node of the component in which it lies. */
  readonly node: number;
}

/** A place on a segment where it is to be parted: a node, and how far along it is. */
interface Cut {
  readonly node: number;
  readonly along: number;
  readonly off: number;
}

/** A graph in which segments may have been parted, and what was found in it. */
export interface SplitGraph {
  readonly segments: readonly LooseSegment[];
  readonly graph: SegmentGraph;
  readonly traced: Traced;
}

/**
 * Where runs are left open because lines end on the middle of others, or lie on them: the others are parted there,
 * what then lies twice is taken once, and curves are traced anew. That is only done where less is open afterwards;
 * a line that just ends on a contour is left as it was. Null where nothing is gained.
 */
export function splitTouches(
  segments: readonly LooseSegment[],
  graph: SegmentGraph,
  traced: Traced,
  book: RepairBook,
): SplitGraph | null {
  if (traced.loose.length === 0) return null;
  const { cuts, nodes } = findCuts(segments, graph, traced.loose);
  if (cuts.size === 0) return null;
  const wishes: Wish[] = [];
  const pieces = partedPieces(segments, { nodes, ends: graph.ends }, (i) =>
    (cuts.get(i) ?? []).filter((c) => {
      const s = segments[i]!;
      const at = nodes[c.node]!;
      if (book.keeps('split', at, [s.entity])) return false;
      const draft = () => ({ before: [strokeOf(s)], after: partsOf(s, at, c.along) });
      wishes.push({ kind: 'split', at, entities: [s.entity], node: c.node, deviation: c.off, draft });
      return true;
    }),
  );
  const { ends } = pieces;
  const once = withoutOverlaps(
    pieces,
    (k) => cuts.has(pieces.parent[k]!),
    (k, twin) => {
      const [s, other] = [pieces.segments[k]!, pieces.segments[twin]!];
      if (book.keeps('overlap', s.from, [s.entity])) return false;
      const draft = () => ({ before: [strokeOf(s)], after: [] });
      const deviation = distance(middleOf(other), middleOf(s));
      wishes.push({
        kind: 'overlap',
        at: s.from,
        entities: [s.entity],
        node: ends[k]![0],
        deviation,
        draft,
      });
      return true;
    },
  );
  const group = components(nodes.length, ends);
  const touched = new Set(wishes.map((w) => group(w.node)));
  const again = traceLoops(
    pieces.segments,
    pieces,
    once.filter((k) => touched.has(group(ends[k]![0]))),
  );
  const openBefore = tally(traced.loose, (i) => [group(graph.ends[i]![0]), lengthOf(segments[i]!)]);
  const openAfter = tally(again.loose, (k) => [group(ends[k]![0]), lengthOf(pieces.segments[k]!)]);
  const gained = new Set(
    [...touched].filter((g) => (openAfter.get(g) ?? 0) < (openBefore.get(g) ?? 0) - JOIN),
  );
  if (gained.size === 0) return null;
  for (const w of wishes)
    if (gained.has(group(w.node))) book.mend(w.kind, w.at, w.entities, w.deviation, w.draft);
  // Everything else stays as it was: whole segments, traced as before.
  const chosen = once.filter((k) => gained.has(group(ends[k]![0])));
  const rest = segments.flatMap((_, i) => (gained.has(group(graph.ends[i]![0])) ? [] : [i]));
  const all = [...rest.map((i) => segments[i]!), ...chosen.map((k) => pieces.segments[k]!)];
  const joined: SegmentGraph = {
    nodes,
    ends: [...rest.map((i) => graph.ends[i]!), ...chosen.map((k) => ends[k]!)],
  };
  return { segments: all, graph: joined, traced: traceLoops(all, joined) };
}

const lengthOf = (s: LooseSegment): number => segmentLength(segmentOfBulge(s.from, s.to, s.bulge));

function tally(
  items: readonly number[],
  of: (i: number) => readonly [number, number],
): ReadonlyMap<number, number> {
  const out = new Map<number, number>();
  for (const i of items) {
    const [group, value] = of(i);
    out.set(group, (out.get(group) ?? 0) + value);
  }
  return out;
}

function partsOf(s: LooseSegment, at: Point, along: number) {
  const first = s.bulge === 0 ? 0 : Math.tan(Math.atan(s.bulge) * along);
  const second = s.bulge === 0 ? 0 : Math.tan(Math.atan(s.bulge) * (1 - along));
  return [strokeOf({ ...s, to: at, bulge: first }), strokeOf({ ...s, from: at, bulge: second })];
}

/** Lines are parted in at most so many places. */
const MOST_CUTS = 300_000;
/** So many ends and lines are looked at to find them. */
const MOST_LOOKS = 20_000_000;

/** For each segment the nodes that lie on its middle, in order along it: nodes of loose segments, and on them. */
function findCuts(
  segments: readonly LooseSegment[],
  graph: SegmentGraph,
  loose: readonly number[],
): { readonly cuts: ReadonlyMap<number, Cut[]>; readonly nodes: readonly Point[] } {
  const curves = segments.map((s, i): Segment => {
    const [a, b] = graph.ends[i]!;
    return segmentOfBulge(graph.nodes[a]!, graph.nodes[b]!, s.bulge);
  });
  const used = new Set<number>();
  for (const [a, b] of graph.ends) used.add(a).add(b);
  const places = [...used].sort((a, b) => a - b);
  const byBox = indexBoxes(curves.map((c) => segmentBounds(c)));
  const byPoint = indexBoxes(
    places.map((n) => {
      const { x, y } = graph.nodes[n]!;
      return { minX: x, minY: y, maxX: x, maxY: y };
    }),
  );
  const cuts = new Map<number, Map<number, Cut>>();
  // Nodes at which something else is: another end, or the middle of a line.
  const held = new Set<number>();
  const seen = new Set<number>();
  for (const n of graph.ends.flat()) (seen.has(n) ? held : seen).add(n);
  const look = budgetOf(MOST_LOOKS, 'lines end on each other or cross too often');
  const consider = (i: number, node: number): void => {
    look(1);
    const [a, b] = graph.ends[i]!;
    if (node === a || node === b || a === b) return;
    const at = graph.nodes[node]!;
    const near = nearestOnSegment(curves[i]!, at);
    const off = distance(near, at);
    if (off > JOIN) return;
    if (distance(at, graph.nodes[a]!) <= JOIN || distance(at, graph.nodes[b]!) <= JOIN) return;
    const along = fractionAlong(curves[i]!, near);
    held.add(node);
    add(i, { node, along, off });
  };
  const spend = budgetOf(MOST_CUTS, 'lines end on each other or cross too often');
  function add(i: number, cut: Cut): void {
    spend(1);
    const own = cuts.get(i);
    if (own === undefined) cuts.set(i, new Map([[cut.node, cut]]));
    else own.set(cut.node, cut);
  }
  const looseNodes = new Set(loose.flatMap((i) => graph.ends[i]!));
  for (const n of looseNodes) {
    const { x, y } = graph.nodes[n]!;
    const here = { minX: x - JOIN, minY: y - JOIN, maxX: x + JOIN, maxY: y + JOIN };
    byBox.search(here, (i) => {
      consider(i, n);
      return false;
    });
  }
  for (const i of loose)
    byPoint.search(widenBox(segmentBounds(curves[i]!), JOIN), (k) => {
      consider(i, places[k]!);
      return false;
    });
  const nodes = [...graph.nodes];
  const crossed = new Map<string, number>();
  // A loose line that ends on others at both ends also parts what it crosses on its way, as in a grid of cuts; one
  // that ends in the air, as an axis does, parts nothing.
  for (const i of loose) {
    if (!graph.ends[i]!.every((n) => held.has(n))) continue;
    byBox.search(segmentBounds(curves[i]!), (j) => {
      look(1);
      const at = j === i ? null : properCrossing(curves[i]!, curves[j]!);
      if (at === null) return false;
      const place = { x: snap(at.x), y: snap(at.y) };
      const node = crossed.get(`${place.x},${place.y}`) ?? nodes.push(place) - 1;
      crossed.set(`${place.x},${place.y}`, node);
      for (const k of [i, j])
        add(k, { node, along: fractionAlong(curves[k]!, at), off: distance(place, at) });
      return false;
    });
  }
  return {
    nodes,
    cuts: new Map(
      [...cuts]
        .sort((p, q) => p[0] - q[0])
        .map(([i, own]) => [i, [...own.values()].sort((p, q) => p.along - q.along || p.node - q.node)]),
    ),
  };
}

/** Segments parted at nodes; `parent` is the number of the segment that each was part of. */
interface Pieces extends SegmentGraph {
  readonly segments: readonly LooseSegment[];
  readonly parent: readonly number[];
}

function partedPieces(
  segments: readonly LooseSegment[],
  graph: SegmentGraph,
  cutsOf: (i: number) => readonly Cut[],
): Pieces {
  const pieces: LooseSegment[] = [];
  const ends: [number, number][] = [];
  const parent: number[] = [];
  segments.forEach((s, i) => {
    const [a, b] = graph.ends[i]!;
    let last = { node: a, along: 0 };
    for (const c of [...cutsOf(i), { node: b, along: 1 }]) {
      const bulge = s.bulge === 0 ? 0 : Math.tan(Math.atan(s.bulge) * (c.along - last.along));
      pieces.push({ from: graph.nodes[last.node]!, to: graph.nodes[c.node]!, bulge, entity: s.entity });
      ends.push([last.node, c.node]);
      parent.push(i);
      last = c;
    }
  });
  return { nodes: graph.nodes, ends, segments: pieces, parent };
}

const middleOf = (s: LooseSegment): Point => pointAlong(segmentOfBulge(s.from, s.to, s.bulge), 0.5);

/** Numbers of the pieces without those that lie on an earlier one, of which `among` holds at least one. */
function withoutOverlaps(
  { segments, ends }: Pieces,
  among: (k: number) => boolean,
  drop: (k: number, twin: number) => boolean,
): number[] {
  const seen = new Map<number, number[]>();
  const kept: number[] = [];
  segments.forEach((s, k) => {
    const [a, b] = ends[k]!;
    const key = Math.min(a, b) * 4_194_304 + Math.max(a, b);
    const others = seen.get(key) ?? [];
    const twin = others.find(
      (j) => (among(k) || among(j)) && distance(middleOf(segments[j]!), middleOf(s)) <= JOIN,
    );
    if (twin !== undefined && drop(k, twin)) return;
    seen.set(key, [...others, k]);
    kept.push(k);
  });
  return kept;
}

/** The number of the component that each node is in. */
function components(nodes: number, ends: readonly (readonly [number, number])[]): (node: number) => number {
  const root = Int32Array.from({ length: nodes }, (_, i) => i);
  const find = (n: number): number => {
    let r = n;
    while (root[r] !== r) {
      root[r] = root[root[r]!]!;
      r = root[r]!;
    }
    return r;
  };
  for (const [a, b] of ends) {
    const [p, q] = [find(a), find(b)];
    if (p !== q) root[Math.max(p, q)] = Math.min(p, q);
  }
  return find;
}

/** Traces segments after parting each where an end of another lies on it; what lies twice is taken once. */
export function partedAtNodes(segments: readonly LooseSegment[]): {
  readonly pieces: readonly LooseSegment[];
  readonly traced: Traced;
} {
  const graph = equalEnds(segments);
  const { cuts, nodes } = findCuts(
    segments,
    graph,
    segments.map((_, i) => i),
  );
  const pieces = partedPieces(segments, { nodes, ends: graph.ends }, (i) => cuts.get(i) ?? []);
  const once = withoutOverlaps(
    pieces,
    () => true,
    () => true,
  );
  return { pieces: pieces.segments, traced: traceLoops(pieces.segments, pieces, once) };
}
