import type { MasterMate } from '@haunch/model';
import { axisVector, dot, type Vec } from './frame.js';
import type { ContactRole } from './joinery.js';
import type { Plate, PlateEdge, PlateSide } from './plate.js';
import { edgeOnEdge, edgeOnSide, type Stretch } from './touch.js';

/** An edge of one plate against a face of the other. */
export interface FaceContact {
  readonly plate: Plate;
  readonly edge: PlateEdge;
  readonly other: Plate;
  readonly face: PlateSide;
  readonly stretch: Stretch;
  readonly role: ContactRole & ('wall' | 'shoulder');
}

/** An edge of the slotted plate against an edge of the entering one. */
export interface EdgeContact {
  readonly edge: PlateEdge;
  readonly partner: PlateEdge;
  readonly stretch: Stretch;
  readonly partnerStretch: Stretch;
  readonly role: ContactRole & ('end' | 'seat');
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

function faceContacts(plate: Plate, other: Plate, stops: readonly Vec[]): FaceContact[] {
  return plate.edges.flatMap((edge) =>
    other.faces.flatMap((face) =>
      edgeOnSide(edge, other, face).map((stretch) => ({
        plate,
        edge,
        other,
        face,
        stretch,
        role: stops.some((s) => parallel(edge.normal, s)) ? ('shoulder' as const) : ('wall' as const),
      })),
    ),
  );
}

const floorContacts = (owner: Plate, plate: Plate): FloorContact[] =>
  owner.floors.flatMap((floor) =>
    plate.edges.flatMap((edge) =>
      edgeOnSide(edge, owner, floor).map((stretch) => ({ owner, floor, plate, edge, stretch })),
    ),
  );

/**
 * What of two mated plates lies against each other, where they stand. An edge against a face is a shoulder
 * when it faces along the entering move or the stop, else a wall; an edge against an edge is a seat when it
 * faces along the entering move, else an end.
 */
export function contactsOfMate(mate: MasterMate, slot: Plate, entering: Plate): MateContacts {
  const move = axisVector(mate.enteringMoves);
  const stops = mate.stopsOn === undefined ? [move] : [move, axisVector(mate.stopsOn)];
  const edges = slot.edges.flatMap((edge) =>
    entering.edges.flatMap((partner): EdgeContact[] => {
      const stretch = edgeOnEdge(edge, partner);
      const partnerStretch = stretch && edgeOnEdge(partner, edge);
      if (!stretch || !partnerStretch) return [];
      return [{ edge, partner, stretch, partnerStretch, role: parallel(edge.normal, move) ? 'seat' : 'end' }];
    }),
  );
  return {
    faces: [...faceContacts(slot, entering, stops), ...faceContacts(entering, slot, stops)],
    edges,
    floors: [...floorContacts(slot, entering), ...floorContacts(entering, slot)],
  };
}
