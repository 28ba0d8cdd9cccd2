import { along, cross, dot, inPlate, length, minus, type Vec } from '../frame.js';
import type { Plate, PlateEdge, PlateSide } from '../plate.js';
import { LEAST_LEAN, SAME_PLACE } from '../tolerances.js';
import { arrisOnSide } from '../touch.js';
import { leanFollows, type PlaneFollows } from './plane-follows.js';

/** How much shorter still than flush a tenon may be that passes right through. mm */
const SHORT = 0.8;

/** An arris of an edge, by how far outside of a side it lies, mm. */
interface Arris {
  readonly height: number;
  /** Whether it goes with its plate's face n+ when the thickness changes, as far as marks at n− can tell. */
  readonly ownShare: 0 | 1;
}

/** The arrises of an edge that runs along a side of another plate: at its lower and at its upper height; none where it cuts the side. */
function arrisesOver(own: Plate, edge: PlateEdge, other: Plate, side: PlateSide): readonly Arris[] {
  const out = dot(side.normal, other.frame.n);
  const height = (x: Vec): number => out * (inPlate(other.frame, x).w - side.w);
  const [a, b, , d] = edge.corners;
  if (Math.abs(dot(minus(b, a), side.normal)) > SAME_PLACE) return [];
  const pocket = own.part.pockets.find((p) => p.id === edge.contour);
  return [a, d].map((x, upper) => ({
    height: height(x),
    ownShare: pocket ? (pocket.face === 'n+' ? 1 : 0) : upper === 1 ? 1 : 0,
  }));
}

/**
 * How far an edge that leans against a side must go along its own normal until an arris lies on it, or on the face as it would go on from a
 * tenon that ends flush, and which arris that is; nothing where it would not touch. mm, below 0 where it overlaps.
 */
export function arrisBefore(
  own: Plate,
  edge: PlateEdge,
  other: Plate,
  side: PlateSide,
): { readonly by: number; readonly arris: Arris } | undefined {
  const facing = dot(edge.normal, side.normal);
  if (facing > -LEAST_LEAN || facing < -1 + 1e-6) return undefined;
  const [one, two] = arrisesOver(own, edge, other, side);
  if (!one || !two) return undefined;
  const arris = one.height <= two.height ? one : two;
  const by = arris.height / -facing;
  const touchesAt = (shift: number, way: Vec): boolean => {
    const corners = edge.corners.map((c) => along(along(c, by, edge.normal), shift, way));
    return (
      arrisOnSide({ ...edge, corners: corners as unknown as PlateEdge['corners'] }, other, side).length > 0
    );
  };
  if (touchesAt(0, side.normal)) return { by, arris };
  // The face of a tenon that ends flush stops before the far arris of its slot, by as much as the two faces' ends differ.
  if (edge.contour.endsWith('.outline')) return undefined;
  const reach = other.part.thickness! * (Math.sqrt(1 - facing * facing) / -facing) + SHORT;
  const [a, b] = edge.corners;
  const line = minus(b, a);
  const way = along([0, 0, 0], 1 / length(line), cross(line, side.normal));
  return touchesAt(reach, way) || touchesAt(-reach, way) ? { by, arris } : undefined;
}

/**
 * What an edge follows that leans to a side of another plate: an arris on it, an arris flush with it inside an opening, an arris before
 * it with a gap of at most `gap` mm. The shares are those of the edge where it lies on its own plate's face n−.
 */
export function leaningBound(
  own: Plate,
  edge: PlateEdge,
  other: Plate,
  side: PlateSide,
  follows: PlaneFollows,
  { flush, gap }: { readonly flush: () => boolean; readonly gap: number },
):
  | { readonly terms: PlaneFollows['terms']; readonly reason: 'face' | 'floor' | 'flush' | 'gap' }
  | undefined {
  const slope = dot(follows.axis, own.frame.n);
  const terms = ({ ownShare }: Arris) => leanFollows(follows, own.id, slope, ownShare);
  const floor = side.tag.endsWith('/floor');
  const before = arrisBefore(own, edge, other, side);
  if (before) {
    const { height } = before.arris;
    if (Math.abs(height) <= SAME_PLACE)
      return { terms: terms(before.arris), reason: floor ? 'floor' : 'face' };
    if (!floor && height > 0 && height <= gap) return { terms: terms(before.arris), reason: 'gap' };
    return undefined;
  }
  if (floor || dot(edge.normal, side.normal) < LEAST_LEAN) return undefined;
  const level = arrisesOver(own, edge, other, side).find((a) => Math.abs(a.height) <= SAME_PLACE);
  return level && flush() ? { terms: terms(level), reason: 'flush' } : undefined;
}
