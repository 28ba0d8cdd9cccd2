import { type Box, flattenRing, type Point, type Ring, ringBounds } from '@haunch/geometry';

/** How far chords may leave arcs, mm; the boxes reach so much further where there are arcs. */
const CHORD = 0.05;

interface Edge {
  readonly from: Point;
  readonly to: Point;
}

const xAt = ({ from, to }: Edge, y: number): number =>
  from.x + ((y - from.y) / (to.y - from.y)) * (to.x - from.x);

/** What of a band from y0 to y1, in which no edge ends, lies outside: from one edge pair to the next. */
function bandGaps(edges: readonly Edge[], y0: number, y1: number, { minX, maxX }: Box): Box[] {
  const middle = (y0 + y1) / 2;
  const crossing = edges
    .filter(({ from, to }) => Math.min(from.y, to.y) <= y0 && Math.max(from.y, to.y) >= y1)
    .sort((a, b) => xAt(a, middle) - xAt(b, middle));
  const least = (e: Edge): number => Math.min(xAt(e, y0), xAt(e, y1));
  const most = (e: Edge): number => Math.max(xAt(e, y0), xAt(e, y1));
  const gaps: Box[] = [];
  let left = minX;
  for (let i = 0; i + 1 < crossing.length; i += 2) {
    gaps.push({ minX: left, minY: y0, maxX: most(crossing[i]!), maxY: y1 });
    left = least(crossing[i + 1]!);
  }
  gaps.push({ minX: left, minY: y0, maxX, maxY: y1 });
  return gaps.filter((g) => g.maxX > g.minX);
}

/**
 * Boxes that cover what an outline lacks of its own box: exactly where its edges run along the axes; along slopes and arcs by slices of at
 * most so many mm, so that what is left beside the boxes is board. None for a rectangle. mm.
 */
export function missingOf(outline: Ring, slice = 20): Box[] {
  const box = ringBounds(outline);
  const curved = outline.vertices.some((v) => v.bulge !== 0);
  const points = flattenRing(outline, { tolerance: CHORD });
  const edges = points
    .map((from, i): Edge => ({ from, to: points[(i + 1) % points.length]! }))
    .filter(({ from, to }) => from.y !== to.y);
  const levels = [...new Set(points.map((p) => p.y))].sort((a, b) => a - b);
  const gaps = levels.slice(1).flatMap((top, i): Box[] => {
    const bottom = levels[i]!;
    const middle = (top + bottom) / 2;
    const slanted = edges.some(
      ({ from, to }) => from.x !== to.x && Math.min(from.y, to.y) < middle && Math.max(from.y, to.y) > middle,
    );
    const n = slanted ? Math.max(1, Math.ceil((top - bottom) / slice)) : 1;
    return Array.from({ length: n }, (_, k) =>
      bandGaps(
        edges,
        bottom + ((top - bottom) * k) / n,
        k + 1 === n ? top : bottom + ((top - bottom) * (k + 1)) / n,
        box,
      ),
    ).flat();
  });
  const by = curved ? CHORD : 0;
  return gaps.map((g) => ({ minX: g.minX - by, minY: g.minY - by, maxX: g.maxX + by, maxY: g.maxY + by }));
}
