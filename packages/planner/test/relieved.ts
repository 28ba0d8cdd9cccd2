import { type Point, ringSegments } from '@haunch/geometry';
import type { Contour, Relief } from '@haunch/model';

const unit = (a: Point, b: Point): Point => {
  const l = Math.hypot(b.x - a.x, b.y - a.y);
  return { x: (b.x - a.x) / l, y: (b.y - a.y) / l };
};

/**
 * The contour with a diagonal relief in each corner that a round cutter leaves uncut between two straight edges:
 * convex corners of an opening, reflex ones of an outline. The ring itself stays bare.
 */
export function relieved(c: Contour, side: 'inside' | 'outside', radius: number): Contour {
  const segments = ringSegments(c.bare);
  const reliefs: Relief[] = [];
  segments.forEach((s, i) => {
    const next = segments[(i + 1) % segments.length]!;
    if (s.kind !== 'line' || next.kind !== 'line') return;
    const a = unit(s.to, s.from);
    const b = unit(next.from, next.to);
    const turnsLeft = b.x * a.y - b.y * a.x > 1e-9;
    if (turnsLeft !== (side === 'inside')) return;
    const l = Math.hypot(a.x + b.x, a.y + b.y);
    if (l < 0.2) return;
    reliefs.push({
      form: 'diagonal',
      corner: s.to,
      centre: { x: s.to.x + ((a.x + b.x) / l) * radius, y: s.to.y + ((a.y + b.y) / l) * radius },
      radius,
      edges: [s.tag!, next.tag!],
    });
  });
  return { ...c, reliefs };
}
