import { chordCount, type Point } from '@haunch/geometry';
import type { Curve } from './merge-tracks.js';

const nodeOf = (p: Point): string => `${Math.round(p.x * 1e5) + 0} ${Math.round(p.y * 1e5) + 0}`;

/** The corners of a curve, start and end included; those of an arc lie on it, chords within `tolerance` mm. */
function cornersOf(c: Curve, tolerance: number): Point[] {
  if (c.kind === 'line') return [c.a, c.b];
  const n = chordCount(c.r, c.sweep, tolerance);
  return Array.from({ length: n + 1 }, (_, i): Point => {
    if (i === 0) return c.a;
    if (i === n) return c.b;
    const a = c.start + (c.sweep * i) / n;
    return { x: c.centre.x + c.r * Math.cos(a), y: c.centre.y + c.r * Math.sin(a) };
  });
}

/** Polylines through curves that meet end to end, each curve once, arcs within `tolerance` mm. */
export function chainCurves(curves: readonly Curve[], tolerance: number): Point[][] {
  const at = new Map<string, number[]>();
  curves.forEach((c, i) => {
    for (const node of new Set([nodeOf(c.a), nodeOf(c.b)])) {
      const list = at.get(node);
      if (list) list.push(i);
      else at.set(node, [i]);
    }
  });
  const used = new Array<boolean>(curves.length).fill(false);
  const out: Point[][] = [];
  const extend = (line: Point[]): void => {
    for (;;) {
      const node = nodeOf(line[line.length - 1]!);
      const next = at.get(node)?.find((i) => !used[i]);
      if (next === undefined) return;
      used[next] = true;
      const c = curves[next]!;
      const corners = cornersOf(c, tolerance);
      if (nodeOf(c.a) !== node) corners.reverse();
      for (let k = 1; k < corners.length; k++) line.push(corners[k]!);
    }
  };
  curves.forEach((c, i) => {
    if (used[i]) return;
    used[i] = true;
    const line = cornersOf(c, tolerance);
    extend(line);
    line.reverse();
    extend(line);
    out.push(line);
  });
  return out;
}
