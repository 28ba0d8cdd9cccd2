import { along, dot, inPlate, minus, type Vec } from '../frame.js';
import type { Plate, PlateEdge, PlateSide } from '../plate.js';
import { edgeOnEdge, edgeOnSide } from '../touch.js';

/** An edge of one plate near a face, a floor or an edge of another, across `gap` mm (below 0 where they overlap). */
export interface NearContact {
  /** The plate whose edge it is, and the one that it is near to. */
  readonly plate: Plate;
  readonly edge: PlateEdge;
  readonly other: Plate;
  readonly on: { readonly side: PlateSide } | { readonly edge: PlateEdge };
  readonly gap: number;
}

const carried = (e: PlateEdge, by: number): PlateEdge => ({
  ...e,
  corners: e.corners.map((c) => along(c, by, e.normal)) as unknown as PlateEdge['corners'],
});

/** Contacts along less of an edge than this are slivers beside a clearance, mm. */
const LEAST_STRETCH = 1;

const long = (stretches: readonly (readonly [number, number])[]): boolean =>
  stretches.reduce((sum, [from, to]) => sum + to - from, 0) >= LEAST_STRETCH;

const against = (a: Vec, b: Vec): boolean => dot(a, b) < -1 + 1e-6;

function nearSides(plate: Plate, other: Plate, within: number): NearContact[] {
  return plate.edges.flatMap((edge) =>
    [...other.faces, ...other.floors].flatMap((side): NearContact[] => {
      if (!against(edge.normal, side.normal)) return [];
      const w = inPlate(other.frame, edge.corners[0]).w;
      // Above face n+ and above floors of it w grows outwards; on the other side it falls.
      const gap = dot(side.normal, other.frame.n) > 0 ? w - side.w : side.w - w;
      if (Math.abs(gap) > within || !long(edgeOnSide(carried(edge, gap), other, side))) return [];
      return [{ plate, edge, other, on: { side }, gap }];
    }),
  );
}

function nearEdges(plate: Plate, other: Plate, within: number): NearContact[] {
  return plate.edges.flatMap((edge) =>
    other.edges.flatMap((partner): NearContact[] => {
      if (!against(edge.normal, partner.normal)) return [];
      const gap = dot(minus(partner.corners[0], edge.corners[0]), edge.normal);
      if (Math.abs(gap) > within) return [];
      const stretch = edgeOnEdge(carried(edge, gap), partner);
      if (!stretch || !long([stretch])) return [];
      return [{ plate, edge, other, on: { edge: partner }, gap }];
    }),
  );
}

/** All near contacts of two plates, mm: edges of either near the other's sides, and edges near edges. */
export const nearContacts = (a: Plate, b: Plate, within: number): NearContact[] => [
  ...nearSides(a, b, within),
  ...nearSides(b, a, within),
  ...nearEdges(a, b, within),
];
