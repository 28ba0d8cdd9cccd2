import type { Point } from '@haunch/geometry';
import { depthAt } from './view.js';
import { type SeenFace, windsRound } from './visible-faces.js';
import type { VisibleLine } from './visible-lines.js';

/** A stretch of a line, and whether what is seen on one of its sides lies further back. */
export interface WeightedLine {
  readonly from: Point;
  readonly to: Point;
  /** A contour: beside it lies air. An inner line has the plate, or one that touches it, on both sides. */
  readonly contour: boolean;
}

/** What lies further behind a line than this does not touch it, mm. */
const BEHIND = 1.5;
/** How far beside a line is looked, mm. */
const BESIDE = 0.15;
/** Ends of other lines nearer to a line than this lie on it, mm. */
const ON_LINE = 0.01;
/** Lines shorter than this are not divided, mm. */
const SHORT = 1;

/** Whether the nearest side at a place is further from the eye than `near` by more than a plate could hide. */
function isOpen(faces: readonly SeenFace[], p: Point, near: number): boolean {
  for (const f of faces) {
    const b = f.box;
    if (p.x < b.minX || p.x > b.maxX || p.y < b.minY || p.y > b.maxY) continue;
    if (depthAt(f.depth, p) > near - BEHIND && windsRound(f.loops, p)) return false;
  }
  return true;
}

/** Where along a line, as shares of its length, other lines end on it. */
function endsOn(line: VisibleLine, ends: readonly Point[]): number[] {
  const [dx, dy] = [line.to.x - line.from.x, line.to.y - line.from.y];
  const l = Math.hypot(dx, dy);
  if (l < SHORT) return [];
  const found: number[] = [];
  for (const e of ends) {
    const [ex, ey] = [e.x - line.from.x, e.y - line.from.y];
    if (Math.abs(dx * ey - dy * ex) > ON_LINE * l) continue;
    const along = (dx * ex + dy * ey) / l;
    if (along > ON_LINE && along < l - ON_LINE) found.push(along / l);
  }
  return found.sort((a, b) => a - b);
}

/** Divides lines where others end on them, for only there what lies beside them changes, and weighs each stretch. */
export function weighedLines(lines: readonly VisibleLine[], faces: readonly SeenFace[]): WeightedLine[] {
  const ends = lines.flatMap((l) => [l.from, l.to]);
  return lines.flatMap((line) => {
    const { from, to, nearFrom, nearTo } = line;
    const [dx, dy] = [to.x - from.x, to.y - from.y];
    const l = Math.hypot(dx, dy);
    const at = (t: number): Point => ({ x: from.x + t * dx, y: from.y + t * dy });
    const out: WeightedLine[] = [];
    let start = 0;
    for (const end of [...endsOn(line, ends), 1]) {
      if (end - start < 1e-9) continue;
      const t = (start + end) / 2;
      const m = at(t);
      const near = nearFrom + t * (nearTo - nearFrom);
      const side = { x: (-dy / l) * BESIDE, y: (dx / l) * BESIDE };
      const contour =
        isOpen(faces, { x: m.x + side.x, y: m.y + side.y }, near) ||
        isOpen(faces, { x: m.x - side.x, y: m.y - side.y }, near);
      out.push({ from: at(start), to: at(end), contour });
      start = end;
    }
    return out;
  });
}
