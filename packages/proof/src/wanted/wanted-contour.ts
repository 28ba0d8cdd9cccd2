import { circleRing, type Point, type Ring, ringSegments, type Segment } from '@haunch/geometry';
import type { Part } from '@haunch/model';

/** A curve that an item shall have, in board coordinates: its outline, or one that bounds air. mm */
export interface WantedContour {
  readonly id: string;
  readonly kind: 'outline' | 'through' | 'pocket' | 'hole';
  readonly ring: Ring;
  /** The same without reliefs. */
  readonly bare: Ring;
  readonly segments: readonly Segment[];
  /** Height of the floor in program coordinates; null where it goes through. */
  readonly floor: number | null;
}

/** Everything wanted of a placed part. `top` is the program height of the sheet's top, from which depths count. */
export function wantedContours(part: Part, top: number): WantedContour[] {
  const of = (
    id: string,
    kind: WantedContour['kind'],
    ring: Ring,
    bare: Ring,
    depth: number | null,
  ): WantedContour => ({
    id,
    kind,
    ring,
    bare,
    segments: ringSegments(ring),
    floor: depth === null ? null : top - depth,
  });
  return [
    of(part.outline.id, 'outline', part.outline.ring, part.outline.bare, null),
    ...part.through.map((c) => of(c.id, 'through', c.ring, c.bare, null)),
    ...part.pockets.map((c) => of(c.id, 'pocket', c.ring, c.bare, c.depth)),
    ...part.holes.map((h) => {
      const ring = circleRing(h.centre, h.diameter / 2);
      return of(h.id, 'hole', ring, ring, h.depth === 'through' ? null : h.depth);
    }),
  ];
}

/**
 * How far a point lies on the air's side of a wanted segment (negative: on the material's side), mm, when its foot
 * is on the segment. Outlines are walked with the material on the left, all others with the air on the left.
 */
export function airSide(contour: WantedContour, s: Segment, p: Point): number {
  const left =
    s.kind === 'line'
      ? ((s.to.x - s.from.x) * (p.y - s.from.y) - (s.to.y - s.from.y) * (p.x - s.from.x)) /
        Math.hypot(s.to.x - s.from.x, s.to.y - s.from.y)
      : (s.radius - Math.hypot(p.x - s.centre.x, p.y - s.centre.y)) * Math.sign(s.sweep);
  return contour.kind === 'outline' ? -left : left;
}

/** The unit vector into the air at a point of a wanted segment. */
export function intoAir(contour: WantedContour, s: Segment, p: Point): Point {
  const outline = contour.kind === 'outline' ? -1 : 1;
  if (s.kind === 'line') {
    const l = Math.hypot(s.to.x - s.from.x, s.to.y - s.from.y);
    return { x: (-(s.to.y - s.from.y) / l) * outline, y: ((s.to.x - s.from.x) / l) * outline };
  }
  const l = Math.hypot(p.x - s.centre.x, p.y - s.centre.y) || 1;
  const inward = Math.sign(s.sweep) * outline;
  return { x: ((s.centre.x - p.x) / l) * inward, y: ((s.centre.y - p.y) / l) * inward };
}

/** Whether a contour bounds air over a slab: through cuts everywhere, recesses above their floor; null where a floor's tolerance hides it. */
export function openOver(
  contour: WantedContour,
  slab: { readonly low: number; readonly high: number },
  tolerance: number,
): boolean | null {
  if (contour.floor === null) return true;
  // A floor that a pass reaches to a few micrometres is the same height as that pass.
  const same = 0.003;
  if (slab.low >= contour.floor - same) return slab.high <= contour.floor + tolerance ? null : true;
  return slab.low >= contour.floor - tolerance - same ? null : false;
}
