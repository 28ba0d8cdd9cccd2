import { type Point, pointInRing, pointSegmentDistance, type Segment, segmentBounds } from '@haunch/geometry';
import { airSide, type WantedContour } from './wanted-contour.js';

/** The nearest wanted curve to a point. */
export interface Nearest {
  readonly contour: WantedContour;
  readonly segment: Segment;
  /** Signed: positive on the air's side, negative inside wanted material. mm */
  readonly deviation: number;
}

const CELL = 10;
/** A number for a cell, its own within 10 km. */
const cellKey = (i: number, j: number): number => (i + 500_000) * 1_000_003 + (j + 500_000);

/** Wanted curves of one item, asked by place. */
export interface WantedIndex {
  readonly contours: readonly WantedContour[];
  /** The nearest of the contours that `open` admits. `sure` asks for a sign that is right at corners as well. */
  nearest(p: Point, open: (c: WantedContour) => boolean, sure: number): Nearest | null;
}

interface Entry {
  readonly contour: WantedContour;
  readonly segment: Segment;
}

/** Pieces of a segment short enough for the grid, as boxes. */
function* boxes(s: Segment): Generator<{ minX: number; minY: number; maxX: number; maxY: number }> {
  const length =
    s.kind === 'line' ? Math.hypot(s.to.x - s.from.x, s.to.y - s.from.y) : Math.abs(s.sweep) * s.radius;
  const n = Math.max(1, Math.ceil(length / CELL));
  if (n === 1) {
    yield segmentBounds(s);
    return;
  }
  const at = (t: number): Point => {
    if (s.kind === 'line')
      return { x: s.from.x + (s.to.x - s.from.x) * t, y: s.from.y + (s.to.y - s.from.y) * t };
    const a = Math.atan2(s.from.y - s.centre.y, s.from.x - s.centre.x) + s.sweep * t;
    return { x: s.centre.x + s.radius * Math.cos(a), y: s.centre.y + s.radius * Math.sin(a) };
  };
  const bow = s.kind === 'line' ? 0 : s.radius * (1 - Math.cos(Math.abs(s.sweep) / n / 2));
  for (let i = 0; i < n; i++) {
    const a = at(i / n);
    const b = at((i + 1) / n);
    yield {
      minX: Math.min(a.x, b.x) - bow,
      minY: Math.min(a.y, b.y) - bow,
      maxX: Math.max(a.x, b.x) + bow,
      maxY: Math.max(a.y, b.y) + bow,
    };
  }
}

/** Indexes the wanted curves of an item. */
export function indexWanted(contours: readonly WantedContour[]): WantedIndex {
  const cells = new Map<number, Entry[]>();
  let [i0, i1, j0, j1] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const contour of contours)
    for (const segment of contour.segments)
      for (const b of boxes(segment))
        for (let i = Math.floor(b.minX / CELL); i <= Math.floor(b.maxX / CELL); i++)
          for (let j = Math.floor(b.minY / CELL); j <= Math.floor(b.maxY / CELL); j++) {
            const key = cellKey(i, j);
            const entry = { contour, segment };
            const list = cells.get(key);
            if (!list) cells.set(key, [entry]);
            else if (list[list.length - 1]!.segment !== segment) list.push(entry);
            [i0, i1, j0, j1] = [Math.min(i0, i), Math.max(i1, i), Math.min(j0, j), Math.max(j1, j)];
          }
  return {
    contours,
    nearest(p, open, sure) {
      const ci = Math.floor(p.x / CELL);
      const cj = Math.floor(p.y / CELL);
      let best: Entry | null = null;
      let gap = Infinity;
      const look = (i: number, j: number): void => {
        const here = cells.get(cellKey(i, j));
        if (here === undefined) return;
        for (const e of here) {
          if (!open(e.contour)) continue;
          const d = pointSegmentDistance(e.segment, p);
          if (d < gap) [gap, best] = [d, e];
        }
      };
      const most = Math.max(Math.abs(ci - i0), Math.abs(ci - i1), Math.abs(cj - j0), Math.abs(cj - j1));
      for (let ring = 0; ring <= most; ring++) {
        // All that lies in rings not yet looked at is at least this far away.
        if (gap <= distanceToRing(p, ci, cj, ring)) break;
        if (ring === 0) look(ci, cj);
        else
          for (let k = -ring; k <= ring; k++) {
            look(ci + k, cj - ring);
            look(ci + k, cj + ring);
            if (Math.abs(k) !== ring) {
              look(ci - ring, cj + k);
              look(ci + ring, cj + k);
            }
          }
      }
      if (best === null) return null;
      const { contour, segment } = best as Entry;
      const side =
        gap <= sure
          ? airSide(contour, segment, p)
          : (pointInRing(contour.ring, p) === 'inside') === (contour.kind === 'outline')
            ? -1
            : 1;
      return { contour, segment, deviation: side < 0 ? -gap : gap };
    },
  };
}

/** The least distance from a point in cell (ci, cj) to any cell `ring` cells away. */
const distanceToRing = (p: Point, ci: number, cj: number, ring: number): number =>
  ring === 0
    ? -1
    : Math.min(p.x - ci * CELL, (ci + 1) * CELL - p.x, p.y - cj * CELL, (cj + 1) * CELL - p.y) +
      (ring - 1) * CELL;
