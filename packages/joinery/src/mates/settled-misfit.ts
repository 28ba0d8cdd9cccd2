import { type Gap, gapsBetween, squaresOf } from './misfit.js';
import type { Piece } from './piece.js';
import { bare, type PoseBook } from './pose-book.js';

/** Holds what nothing holds, without a weight that shows. */
const LOOSE = 1e-6;

/**
 * What speaks for a piece: ends that meet and faces that bear, less the sum of the squares, in mm², of what stays open
 * or presses when each plate is moved, without turning, to where that sum is least. The same however the piece was
 * grown, and the same for its mirror image.
 */
export function ratingOf(piece: Piece, book: PoseBook): number {
  const all = [...piece.standing.values()];
  const n = 3 * all.length;
  const rows = Array.from({ length: n }, () => new Float64Array(n + 1));
  let sum = 0;
  let speaks = 0;
  const put = (i: number, j: number, gaps: readonly Gap[]): void => {
    sum += squaresOf(gaps);
    for (const { normal, gap } of gaps) {
      const terms: [number, number][] = [];
      for (const k of [0, 1, 2] as const) terms.push([3 * i + k, -normal[k]], [3 * j + k, normal[k]]);
      for (const [r, x] of terms) {
        for (const [c, y] of terms) rows[r]![c]! += x * y;
        rows[r]![n]! += x * gap;
      }
    }
  };
  all.forEach((a, i) => {
    for (let j = i + 1; j < all.length; j++) {
      const b = all[j]!;
      const met = book.meeting(a, b);
      if (met === null) continue;
      speaks += bare(met);
      if (met.misfit > 0) put(i, j, gapsBetween(a, b));
    }
  });
  const right = rows.map((r) => r[n]!);
  for (let k = 0; k < n; k++) rows[k]![k]! += LOOSE;
  const moves = solved(rows);
  return speaks - sum + right.reduce((s, g, k) => s + g * moves[k]!, 0);
}

/** Gauss's elimination of a positive definite system, the right side in the last column. */
function solved(rows: readonly Float64Array[]): number[] {
  const n = rows.length;
  for (let k = 0; k < n; k++)
    for (let i = k + 1; i < n; i++) {
      const by = rows[i]![k]! / rows[k]![k]!;
      if (by !== 0) for (let j = k; j <= n; j++) rows[i]![j]! -= by * rows[k]![j]!;
    }
  const out = new Array<number>(n).fill(0);
  for (let k = n - 1; k >= 0; k--) {
    let s = rows[k]![n]!;
    for (let j = k + 1; j < n; j++) s -= rows[k]![j]! * out[j]!;
    out[k] = s / rows[k]![k]!;
  }
  return out;
}
