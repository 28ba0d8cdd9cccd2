import type { Point } from '@haunch/geometry';
import { cellsOf } from './cells.js';
import type { Curve } from './merge-tracks.js';

/** Straight pieces that an arc is taken for: enough to tell how often it is crossed. */
const PIECES = 6;
/** Cells are at least and at most this wide, mm. */
const CELL: readonly [number, number] = [0.5, 16];
/** Pairs that are looked at before the answer is what has been found until then: a few tenths of a second. */
const MOST_PAIRS = 30_000_000;

interface Piece {
  readonly kind: 'line';
  readonly a: Point;
  readonly b: Point;
}

function piecesOf(t: Curve): Piece[] {
  if (t.kind === 'line') return [{ kind: 'line', a: t.a, b: t.b }];
  const n = Math.max(1, Math.ceil((PIECES * Math.abs(t.sweep)) / Math.PI));
  const at = (i: number): Point => {
    const a = t.start + (t.sweep * i) / n;
    return { x: t.centre.x + t.r * Math.cos(a), y: t.centre.y + t.r * Math.sin(a) };
  };
  return Array.from({ length: n }, (_, i): Piece => ({ kind: 'line', a: at(i), b: at(i + 1) }));
}

const side = (a: Point, b: Point, p: Point): number => (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);

/** Whether two pieces cross between their ends; a common end is no crossing. */
const cross = (p: Piece, q: Piece): boolean =>
  side(p.a, p.b, q.a) * side(p.a, p.b, q.b) < 0 && side(q.a, q.b, p.a) * side(q.a, q.b, p.b) < 0;

/** How often ways cross each other, and a place near which they do most. */
export interface Crossings {
  readonly count: number;
  readonly at: Point | null;
}

/**
 * Counts how often the ways of a cutter cross each other in the plane, arcs as a few chords; ends soon after `most`. A
 * polygon kernel meets each crossing by itself, so that this is the work that a sweep will be.
 */
export function countCrossings(curves: readonly Curve[], most: number): Crossings {
  const pieces = curves.flatMap(piecesOf);
  const length = pieces.reduce((sum, p) => sum + Math.hypot(p.b.x - p.a.x, p.b.y - p.a.y), 0);
  const cell = Math.min(CELL[1], Math.max(CELL[0], (2 * length) / Math.max(1, pieces.length)));
  const cells = new Map<number, number[]>();
  pieces.forEach((p, i) => {
    for (const key of cellsOf(p, 0, cell)) {
      const list = cells.get(key);
      if (list) list.push(i);
      else cells.set(key, [i]);
    }
  });
  let [count, pairs, worst] = [0, 0, 0];
  let at: Point | null = null;
  const seen = new Set<number>();
  for (const list of cells.values()) {
    let here = 0;
    pairs += (list.length * (list.length - 1)) / 2;
    if (pairs > MOST_PAIRS) break;
    for (let i = 0; i < list.length; i++)
      for (let j = i + 1; j < list.length; j++) {
        const [p, q] = [list[i]!, list[j]!];
        if (!cross(pieces[p]!, pieces[q]!)) continue;
        // Long ways share several cells and cross in one.
        const pair = p * pieces.length + q;
        if (seen.has(pair)) continue;
        seen.add(pair);
        here++;
      }
    count += here;
    if (here > worst) [worst, at] = [here, pieces[list[0]!]!.a];
    if (count > most) break;
  }
  return { count, at };
}
