import type { Box, Point } from '@haunch/geometry';

/** A number's place: where it stands, and whether a leader takes it to where it belongs. */
export interface NumberPlace {
  readonly at: Point;
  readonly led: boolean;
}

/** Directions that are tried, outwards ring by ring. */
const DIRECTIONS = 16;
const RINGS = 14;

/** A small thing that no label may cover. */
export interface Spot {
  readonly at: Point;
  readonly radius: number;
}

/**
 * A place for a round label at each point, so that no two overlap where there is room: at the point itself, else the nearest free
 * place round it, within the box and off the spots. Those before go first, so the order of work decides. Same units as the points.
 */
export function placeNumbers(
  points: readonly Point[],
  radius: number,
  box: Box,
  spots: readonly Spot[] = [],
): NumberPlace[] {
  const taken: Point[] = [];
  const free = (p: Point): boolean =>
    p.x >= box.minX + radius &&
    p.x <= box.maxX - radius &&
    p.y >= box.minY + radius &&
    p.y <= box.maxY - radius &&
    taken.every((t) => Math.hypot(t.x - p.x, t.y - p.y) >= 2.15 * radius) &&
    spots.every((s) => Math.hypot(s.at.x - p.x, s.at.y - p.y) >= radius + s.radius);
  return points.map((point) => {
    const tried: Point[] = [point];
    for (let ring = 1; ring <= RINGS; ring++)
      for (let d = 0; d < DIRECTIONS; d++) {
        const angle = (2 * Math.PI * (d + (ring % 2) / 2)) / DIRECTIONS;
        const far = ring * 0.9 * radius;
        tried.push({ x: point.x + far * Math.cos(angle), y: point.y + far * Math.sin(angle) });
      }
    const at = tried.find(free) ?? point;
    taken.push(at);
    return { at, led: Math.hypot(at.x - point.x, at.y - point.y) > radius };
  });
}
