import type { Ring } from '@haunch/geometry';
import type { Face, Part } from '@haunch/model';

/** A recess of a flat part, in the part's own plane; `face` is n+ (the face that is seen) where nothing says it. mm */
export interface FlatPocket {
  readonly ring: Ring;
  readonly depth: number;
  readonly face?: Face;
}

/** A plate of which only its curves are known, as it lies on the table with clearance and reliefs drawn in it. mm */
export interface FlatPart {
  readonly id: string;
  readonly thickness: number;
  readonly outline: Ring;
  readonly through: readonly Ring[];
  readonly pockets: readonly FlatPocket[];
  /** The angle, at most a right one, at which it passes through others, where somebody says it; else slots tell. radians */
  readonly lean?: number;
}

/**
 * What a part's curves alone say, mm: its frame, marks and holes are left behind.
 * @throws RangeError when the part has no thickness.
 */
export function flatPartOf(part: Part): FlatPart {
  if (part.thickness === null) throw new RangeError(`flatPartOf: part ${part.id} has no thickness`);
  return {
    id: part.id,
    thickness: part.thickness,
    outline: part.outline.ring,
    through: part.through.map((c) => c.ring),
    pockets: part.pockets.map(({ ring, depth, face }) => ({ ring, depth, face })),
  };
}
