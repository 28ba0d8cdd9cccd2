import { distance, type Point, type Ring, ring, type Segment, sweepAround } from '@haunch/geometry';
import type { MasterLoop, MasterSegment } from '@haunch/model';

/** One edge of a master's loop with both its ends; an arc has a centre and a turn. (u, v), mm. */
export interface Edge {
  readonly from: Point;
  readonly to: Point;
  readonly centre?: Point;
  readonly turn?: 'cw' | 'ccw';
  /** The marks that it follows. */
  readonly marks: readonly string[];
}

const point = ([x, y]: readonly [number, number]): Point => ({ x, y });

/** The marks that a segment names, always as a list. */
export const marksOf = (on: MasterSegment['on']): readonly string[] =>
  on === undefined ? [] : typeof on === 'string' ? [on] : on;

/** The edges of a loop in the master's order; the last one ends where the first one starts. */
export function edgesOf(loop: MasterLoop): Edge[] {
  let from = point(loop.start);
  return loop.segments.map((s, i) => {
    const to = i === loop.segments.length - 1 ? point(loop.start) : point(s.to);
    const edge: Edge = {
      from,
      to,
      marks: marksOf(s.on),
      ...(s.centre === undefined || s.dir === undefined ? {} : { centre: point(s.centre), turn: s.dir }),
    };
    from = to;
    return edge;
  });
}

/** The loop with its corners and centres taken from edges; everything else stays. */
export const loopWithEdges = (loop: MasterLoop, edges: readonly Edge[]): MasterLoop => ({
  start: [edges[0]!.from.x, edges[0]!.from.y],
  segments: loop.segments.map((s, i) => {
    const { to, centre } = edges[i]!;
    return { ...s, to: [to.x, to.y], ...(centre === undefined ? {} : { centre: [centre.x, centre.y] }) };
  }),
});

/** The sweep of an edge in radians, positive counter-clockwise; 0 for a straight one. */
export const edgeSweep = (e: Edge): number =>
  e.centre && e.turn ? sweepAround(e.centre, e.from, e.to, e.turn) : 0;

/** An edge as a segment; an arc whose two radii differ by rounding gets their mean. */
export const segmentOfEdge = (e: Edge): Segment =>
  e.centre
    ? {
        kind: 'arc',
        from: e.from,
        to: e.to,
        centre: e.centre,
        radius: (distance(e.centre, e.from) + distance(e.centre, e.to)) / 2,
        sweep: edgeSweep(e),
      }
    : { kind: 'line', from: e.from, to: e.to };

/** The ring through edges, in their order; the tag of edge k is `<id>/e<k>`. */
export const ringOfEdges = (edges: readonly Edge[], id: string): Ring =>
  ring(
    edges.map((e, k) => ({
      x: e.from.x,
      y: e.from.y,
      bulge: Math.tan(edgeSweep(e) / 4),
      tag: `${id}/e${k}`,
    })),
  );
