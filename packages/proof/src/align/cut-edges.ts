import { indexBoxes, type Point, type Polygon } from '@haunch/geometry';
import type { Edge } from './part-shape.js';

/** Edges as cut, asked by place. Material lies on the left of each. mm */
export interface CutEdges {
  /** The distance to the nearest edge that runs about as `along` does, up to `REACHED`; `REACHED` when there is none. */
  distance(p: Point, along: Point): number;
  /** Straight edges, longest first. */
  readonly straight: readonly Edge[];
}

/** An edge this far off or farther is not met, mm. */
export const REACHED = 0.6;
/** Corners of a polygon that turn less than this lie on one straight edge, as the sine. */
const STRAIGHT = 2e-3;
/** Shorter straight edges tell nothing, mm. */
const SHORT = 4;
/** The most straight edges that are looked at. */
const MOST = 300;

/** Straight runs of a polygon. */
function straightOf(polygon: Polygon): Edge[] {
  const n = polygon.length;
  if (n < 3) return [];
  const dir = (i: number): Point => {
    const a = polygon[i % n]!;
    const b = polygon[(i + 1) % n]!;
    const l = Math.hypot(b.x - a.x, b.y - a.y) || 1;
    return { x: (b.x - a.x) / l, y: (b.y - a.y) / l };
  };
  const bends = (i: number): boolean => {
    const a = dir(i + n - 1);
    const b = dir(i);
    return Math.abs(a.x * b.y - a.y * b.x) > STRAIGHT || a.x * b.x + a.y * b.y < 0;
  };
  let start = 0;
  while (start < n && !bends(start)) start++;
  if (start === n) return [];
  const out: Edge[] = [];
  let from = start;
  for (let k = start + 1; k <= start + n; k++) {
    if (k < start + n && !bends(k)) continue;
    const [a, b] = [polygon[from % n]!, polygon[k % n]!];
    const length = Math.hypot(b.x - a.x, b.y - a.y);
    if (length >= SHORT) out.push({ from: a, to: b, length });
    from = k;
  }
  return out;
}

/** The edges of some polygons of standing material. */
export function cutEdges(polygons: readonly Polygon[]): CutEdges {
  const a: Point[] = [];
  const b: Point[] = [];
  for (const polygon of polygons)
    polygon.forEach((p, i) => {
      a.push(p);
      b.push(polygon[(i + 1) % polygon.length]!);
    });
  const index = indexBoxes(
    a.map((p, i) => ({
      minX: Math.min(p.x, b[i]!.x),
      minY: Math.min(p.y, b[i]!.y),
      maxX: Math.max(p.x, b[i]!.x),
      maxY: Math.max(p.y, b[i]!.y),
    })),
  );
  return {
    distance(p, along) {
      let best = REACHED;
      const box = { minX: p.x - REACHED, minY: p.y - REACHED, maxX: p.x + REACHED, maxY: p.y + REACHED };
      index.search(box, (i) => {
        const [q, r] = [a[i]!, b[i]!];
        const [dx, dy] = [r.x - q.x, r.y - q.y];
        const l2 = dx * dx + dy * dy;
        // A sixteenth of a turn is more than any chord differs from its arc.
        if (l2 > 0 && dx * along.x + dy * along.y < 0.7 * Math.sqrt(l2)) return false;
        const t = l2 === 0 ? 0 : Math.max(0, Math.min(1, ((p.x - q.x) * dx + (p.y - q.y) * dy) / l2));
        best = Math.min(best, Math.hypot(p.x - q.x - t * dx, p.y - q.y - t * dy));
        return false;
      });
      return best;
    },
    straight: polygons
      .flatMap(straightOf)
      .sort((e, f) => f.length - e.length || e.from.x - f.from.x || e.from.y - f.from.y)
      .slice(0, MOST),
  };
}
