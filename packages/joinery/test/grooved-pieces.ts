import { polygonRing, rectangleRing } from '@haunch/geometry';
import type { Part } from '@haunch/model';
import { flat } from './found-pieces.js';

/** A box whose bottom stands in grooves of its four walls. mm */
export interface GroovedBox {
  readonly size: readonly [x: number, y: number, z: number];
  readonly wall: number;
  readonly bottom: number;
  /** Fingers and gaps at each corner; front and back have the lowest finger. */
  readonly count: number;
  readonly depth: number;
  /** From the walls' lower edges to the groove. */
  readonly raised: number;
  /** Grooves that run out at both ends, as a saw cuts them, or end where the bottom does. */
  readonly through: boolean;
}

const pocket = (part: Part, ring: Part['pockets'][number]['ring'], depth: number): Part => {
  const id = `${part.id}.p${part.pockets.length}`;
  const recess = { id, ring, bare: ring, reliefs: [], face: 'n+' as const, depth };
  return { ...part, pockets: [...part.pockets, recess] };
};

/** The box's plates as drawn, each from (0, 0), walls seen from inside. */
export function groovedBox(box: GroovedBox): Part[] {
  const { size, wall: t, bottom, count, depth, raised, through } = box;
  const [x, y, z] = size;
  const wall = (id: string, length: number, lowest: boolean): Part => {
    const high = (k: number): number => (k * z) / count;
    const rows = Array.from({ length: count }, (_, k) => ({
      from: high(k),
      to: high(k + 1),
      in: (k % 2 === 0) === lowest ? 0 : t,
    }));
    const right = rows.flatMap((r) => [
      { x: length - r.in, y: r.from },
      { x: length - r.in, y: r.to },
    ]);
    const left = [...rows].reverse().flatMap((r) => [
      { x: r.in, y: r.to },
      { x: r.in, y: r.from },
    ]);
    const [from, to] = through ? [0, length] : [t - depth, length - t + depth];
    return pocket(
      flat(id, t, polygonRing([...right, ...left])),
      rectangleRing(from, raised, to, raised + bottom),
      depth,
    );
  };
  const inside = (length: number): number => length - 2 * t + 2 * depth;
  return [
    wall('front', x, true),
    wall('back', x, true),
    wall('left', y, false),
    wall('right', y, false),
    flat('bottom', bottom, rectangleRing(0, 0, inside(x), inside(y))),
  ];
}

/** A case: two sides with housings from edge to edge at these heights, and shelves of these depths in them. mm */
export function groovedCase(heights: readonly number[], depths: readonly number[]): Part[] {
  const side = (id: string): Part =>
    heights.reduce(
      (part, z) => pocket(part, rectangleRing(0, z, 300, z + 18), 8),
      flat(id, 18, rectangleRing(0, 0, 300, 900)),
    );
  return [
    side('left'),
    side('right'),
    ...depths.map((d, k) => flat(`shelf${k}`, 18, rectangleRing(0, 0, 580, d))),
  ];
}
