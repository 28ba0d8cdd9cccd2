import { type Box, type Point, snap } from '@haunch/geometry';

/** Where each box is moved so that all stand beside each other in rows, and the box that they fill. mm. */
export interface Rows {
  readonly moves: readonly Point[];
  readonly bounds: Box;
}

/**
 * Sets boxes in rows from the top left, in their order, `gap` mm apart, each row at most about `width` mm wide.
 * The moves lie on the 0.0001 mm grid.
 */
export function boxesInRows(
  boxes: readonly Box[],
  { gap, width }: { readonly gap: number; readonly width: number },
): Rows {
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

/** How much wider than high a page is. */
const PAGE = 1.5;

/** The row width with which these boxes fill a page of 3 : 2 best, of two dozen that are tried. */
export function rowWidth(boxes: readonly Box[], gap: number): number {
  let area = 0;
  let widest = 0;
  for (const b of boxes) {
    area += (b.maxX - b.minX + gap) * (b.maxY - b.minY + gap);
    widest = Math.max(widest, b.maxX - b.minX);
  }
  let best = { width: widest, size: Infinity };
  for (let k = 0; k < 24; k++) {
    const width = Math.max(widest, Math.sqrt(area * PAGE) * (0.8 + 0.1 * k));
    const { bounds } = boxesInRows(boxes, { gap, width });
    const size = Math.max((bounds.maxX - bounds.minX) / PAGE, bounds.maxY - bounds.minY);
    if (size < best.size) best = { width, size };
  }
  return best.width;
}
