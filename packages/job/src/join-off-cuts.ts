import { type Box, type Point, snap } from '@haunch/geometry';

/** Two rectangles touch where no more than this is between them, mm: each is rounded inward to whole tenths. */
const TOUCH = 0.25;

const size = (b: Box): number => (b.maxX - b.minX) * (b.maxY - b.minY);

/** A box with X and Y exchanged: what is right of another is above it then. */
const mirrored = ({ minX, minY, maxX, maxY }: Box): Box => ({
  minX: minY,
  minY: minX,
  maxX: maxY,
  maxY: maxX,
});

/** The outline of two boxes of which the second touches the first from the right by `least` or more, counter-clockwise; undefined where it does not. */
function beside(a: Box, b: Box, least: number): Point[] | undefined {
  const touch = Math.min(a.maxY, b.maxY) - Math.max(a.minY, b.minY);
  if (b.minX < a.maxX - 1e-9 || b.minX > a.maxX + TOUCH || touch < least) return undefined;
  // The rectangle that runs through both must be worth more than the lesser of them.
  if (touch * (b.maxX - a.minX) <= Math.min(size(a), size(b))) return undefined;
  // The narrow gap between them is free as well where both are beside it.
  const [low, high] = [a.minY < b.minY ? a.maxX : b.minX, b.maxY < a.maxY ? a.maxX : b.minX];
  const corners: Point[] = [
    { x: a.minX, y: a.minY },
    { x: low, y: a.minY },
    { x: low, y: b.minY },
    { x: b.maxX, y: b.minY },
    { x: b.maxX, y: b.maxY },
    { x: high, y: b.maxY },
    { x: high, y: a.maxY },
    { x: a.minX, y: a.maxY },
  ];
  const same = (p: Point, q: Point): boolean => p.x === q.x && p.y === q.y;
  const apart = corners.filter((p, i) => !same(p, corners[(i + 7) % 8]!));
  return apart.filter((p, i) => {
    const [q, r] = [apart[(i + apart.length - 1) % apart.length]!, apart[(i + 1) % apart.length]!];
    return (p.x - q.x) * (r.y - p.y) !== (p.y - q.y) * (r.x - p.x);
  });
}

/**
 * The outline of two boxes that touch along `least` or more, as one board, where the rectangle that runs through both is larger than the
 * lesser of them; undefined where they are worth as much apart. Counter-clockwise, mm.
 */
export function joinBoxes(a: Box, b: Box, least: number): Point[] | undefined {
  const across = beside(a, b, least) ?? beside(b, a, least);
  if (across) return across;
  const up = beside(mirrored(a), mirrored(b), least) ?? beside(mirrored(b), mirrored(a), least);
  // Seen in the mirror it runs the other way round.
  return up?.map(({ x, y }) => ({ x: snap(y), y: snap(x) })).reverse();
}
