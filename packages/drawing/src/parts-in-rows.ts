import { type Box, type Point, ringBounds, snap } from '@haunch/geometry';
import type { Part } from '@haunch/model';

/** Where each part is moved so that all stand beside each other in rows, and the box that they fill. mm. */
export interface Rows {
  readonly moves: readonly Point[];
  readonly bounds: Box;
}

/**
 * Sets parts in rows from the top left, in their order, `gap` mm apart, each row at most about `width` mm wide.
 * The moves lie on the 0.0001 mm grid.
 */
export function partsInRows(
  parts: readonly Part[],
  { gap, width }: { readonly gap: number; readonly width: number },
): Rows {
  const boxes = parts.map((p) => ringBounds(p.outline.ring));
  const moves: Point[] = [];
  let x = 0;
  let top = 0;
  let tallest = 0;
  let widest = 0;
  for (const b of boxes) {
    const [w, h] = [b.maxX - b.minX, b.maxY - b.minY];
    if (x > 0 && x + w > width) {
      top -= tallest + gap;
      x = 0;
      tallest = 0;
    }
    moves.push({ x: snap(x - b.minX), y: snap(top - b.maxY) });
    x += w + gap;
    tallest = Math.max(tallest, h);
    widest = Math.max(widest, x - gap);
  }
  return { moves, bounds: { minX: 0, minY: top - tallest, maxX: widest, maxY: 0 } };
}

/** A row width that makes rows of parts about as wide as a page is. */
export function rowWidth(parts: readonly Part[], gap: number): number {
  let area = 0;
  let widest = 0;
  for (const p of parts) {
    const b = ringBounds(p.outline.ring);
    area += (b.maxX - b.minX + gap) * (b.maxY - b.minY + gap);
    widest = Math.max(widest, b.maxX - b.minX);
  }
  return Math.max(widest, Math.sqrt(area * 1.9));
}
