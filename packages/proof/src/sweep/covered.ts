import { angleInSweep, type Point, pointSegmentDistance } from '@haunch/geometry';
import { cellKey, cellsOf } from './cells.js';
import type { Curve } from './merge-tracks.js';

/** Side of a cell in which curves are looked up, mm. */
const CELL = 16;
/** Ways nearer to each other than this are one: a step of a program's figures, mm. */
const SAME = 0.0001;

const near = (p: Point, q: Point): boolean => Math.hypot(p.x - q.x, p.y - q.y) <= SAME;

const onLine = (c: Curve & { readonly kind: 'line' }, p: Point): boolean =>
  pointSegmentDistance({ kind: 'line', from: c.a, to: c.b }, p) <= SAME;

/** Whether a curve runs within a straight way, a piece of it. */
function within(c: Curve, way: Curve): boolean {
  if (way.kind === 'line') return c.kind === 'line' && onLine(way, c.a) && onLine(way, c.b);
  if (c.kind === 'line') {
    if (!near(c.a, c.b)) return false;
    const [dx, dy] = [c.a.x - way.centre.x, c.a.y - way.centre.y];
    return (
      Math.abs(Math.hypot(dx, dy) - way.r) <= SAME && angleInSweep(Math.atan2(dy, dx), way.start, way.sweep)
    );
  }
  if (!near(c.centre, way.centre) || Math.abs(c.r - way.r) > SAME) return false;
  const spare = SAME / way.r;
  const turn = 2 * Math.PI;
  const from = (((c.start - way.start + spare) % turn) + turn) % turn;
  return way.sweep >= turn - spare || from + c.sweep <= way.sweep + 2 * spare;
}

/**
 * Tells which curves run wholly within one of some others, to 0.0001 mm: a cutter of the same radius sweeps nothing
 * more along them.
 */
export function coveredBy(others: readonly Curve[]): (c: Curve) => boolean {
  const cells = new Map<number, Curve[]>();
  for (const c of others)
    for (const key of cellsOf(c, SAME, CELL)) {
      const list = cells.get(key);
      if (list) list.push(c);
      else cells.set(key, [c]);
    }
  return (c) =>
    (cells.get(cellKey(Math.floor(c.a.x / CELL), Math.floor(c.a.y / CELL))) ?? []).some((way) =>
      within(c, way),
    );
}
