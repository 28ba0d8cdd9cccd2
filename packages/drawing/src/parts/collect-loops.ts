import type { Diagnostic } from '@haunch/model';
import { doubledLines, joinedGap, sharedEdge } from '../diagnostics.js';
import type { Entity } from '../drawing.js';
import { joinEnds } from './join-ends.js';
import { circleLoop, type Loop, loopEntity, loopKey, polylineLoop, tracedLoop } from './loop.js';
import { type LooseSegment, looseSegments, withoutDoubles } from './loose-segment.js';
import { type OpenRun, traceLoops } from './trace-loops.js';

/** Ends nearer than this are one, mm: most files that join at all join here. */
export const JOIN = 0.01;

/** All closed curves of a drawing's entities, and the runs that close nothing. */
export interface Collected {
  readonly loops: readonly Loop[];
  readonly open: readonly OpenRun[];
  readonly diagnostics: readonly Diagnostic[];
}

/**
 * Makes closed curves of entities: closed ones as they are, loose ones chained layer by layer, and what is
 * left open chained once more over all layers. Exact repetitions are taken out.
 */
export function collectLoops(entities: readonly Entity[], joinWithin: number, file: string): Collected {
  const diagnostics: Diagnostic[] = [];
  const loops: Loop[] = [];
  const byLayer = new Map<string, LooseSegment[]>();
  for (const e of entities) {
    if (e.kind === 'circle') loops.push(circleLoop(e));
    if (e.kind === 'polyline' && e.closed) loops.push(polylineLoop(e));
    for (const s of looseSegments(e)) {
      const list = byLayer.get(e.layer);
      if (list === undefined) byLayer.set(e.layer, [s]);
      else list.push(s);
    }
  }
  const doubled: Entity[] = [];
  let open: OpenRun[] = [];
  const gaps: { gap: number; at: { x: number; y: number } }[] = [];
  const chain = (segments: readonly LooseSegment[], within: number): void => {
    const graph = joinEnds(segments, within);
    const traced = traceLoops(segments, graph);
    for (const t of traced.loops) loops.push(tracedLoop(t.ring, t.entities));
    open.push(...traced.open);
    gaps.push(...graph.joined.filter((j) => j.gap > JOIN));
    const first = traced.shared[0];
    if (first !== undefined)
      diagnostics.push(sharedEdge(file, first.entity, first.from, traced.shared.length));
  };
  for (const segments of byLayer.values()) {
    const { kept, doubled: twice } = withoutDoubles(segments);
    doubled.push(...new Set(twice.map((s) => s.entity)));
    chain(kept, JOIN);
  }
  const layers = new Set(open.map((r) => r.segments[0]!.entity.layer));
  if (layers.size > 1 || joinWithin > JOIN) {
    const left = open.flatMap((r) => r.segments);
    open = [];
    chain(left, Math.max(JOIN, joinWithin));
  }
  const once = withoutDoubledLoops(loops);
  doubled.push(...once.doubled.map(loopEntity));
  if (doubled.length > 0) {
    doubled.sort((a, b) => a.line - b.line);
    diagnostics.unshift(
      doubledLines(file, { count: doubled.length, first: doubled[0]! }, someplace(doubled[0]!)),
    );
  }
  if (gaps.length > 0) {
    const widest = gaps.reduce((a, b) => (b.gap > a.gap ? b : a));
    diagnostics.push(joinedGap(file, gaps.length, widest.gap, widest.at));
  }
  return { loops: once.kept, open, diagnostics };
}

function withoutDoubledLoops(loops: readonly Loop[]): { kept: Loop[]; doubled: Loop[] } {
  const seen = new Set<string>();
  const kept: Loop[] = [];
  const doubled: Loop[] = [];
  for (const l of loops) {
    // A recess may have the same outline as another at another height; only true repetitions go.
    const key = `${l.layer}|${l.elevation}|${loopKey(l)}`;
    if (seen.has(key)) doubled.push(l);
    else kept.push(l);
    seen.add(key);
  }
  return { kept, doubled };
}

/** A place on an entity, to point at. */
function someplace(e: Entity): { x: number; y: number } {
  switch (e.kind) {
    case 'line':
    case 'arc':
      return e.from;
    case 'circle':
      return e.centre;
    case 'spline':
      return { x: e.controls[0]!.x, y: e.controls[0]!.y };
    case 'ellipse':
      return e.centre;
    case 'polyline':
      return { x: e.vertices[0]!.x, y: e.vertices[0]!.y };
    default:
      return e.at;
  }
}
