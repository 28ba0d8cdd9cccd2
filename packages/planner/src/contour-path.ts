import { distance, offsetRing, type Point, type Ring, ringSegments, type Segment } from '@haunch/geometry';
import type { Contour } from '@haunch/model';
import { line, type Path, reversePath } from './path.js';
import type { CutDirection } from './plan-input.js';

/** On which side of the contour the cutter runs. */
export type Side = 'inside' | 'outside';

/** Where the cutter's centre runs along a contour: a closed path in the direction of travel. */
export interface ContourPath {
  /** With the excursions into the corner reliefs. Segments of edges carry their tag, all others none. */
  readonly path: Path;
  /** The contour without reliefs, every segment tagged. */
  readonly bare: Ring;
}

/** Why a cutter does not get round a contour. */
export interface CannotFollow {
  readonly why: string;
  readonly at?: Point;
}

/** The contour without reliefs, every segment with a tag that names it. */
export function taggedRing(contour: Contour): Ring {
  return {
    vertices: contour.bare.vertices.map((v, i) =>
      v.tag === undefined ? { ...v, tag: `${contour.id}/#${i}` } : v,
    ),
  };
}

/** The tags in order round a closed curve, each run of equal ones once. */
function tagsRound(segments: readonly Segment[]): string[] {
  const tags = segments.flatMap((s) => (s.tag === undefined ? [] : [s.tag]));
  const runs = tags.filter((t, i) => i === 0 || t !== tags[i - 1]);
  if (runs.length > 1 && runs[0] === runs.at(-1)) runs.pop();
  return runs;
}

function missingEdge(wanted: readonly string[], got: readonly string[]): string | undefined {
  const absent = wanted.find((t) => !got.includes(t));
  if (absent !== undefined) return absent;
  const shift = got.indexOf(wanted[0]!);
  return (
    wanted.find((t, i) => got[(i + shift) % got.length] !== t) ??
    (got.length > wanted.length ? wanted[0] : undefined)
  );
}

/** The path's corner at a relief: the index of the segment that ends in it. */
function cornerAt(
  segments: readonly Segment[],
  edges: readonly [string, string],
  corner: Point,
): number | undefined {
  let best: { index: number; gap: number } | undefined;
  segments.forEach((s, index) => {
    if (s.tag !== edges[0] || segments[(index + 1) % segments.length]!.tag !== edges[1]) return;
    const gap = distance(s.to, corner);
    if (best === undefined || gap < best.gap) best = { index, gap };
  });
  return best?.index;
}

/**
 * The cutter's path along a contour: the contour without reliefs offset by the cutter's radius, and at each
 * relief straight from the path's corner to the relief's centre and back. With a clockwise spindle climb keeps
 * the material to the right of travel: outlines clockwise, inside cuts counter-clockwise (reference value C11).
 */
export function contourPath(
  contour: Contour,
  side: Side,
  radius: number,
  direction: CutDirection,
): ContourPath | CannotFollow {
  const bare = taggedRing(contour);
  const rings = offsetRing(bare, { by: side === 'outside' ? radius : -radius });
  if (rings.length === 0) return { why: 'it finds no room inside the contour' };
  if (rings.length > 1)
    return { why: 'a narrow place cuts the contour in two for it', at: rings[1]!.vertices[0]! };
  const segments = ringSegments(rings[0]!);
  const edges = ringSegments(bare);
  const lost = missingEdge(tagsRound(edges), tagsRound(segments));
  if (lost !== undefined)
    return { why: `it does not reach all of edge ${lost}`, at: edges.find((s) => s.tag === lost)!.from };
  const excursions = new Map<number, Point>();
  for (const r of contour.reliefs) {
    const index = cornerAt(segments, r.edges, r.corner);
    if (index === undefined || excursions.has(index))
      return { why: `it does not reach the corner of edges ${r.edges[0]} and ${r.edges[1]}`, at: r.corner };
    excursions.set(index, r.centre);
  }
  const path = segments.flatMap((s, i) => {
    const centre = excursions.get(i);
    return centre === undefined ? [s] : [s, line(s.to, centre), line(centre, s.to)];
  });
  const clockwise = (side === 'outside') === (direction === 'climb');
  return { path: clockwise ? reversePath(path) : path, bare };
}
