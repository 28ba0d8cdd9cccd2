import type { Point } from '@haunch/geometry';
import type { Curve, CurveRun } from './curve-run.js';
import type { EllipticalArc } from './elliptical-arc.js';

const arcTo = (centre: Point, u: Point, v: Point, sweep: number, to: Point): Curve => ({
  kind: 'arc',
  arc: { centre, u, v, sweep } satisfies EllipticalArc,
  to,
});

/** An ellipse as two halves (SVG 2, 10.4: from its rightmost point, towards +y). */
export function ellipseRun(c: Point, rx: number, ry: number): CurveRun {
  const [right, left] = [
    { x: c.x + rx, y: c.y },
    { x: c.x - rx, y: c.y },
  ];
  const [u, v] = [
    { x: rx, y: 0 },
    { x: 0, y: ry },
  ];
  return {
    start: right,
    closed: true,
    curves: [arcTo(c, u, v, Math.PI, left), arcTo(c, { x: -rx, y: 0 }, { x: 0, y: -ry }, Math.PI, right)],
  };
}

/** A rectangle with rounded corners, `rx` and `ry` already no more than half its sides (SVG 2, 10.2). */
export function rectRun(x: number, y: number, w: number, h: number, rx: number, ry: number): CurveRun {
  const round = rx > 0 && ry > 0;
  const [a, b] = round ? [rx, ry] : [0, 0];
  const curves: Curve[] = [];
  const side = (tx: number, ty: number) => curves.push({ kind: 'line', to: { x: tx, y: ty } });
  const corner = (cx: number, cy: number, ux: number, uy: number) => {
    if (!round) return;
    // Quarter turns towards +angle: v is u turned by a quarter in the ellipse's own measure.
    const [u, v] = [
      { x: ux * a, y: uy * b },
      { x: -uy * a, y: ux * b },
    ];
    curves.push(arcTo({ x: cx, y: cy }, u, v, Math.PI / 2, { x: cx + v.x, y: cy + v.y }));
  };
  side(x + w - a, y);
  corner(x + w - a, y + b, 0, -1);
  side(x + w, y + h - b);
  corner(x + w - a, y + h - b, 1, 0);
  side(x + a, y + h);
  corner(x + a, y + h - b, 0, 1);
  side(x, y + b);
  corner(x + a, y + b, -1, 0);
  return { start: { x: x + a, y }, curves, closed: true };
}
