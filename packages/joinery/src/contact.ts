import type { Lean, MasterMate } from '@haunch/model';
import { axisVector, dot, type Vec } from './frame.js';
import type { ContactRole } from './joinery.js';
import type { Plate, PlateEdge, PlateSide } from './plate.js';
import { arrisOnEdge, arrisOnSide, edgeOnEdge, edgeOnSide, type Stretch } from './touch.js';

/** An edge of one plate against a face of the other. */
export interface FaceContact {
  readonly plate: Plate;
  readonly edge: PlateEdge;
  readonly other: Plate;
  readonly face: PlateSide;
  readonly stretch: Stretch;
  readonly role: ContactRole & ('wall' | 'shoulder');
  /** How the edge leans against the face, where it touches it along an arris alone. */
  readonly lean?: Lean;
}

/** An edge of the slotted plate against an edge of the entering one. */
export interface EdgeContact {
  readonly edge: PlateEdge;
  readonly partner: PlateEdge;
  readonly stretch: Stretch;
  readonly partnerStretch: Stretch;
  readonly role: ContactRole & ('end' | 'seat');
  /** How one leans against the other, where they touch along an arris alone. */
  readonly lean?: Lean;
}

/** An edge of one plate on the floor of a pocket of the other. */
export interface FloorContact {
  readonly owner: Plate;
  readonly floor: PlateSide;
  readonly plate: Plate;
  readonly edge: PlateEdge;
  readonly stretch: Stretch;
}

/** Everything of one plate that lies against the other, by kind. */
export interface MateContacts {
  readonly faces: readonly FaceContact[];
  readonly edges: readonly EdgeContact[];
  readonly floors: readonly FloorContact[];
}

/** Directions within a tenth of a degree or so are parallel: frames have four decimals. */
const parallel = (a: Vec, b: Vec): boolean => Math.abs(dot(a, b)) > 1 - 1e-6;

/** How an edge leans against a plane of which this is the normal: the angle of the plate with what lies in the plane. */
const leanOf = (edge: PlateEdge, against: Vec): Lean => ({
  angle: Math.asin(Math.min(1, -dot(edge.normal, against))),
  height: edge.w[1] - edge.w[0],
});

/** The edges with material behind them: what a recess's curve has outside the plate bears nothing. */
const backed = (plate: Plate): PlateEdge[] => plate.edges.filter((e) => e.backed);

function faceContacts(plate: Plate, other: Plate, stops: readonly Vec[]): FaceContact[] {
  return backed(plate).flatMap((edge) =>
    other.faces.flatMap((face): FaceContact[] => {
      const role = stops.some((s) => parallel(edge.normal, s)) ? ('shoulder' as const) : ('wall' as const);
      const contact = { plate, edge, other, face, role };
      const lean = leanOf(edge, face.normal);
      return [
        ...edgeOnSide(edge, other, face).map((stretch) => ({ ...contact, stretch })),
        ...arrisOnSide(edge, other, face).map((stretch) => ({ ...contact, stretch, lean })),
      ];
    }),
  );
}

const floorContacts = (owner: Plate, plate: Plate): FloorContact[] =>
  owner.floors.flatMap((floor) =>
    backed(plate).flatMap((edge) =>
      [...edgeOnSide(edge, owner, floor), ...arrisOnSide(edge, owner, floor)].map((stretch) => ({
        owner,
        floor,
        plate,
        edge,
        stretch,
      })),
    ),
  );

/** Two edges that lie against each other, or touch along an arris of the first, whose plate is slotted. */
function edgeContact(
  edge: PlateEdge,
  partner: PlateEdge,
): Pick<EdgeContact, 'stretch' | 'partnerStretch' | 'lean'> | undefined {
  const stretch = edgeOnEdge(edge, partner);
  const partnerStretch = stretch && edgeOnEdge(partner, edge);
  if (stretch && partnerStretch) return { stretch, partnerStretch };
  const arris = arrisOnEdge(edge, partner);
  return arris && { ...arris, lean: leanOf(edge, partner.normal) };
}

/**
 * What of two mated plates lies against each other, where they stand. An edge against a face is a shoulder
 * when it faces along the entering move or the stop, else a wall; an edge against an edge is a seat when it
 * faces along the entering move, else an end. Where the plates are not square to each other, edges touch along
 * one arris; that counts as much, and says how they lean.
 */
export function contactsOfMate(mate: MasterMate, slot: Plate, entering: Plate): MateContacts {
  const move = axisVector(mate.enteringMoves);
  const stops = mate.stopsOn === undefined ? [move] : [move, axisVector(mate.stopsOn)];
  const edges = backed(slot).flatMap((edge) =>
    backed(entering).flatMap((partner): EdgeContact[] => {
      const touching = edgeContact(edge, partner);
      if (!touching) return [];
      return [{ edge, partner, ...touching, role: parallel(edge.normal, move) ? 'seat' : 'end' }];
    }),
  );
  return {
    faces: [...faceContacts(slot, entering, stops), ...faceContacts(entering, slot, stops)],
    edges,
    floors: [...floorContacts(slot, entering), ...floorContacts(entering, slot)],
  };
}
