import type { Point, Vertex } from '@haunch/geometry';
import type { Entity } from '../drawing.js';
import type { DrawnShape } from './drawn-matter.js';
import { refOf } from './shape-runs.js';
import type { ViewBox } from './view-box.js';

/** Shapes as rough entities in user units, curves marked as bent: enough to judge sizes by. */
export const previewOf = (shapes: readonly DrawnShape[]): Entity[] =>
  shapes.flatMap((s) =>
    s.runs.flatMap((run): Entity[] => {
      let at: Point = run.start;
      const vertices: Vertex[] = run.curves.map((c) => {
        const v = { x: at.x, y: at.y, bulge: c.kind === 'line' ? 0 : 1 };
        at = c.to;
        return v;
      });
      vertices.push({ x: at.x, y: at.y, bulge: 0 });
      if (!vertices.every((v) => Number.isFinite(v.x) && Number.isFinite(v.y))) return [];
      const place = { ...refOf(s.element), layer: s.layer, elevation: 0, depth: 0 };
      return [{ kind: 'polyline', ...place, vertices, closed: run.closed }];
    }),
  );

/** Share of the page's size within which a rectangle covers it. */
const SHARE = 1e-3;

/** Whether a shape is a filled rectangle without a line round it, as large as the page or larger. */
export function isBackground(s: DrawnShape, page: ViewBox): boolean {
  if (s.stroke !== null || s.runs.length !== 1) return false;
  const run = s.runs[0]!;
  if (run.curves.length > 5 || run.curves.some((c) => c.kind !== 'line')) return false;
  const corners = [run.start, ...run.curves.map((c) => c.to)];
  const off = SHARE * Math.max(page.width, page.height);
  const spans = (values: readonly number[], from: number, to: number): boolean => {
    const [least, most] = [Math.min(...values), Math.max(...values)];
    const square = values.every((v) => v - least <= off || most - v <= off);
    return square && least <= from + off && most >= to - off;
  };
  return (
    spans(
      corners.map((c) => c.x),
      page.x,
      page.x + page.width,
    ) &&
    spans(
      corners.map((c) => c.y),
      page.y,
      page.y + page.height,
    )
  );
}
