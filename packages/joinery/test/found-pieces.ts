import {
  moveRing,
  type Point,
  polygonRing,
  type Ring,
  rectangleRing,
  ringBounds,
  STAY,
} from '@haunch/geometry';
import { type Hole, movePart, type Part } from '@haunch/model';
import { dice } from './mates-pieces.js';

/** A flat part of which only curves, holes and a thickness are known. mm */
export const flat = (
  id: string,
  thickness: number | null,
  outline: Ring,
  through: readonly Ring[] = [],
  holes: readonly Omit<Hole, 'id'>[] = [],
): Part => {
  const contour = (name: string, ring: Ring) => ({ id: name, ring, bare: ring, reliefs: [] });
  return {
    kind: 'part',
    id,
    name: id,
    thickness,
    grain: null,
    cutFace: 'n+',
    showFace: null,
    stock: null,
    outline: contour(id, outline),
    through: through.map((r, k) => contour(`${id}.c${k + 1}`, r)),
    pockets: [],
    holes: holes.map((h, k) => ({ ...h, id: `${id}.b${k + 1}` })),
    from: [],
  };
};

const corners = (points: readonly (readonly [number, number])[]): Point[] =>
  points.map(([x, y]) => ({ x, y }));

const rows = (points: readonly (readonly [number, number])[]): Ring => polygonRing(corners(points));

/**
 * A rack: two uprights with slots, and two boards between them with two tenons of different lengths at either end, no
 * two of which are alike. Without faces to tell, the piece and its mirror image have the same parts. mm
 */
export function rack(t = 12, clearance = 0): Part[] {
  const c = clearance / 2;
  const slot = (y0: number, y1: number, z: number): Ring => rectangleRing(y0 - c, z - c, y1 + c, z + t + c);
  const board = (id: string, [a, b, d, e]: readonly [number, number][], hole: Ring): Part =>
    flat(
      id,
      t,
      rows([
        [0, 0],
        [400, 0],
        [400, d![0]],
        [400 + t, d![0]],
        [400 + t, d![1]],
        [400, d![1]],
        [400, e![0]],
        [400 + t, e![0]],
        [400 + t, e![1]],
        [400, e![1]],
        [400, 200],
        [0, 200],
        [0, b![1]],
        [-t, b![1]],
        [-t, b![0]],
        [0, b![0]],
        [0, a![1]],
        [-t, a![1]],
        [-t, a![0]],
        [0, a![0]],
      ]),
      [hole],
    );
  return [
    flat('left', t, rectangleRing(0, 0, 200, 420), [
      slot(30, 80, 100),
      slot(120, 150, 100),
      slot(20, 60, 300),
      slot(110, 170, 300),
    ]),
    flat('right', t, rectangleRing(0, 0, 200, 450), [
      slot(25, 85, 100),
      slot(110, 135, 100),
      slot(40, 75, 300),
      slot(120, 165, 300),
    ]),
    board(
      'low',
      [
        [30, 80],
        [120, 150],
        [25, 85],
        [110, 135],
      ],
      rectangleRing(100, 90, 140, 100),
    ),
    board(
      'high',
      [
        [20, 60],
        [110, 170],
        [40, 75],
        [120, 165],
      ],
      rectangleRing(300, 90, 340, 100),
    ),
  ];
}

/** The part as it is drawn when turned over: seen from its other face. */
export function turnedOver(part: Part): Part {
  const other = { 'n-': 'n+', 'n+': 'n-' } as const;
  const over = movePart({ ...STAY, mirror: true }, part);
  return {
    ...over,
    cutFace: other[part.cutFace],
    showFace: part.showFace === null ? null : other[part.showFace],
    pockets: over.pockets.map((p) => ({ ...p, face: other[p.face] })),
    holes: over.holes.map((h) => ({ ...h, face: other[h.face] })),
  };
}

/** The parts turned and moved by a seed, some drawn as seen from the other face. */
export function strewn(parts: readonly Part[], seed: number): Part[] {
  const roll = dice(seed);
  return parts.map((p) =>
    movePart(
      { ...STAY, turn: roll() * 2 * Math.PI, dx: roll() * 900, dy: roll() * 900 },
      roll() < 0.5 ? turnedOver(p) : p,
    ),
  );
}

/** A rectangle with round reliefs of radius 2 on the bisectors of its corners. */
export function relieved(r: Ring): Ring {
  const { minX, minY, maxX, maxY } = ringBounds(r);
  // A circle of radius ρ through the corner, its centre on the bisector, cuts both walls ρ√2 from the corner.
  const d = 2 * Math.SQRT2;
  const v = (x: number, y: number, bulge = 0) => ({ x, y, bulge });
  return {
    vertices: [
      v(minX + d, minY),
      v(maxX - d, minY, 1),
      v(maxX, minY + d),
      v(maxX, maxY - d, 1),
      v(maxX - d, maxY),
      v(minX + d, maxY, 1),
      v(minX, maxY - d),
      v(minX, minY + d, 1),
    ],
  };
}

/** A board with one tenon off its middle. mm */
export const tongue = (width: number, t: number, length: number): Ring =>
  rows([
    [0, 0],
    [width + 50, 0],
    [width + 50, length],
    [width + 20, length],
    [width + 20, length + t],
    [20, length + t],
    [20, length],
    [0, length],
  ]);

/** A rack whose two boards are alike but for one hole. mm */
export function twins(t = 12): Part[] {
  const [left, right, low] = rack(t);
  const raised = (p: Part): Part => ({
    ...p,
    through: p.through.map((c, k) =>
      k < 2
        ? c
        : {
            ...c,
            ring: moveRing({ ...STAY, dy: 150 }, p.through[k - 2]!.ring),
            bare: moveRing({ ...STAY, dy: 150 }, p.through[k - 2]!.ring),
          },
    ),
  });
  const bare = { ...low!, through: [] };
  const bored = { centre: { x: 60, y: 30 }, diameter: 5, face: 'n+', depth: 'through' } as const;
  return [raised(left!), raised(right!), bare, flat('high', t, bare.outline.ring, [], [bored])];
}
