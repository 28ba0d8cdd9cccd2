import { distance, segmentLength } from '@haunch/geometry';
import type { Entity } from '../drawing.js';
import { equalEnds, JOIN, joinEnds, type SegmentGraph } from './join-ends.js';
import { circleLoop, type Loop, polylineLoop, tracedLoop } from './loop.js';
import { type LooseSegment, looseSegments, segmentOf, strokeOf, withoutDoubles } from './loose-segment.js';
import type { RepairBook } from './repair.js';
import { splitTouches } from './split-touches.js';
import { type OpenRun, traceLoops } from './trace-loops.js';

/** Ends that are still open are joined up to this distance unless another is given, mm. */
const JOIN_WITHIN = 0.1;
/** A run's own ends are joined up to this distance, mm, if the run is so many times longer. */
const OWN_GAP = 0.5;
const OWN_SHARE = 2000;

/** All closed curves of a drawing's entities, and the runs that close nothing. */
export interface Collected {
  readonly loops: readonly Loop[];
  readonly open: readonly OpenRun[];
}

/**
 * Makes closed curves of entities: closed ones as they are, loose ones chained layer by layer within 0.01 mm; what
 * is left open is chained once more over all layers, and then within `joinWithin` mm. Where that is null, it is
 * within 0.1 mm, and a run whose own ends nearly meet, for its length, is closed over a wider gap. Repetitions are
 * taken out.
 */
export function collectLoops(
  entities: readonly Entity[],
  joinWithin: number | null,
  book: RepairBook,
): Collected {
  const loops: Loop[] = [];
  const byLayer = new Map<string, LooseSegment[]>();
  for (const e of entities) {
    if (e.kind === 'circle') loops.push(circleLoop(e));
    if (e.kind === 'polyline' && e.closed) loops.push(polylineLoop(e));
    const segments = looseSegments(e);
    if (segments.length === 0) continue;
    const list = byLayer.get(e.layer);
    if (list === undefined) byLayer.set(e.layer, segments);
    else for (const s of segments) list.push(s);
  }
  let open: OpenRun[] = [];
  const chain = (segments: readonly LooseSegment[], within: number): void => {
    const chained = chainSegments(segments, within, book);
    for (const l of chained.loops) loops.push(l);
    for (const r of chained.open) open.push(r);
  };
  for (const segments of byLayer.values()) chain(segments, JOIN);
  const again = (within: number): void => {
    const left = open.flatMap((r) => r.segments);
    open = [];
    chain(left, within);
  };
  if (new Set(open.map((r) => r.segments[0]!.entity.layer)).size > 1) again(JOIN);
  const wider = joinWithin ?? JOIN_WITHIN;
  if (wider > JOIN && open.length > 0) again(wider);
  if (joinWithin === null) {
    const runs = open;
    open = [];
    for (const r of runs) {
      const gap = nearlyClosed(r);
      if (gap === null) open.push(r);
      else chain(r.segments, gap);
    }
  }
  return { loops, open };
}

/** The gap between a run's own ends, mm, where it is one that is closed unasked; else null. */
function nearlyClosed(r: OpenRun): number | null {
  if (r.hangs || r.segments.length < 3) return null;
  const gap = distance(r.start, r.end);
  let length = 0;
  for (const s of r.segments) length += segmentLength(segmentOf(s));
  return gap <= OWN_GAP && gap * OWN_SHARE <= length ? gap * (1 + 1e-9) : null;
}

/** Chains segments: repetitions out, ends joined, curves traced, and lines parted where others end on them. */
export function chainSegments(
  segments: readonly LooseSegment[],
  within: number,
  book: RepairBook,
): { readonly loops: Loop[]; readonly open: readonly OpenRun[] } {
  const exact = equalEnds(segments);
  const first = pick(segments, exact, withoutDoubles(segments, exact.ends, 1e-4, book));
  const joined = joinEnds(first.segments, first.graph, within, book);
  const second =
    joined.graph === first.graph
      ? joined
      : pick(joined.segments, joined.graph, withoutDoubles(joined.segments, joined.graph.ends, JOIN, book));
  const plain = traceLoops(second.segments, second.graph);
  const split = splitTouches(second.segments, second.graph, plain, book);
  let { segments: all, graph, traced } = split ?? { ...second, traced: plain };
  const lines = new Set(
    traced.shared.filter((i) => {
      const s = all[i]!;
      const stroke = strokeOf(s);
      const draft = () => ({ before: [stroke], after: [stroke, stroke] });
      return !book.mend('shared', s.from, [s.entity], 0, draft);
    }),
  );
  if (lines.size > 0) {
    // Edges that are to stay lines of their own bound nothing.
    const others = all.flatMap((_, i) => (lines.has(i) ? [] : [i]));
    const own = traceLoops(all, graph, [...lines]);
    traced = traceLoops(all, graph, others);
    traced = { ...traced, open: [...traced.open, ...own.open] };
  }
  return {
    loops: traced.loops.map((t) =>
      tracedLoop(
        t.ring,
        t.segments.map((i) => all[i]!.entity),
      ),
    ),
    open: traced.open,
  };
}

function pick(
  segments: readonly LooseSegment[],
  graph: SegmentGraph,
  numbers: readonly number[],
): { readonly segments: readonly LooseSegment[]; readonly graph: SegmentGraph } {
  if (numbers.length === segments.length) return { segments, graph };
  return {
    segments: numbers.map((i) => segments[i]!),
    graph: { nodes: graph.nodes, ends: numbers.map((i) => graph.ends[i]!) },
  };
}
