import { counterClockwise, type Point, type Ring, reverseRing } from '@haunch/geometry';
import type { Frame } from '../frame.js';
import type { FlatPart } from './flat-part.js';

/** A part laid with its longest edge along x and its box in the corner, and the frame of its own drawing in that. mm */
export interface LaidStraight {
  readonly part: FlatPart;
  readonly own: Frame;
}

/** Edges that are shorter by no more than this are as long as the longest. mm */
const AS_LONG = 0.02;

/** How many edges as long as the longest are tried; a polygon drawn for a circle has many. */
const TRIED = 8;

/** Places are told apart to a tenth of a millimetre, with the limits where drawings seldom have a corner. mm */
const STEP = 0.1;
const OFF = 0.0137;

const directionsOf = ({ vertices }: Ring): Point[] => {
  const all = vertices.map((p, k): Point => {
    const q = vertices[(k + 1) % vertices.length]!;
    return { x: q.x - p.x, y: q.y - p.y };
  });
  const longest = Math.max(...all.map((d) => Math.hypot(d.x, d.y)));
  return all.filter((d) => Math.hypot(d.x, d.y) >= longest - AS_LONG).slice(0, TRIED);
};

/** The part turned so that `d` lies along x, turned over first where said, with its box in the corner. */
function laid(part: FlatPart, { x, y }: Point, over: boolean): LaidStraight {
  const l = Math.hypot(x, y);
  const flip = over ? -1 : 1;
  // Turned over, the drawing shows −x, so that the edge runs the other way across.
  const [c, s] = [(flip * x) / l, y / l];
  const u: Point = { x: flip * c, y: flip * -s };
  const v: Point = { x: s, y: c };
  const at = (p: Point): Point => ({ x: p.x * u.x + p.y * v.x, y: p.x * u.y + p.y * v.y });
  const corners = part.outline.vertices.map(at);
  const low = { x: Math.min(...corners.map((p) => p.x)), y: Math.min(...corners.map((p) => p.y)) };
  const move = (r: Ring): Ring => {
    const moved: Ring = {
      vertices: r.vertices.map((p) => {
        const q = at(p);
        return {
          ...p,
          x: q.x - low.x,
          y: q.y - low.y,
          bulge: over && p.bulge !== 0 ? -p.bulge : p.bulge,
        };
      }),
    };
    return begun(counterClockwise(over ? reverseRing(moved) : moved));
  };
  return {
    part: {
      ...part,
      outline: move(part.outline),
      through: ordered(part.through.map(move), (r) => r),
      pockets: ordered(
        part.pockets.map((p) => ({
          ...p,
          ring: move(p.ring),
          face: ((p.face ?? 'n+') === 'n+') === over ? ('n-' as const) : ('n+' as const),
        })),
        (p) => p.ring,
      ),
    },
    own: {
      origin: [-low.x, -low.y, over ? part.thickness : 0],
      u: [u.x, u.y, 0],
      v: [v.x, v.y, 0],
      n: [0, 0, flip],
    },
  };
}

const stepOf = (a: number): number => Math.round((a + OFF) / STEP);

/** Which of two corners comes first: by x, then by y. */
const byPlace = (a: Point, b: Point): number => stepOf(a.x) - stepOf(b.x) || stepOf(a.y) - stepOf(b.y);

/** The curve begun in its first corner. */
function begun({ vertices }: Ring): Ring {
  let k = 0;
  vertices.forEach((p, i) => {
    if (byPlace(p, vertices[k]!) < 0) k = i;
  });
  return { vertices: [...vertices.slice(k), ...vertices.slice(0, k)] };
}

const ordered = <T>(all: readonly T[], ringOf: (item: T) => Ring): T[] =>
  [...all].sort((a, b) => byPlace(ringOf(a).vertices[0]!, ringOf(b).vertices[0]!));

/** Numbers that say how a part is shaped as it lies. */
const wordsOf = ({ outline, through, pockets }: FlatPart): number[] =>
  [
    { ring: outline, face: 0 },
    ...through.map((ring) => ({ ring, face: 1 })),
    ...pockets.map(({ ring, face }) => ({ ring, face: face === 'n-' ? 2 : 3 })),
  ].flatMap(({ ring, face }) => [face, ...ring.vertices.flatMap((p) => [stepOf(p.x), stepOf(p.y)])]);

/** The order of two lists of numbers: of fewer first, then by the first that differ. */
export function inOrder(a: readonly number[], b: readonly number[]): number {
  if (a.length !== b.length) return a.length - b.length;
  const k = a.findIndex((x, i) => x !== b[i]);
  return k < 0 ? 0 : a[k]! - b[k]!;
}

/**
 * The part laid in a way of its own, however it was drawn, turned or turned over, so that a search finds the same from
 * any drawing: its longest edge along x, and of the ways that are left the first by where its corners are.
 */
export function laidStraight(part: FlatPart): LaidStraight & { readonly words: readonly number[] } {
  const ways = directionsOf(part.outline).flatMap((d) =>
    [d, { x: -d.x, y: -d.y }].flatMap((e) =>
      [false, true].map((over) => {
        const way = laid(part, e, over);
        return { ...way, words: wordsOf(way.part) };
      }),
    ),
  );
  return ways.reduce((best, way) => (inOrder(way.words, best.words) < 0 ? way : best));
}
