import { flattenRing, type Point, pointInRing, type Ring, ringSegments } from '@haunch/geometry';
import type { Contour, MasterPart, Part } from '@haunch/model';
import { directionInWorld, type Frame, frameOf, toWorld, type Vec } from './frame.js';
import type { Area } from './overlap.js';
import { partOfMaster } from './parts-of-master.js';

/** How far a flattened curve may be from a face's border, mm: contact is judged on straight edges, so it only bounds slivers. */
const FLAT = 0.01;

/** A straight edge of a plate with its height: a rectangle in the world, from `from` to `to`, over w0 … w1. */
export interface PlateEdge {
  readonly tag: string;
  readonly contour: string;
  readonly from: Point;
  readonly to: Point;
  /** From the material into the air, in the plate's plane. */
  readonly outward: Point;
  /** The same in the world. */
  readonly normal: Vec;
  readonly w: readonly [number, number];
  /** False where no material lies behind it: where a recess runs out beyond the outline or into a through cut. */
  readonly backed: boolean;
  /** The rectangle's corners in the world: from and to at w0, then to and from at w1. */
  readonly corners: readonly [Vec, Vec, Vec, Vec];
}

/** A flat side of a plate: face n−, face n+ or the floor of a pocket. */
export interface PlateSide {
  /** `n-`, `n+`, or `<pocket>/floor`. */
  readonly tag: string;
  readonly normal: Vec;
  /** How high above face n− it lies. */
  readonly w: number;
  /** In the plate's (u, v). */
  readonly area: Area;
}

/** A plate in the world, with all that another plate may lie against. */
export interface Plate {
  readonly id: string;
  readonly frame: Frame;
  readonly part: Part;
  readonly edges: readonly PlateEdge[];
  readonly faces: readonly PlateSide[];
  readonly floors: readonly PlateSide[];
}

/** The tag of the floor of a pocket. */
export const floorTag = (pocket: string): string => `${pocket}/floor`;

/** How far behind an edge, and where along it, material is looked for. mm; shares */
const BEHIND = 0.01;
const LOOKED = [0.1, 0.3, 0.5, 0.7, 0.9];

/** Whether a recess's edge has material of the plate behind it somewhere. */
function isBacked(part: Part, from: Point, to: Point, outward: Point): boolean {
  return LOOKED.some((k) => {
    const p = {
      x: from.x + k * (to.x - from.x) - BEHIND * outward.x,
      y: from.y + k * (to.y - from.y) - BEHIND * outward.y,
    };
    return (
      pointInRing(part.outline.bare, p) === 'inside' &&
      part.through.every((c) => pointInRing(c.bare, p) === 'outside')
    );
  });
}

function edgesOfContour(
  c: Contour,
  frame: Frame,
  w: readonly [number, number],
  bounds: 'material' | 'air',
  recessOf?: Part,
): PlateEdge[] {
  return ringSegments(c.bare).flatMap((s) => {
    if (s.kind === 'arc' || s.tag === undefined) return [];
    const l = Math.hypot(s.to.x - s.from.x, s.to.y - s.from.y);
    // Counter-clockwise: what is bounded lies on the left.
    const left = { x: -(s.to.y - s.from.y) / l + 0, y: (s.to.x - s.from.x) / l + 0 };
    const outward = bounds === 'air' ? left : { x: -left.x + 0, y: -left.y + 0 };
    return [
      {
        tag: s.tag,
        contour: c.id,
        from: s.from,
        to: s.to,
        outward,
        normal: directionInWorld(frame, outward),
        w,
        backed: recessOf === undefined || isBacked(recessOf, s.from, s.to, outward),
        corners: [
          toWorld(frame, s.from, w[0]),
          toWorld(frame, s.to, w[0]),
          toWorld(frame, s.to, w[1]),
          toWorld(frame, s.from, w[1]),
        ],
      } satisfies PlateEdge,
    ];
  });
}

const flat = (r: Ring): Point[] => flattenRing(r, { tolerance: FLAT });
const back = (n: Vec): Vec => [-n[0], -n[1], -n[2]];

/** A part of a master in the world, at the master's own thickness. */
export function plateOf(p: MasterPart): Plate {
  const frame = frameOf(p);
  const part = partOfMaster(p);
  const t = p.thickness;
  const height = (face: 'n-' | 'n+', depth: number): readonly [number, number] =>
    face === 'n-' ? [0, depth] : [t - depth, t];
  const through = part.through.map((c) => flat(c.bare));
  const outer = flat(part.outline.bare);
  const faceOf = (tag: 'n-' | 'n+'): PlateSide => ({
    tag,
    normal: tag === 'n-' ? back(frame.n) : frame.n,
    w: tag === 'n-' ? 0 : t,
    area: {
      outer,
      voids: [...through, ...part.pockets.filter((c) => c.face === tag).map((c) => flat(c.bare))],
    },
  });
  return {
    id: p.id,
    frame,
    part,
    edges: [
      ...edgesOfContour(part.outline, frame, [0, t], 'material'),
      ...part.through.flatMap((c) => edgesOfContour(c, frame, [0, t], 'air')),
      ...part.pockets.flatMap((c) => edgesOfContour(c, frame, height(c.face, c.depth), 'air', part)),
    ],
    faces: [faceOf('n-'), faceOf('n+')],
    floors: part.pockets.map((c) => ({
      tag: floorTag(c.id),
      normal: c.face === 'n-' ? back(frame.n) : frame.n,
      w: c.face === 'n-' ? c.depth : t - c.depth,
      area: { outer: flat(c.bare), voids: [] },
    })),
  };
}
