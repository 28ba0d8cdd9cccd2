import type { Point, Polygon } from '@haunch/geometry';
import { insidePolygon } from './sweeper.js';
import { type Track, trackDistance } from './track.js';

/** Places along a track are asked this often, mm; ends and corners are asked exactly. */
const STEP = 0.5;

const toEdge = (p: Point, a: Point, b: Point): number => {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const l2 = dx * dx + dy * dy;
  const t = l2 === 0 ? 0 : Math.max(0, Math.min(1, ((p.x - a.x) * dx + (p.y - a.y) * dy) / l2));
  return Math.hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
};

/** The distance from the cutter's axis on a track to a polygon's area, mm; 0 where it runs over it. */
export function trackPolygonDistance(t: Track, polygon: Polygon): number {
  const length = t.kind === 'line' ? Math.hypot(t.b.x - t.a.x, t.b.y - t.a.y) : Math.abs(t.sweep) * t.r;
  const n = Math.max(1, Math.ceil(length / STEP));
  let best = Infinity;
  for (const p of polygon) best = Math.min(best, trackDistance(t, p.x, p.y));
  for (let i = 0; i <= n; i++) {
    const k = i / n;
    const p =
      t.kind === 'line'
        ? { x: t.a.x + (t.b.x - t.a.x) * k, y: t.a.y + (t.b.y - t.a.y) * k }
        : {
            x: t.centre.x + t.r * Math.cos(t.start + t.sweep * k),
            y: t.centre.y + t.r * Math.sin(t.start + t.sweep * k),
          };
    if (insidePolygon(polygon, p)) return 0;
    for (let e = 0; e < polygon.length; e++)
      best = Math.min(best, toEdge(p, polygon[e]!, polygon[(e + 1) % polygon.length]!));
  }
  return best;
}
