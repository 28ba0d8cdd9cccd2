import { type Point, pointInRing } from '@haunch/geometry';
import type { Contour, Face, Fit, Master, Part } from '@haunch/model';
import { dot, type Frame, frameOf, inPlate, minus, toWorld, type Vec } from './frame.js';
import type { Joinery } from './joinery.js';
import { floorTag } from './plate.js';

/** The clearance that the drawn parts really leave in one fit. mm */
export interface JointGap {
  readonly fit: string;
  /** One gap for each wall, at its tightest place. */
  readonly gaps: readonly number[];
  /** Their sum, to be compared with the fit's `wanted`. */
  readonly total: number;
}

/** How far inside a curve its two sides are told apart, mm. */
const STEP_IN = 0.01;

interface Placed {
  readonly part: Part;
  readonly frame: Frame;
  readonly thickness: number;
}

/** An edge of a placed part: the ends of both its arrises, and the direction from it into the air. World, mm. */
interface Wall {
  readonly ends: readonly Vec[];
  readonly intoAir: Vec;
}

interface Bounding {
  readonly contour: Contour;
  readonly bounds: 'material' | 'air';
  /** Between which heights above face n− its edges stand. */
  readonly w: readonly [number, number];
}

const contoursOf = ({ part: p, thickness: t }: Placed): Bounding[] => [
  { contour: p.outline, bounds: 'material', w: [0, t] },
  ...p.through.map((contour): Bounding => ({ contour, bounds: 'air', w: [0, t] })),
  ...p.pockets.map(
    (c): Bounding => ({ contour: c, bounds: 'air', w: c.face === 'n-' ? [0, c.depth] : [t - c.depth, t] }),
  ),
];

function wallOf(placed: Placed, tag: string): Wall {
  for (const { contour, bounds, w } of contoursOf(placed)) {
    const corners = contour.bare.vertices;
    const k = corners.findIndex((v) => v.tag === tag);
    if (k < 0) continue;
    const from = corners[k]!;
    const to = corners[(k + 1) % corners.length]!;
    const l = Math.hypot(to.x - from.x, to.y - from.y);
    const across = { x: -(to.y - from.y) / l, y: (to.x - from.x) / l };
    const probe: Point = {
      x: (from.x + to.x) / 2 + STEP_IN * across.x,
      y: (from.y + to.y) / 2 + STEP_IN * across.y,
    };
    // Not taken from the curve's sense, so that a part drawn inside out is found out.
    const air = (pointInRing(contour.bare, probe) === 'inside') === (bounds === 'air');
    const here = toWorld(placed.frame, from, 0);
    const beyond = toWorld(placed.frame, { x: from.x + across.x, y: from.y + across.y }, 0);
    return {
      ends: w.flatMap((h) => [toWorld(placed.frame, from, h), toWorld(placed.frame, to, h)]),
      intoAir: air ? minus(beyond, here) : minus(here, beyond),
    };
  }
  throw new RangeError(`jointGaps: part ${placed.part.id} has no edge ${tag}`);
}

/** The gap between a wall and the nearer face of a plate on its air side. */
function gapToPlate(wall: Wall, plate: Placed): number {
  // From the plate's mid-plane, so that neither face is preferred.
  const middle = toWorld(plate.frame, { x: 0, y: 0 }, plate.thickness / 2);
  const out = Math.sign(dot(wall.intoAir, plate.frame.n));
  return Math.min(...wall.ends.map((p) => -out * dot(minus(p, middle), plate.frame.n) - plate.thickness / 2));
}

/** The gap between a wall and an edge of the entering plate, square to that edge: they may lean against each other. */
const gapToEdge = (wall: Wall, edge: Wall): number =>
  Math.min(...edge.ends.flatMap((e) => wall.ends.map((p) => dot(minus(p, e), edge.intoAir))));

/** The gap between the floor of a pocket and an edge of the entering plate. */
function gapToFloor(slot: Placed, pocket: { face: Face; depth: number }, edge: Wall): number {
  const heights = edge.ends.map((e) => inPlate(slot.frame, e).w);
  return pocket.face === 'n-'
    ? pocket.depth - Math.max(...heights)
    : Math.min(...heights) - (slot.thickness - pocket.depth);
}

function gapsOfFit(fit: Fit, slot: Placed, entering: Placed): number[] {
  return fit.walls.map((tag, i) => {
    const partner = fit.enteringEdges[i];
    if (partner === undefined) return gapToPlate(wallOf(slot, tag), entering);
    const pocket = slot.part.pockets.find((p) => floorTag(p.id) === tag);
    const edge = wallOf(entering, partner);
    return pocket ? gapToFloor(slot, pocket, edge) : gapToEdge(wallOf(slot, tag), edge);
  });
}

/**
 * The dry check: stands the drawn parts where the master's frames put them and measures in space what gap
 * each fit really has between its walls and the other part, mm, negative where they overlap. It knows nothing
 * of how the clearances were applied: neither marks nor allowances, only frames, curves and thicknesses.
 * @throws RangeError when a fit names a part or an edge that is not there.
 */
export function jointGaps(master: Master, parts: readonly Part[], joinery: Joinery): JointGap[] {
  const placed = new Map<string, Placed>();
  for (const p of master.parts) {
    const part = parts.find((q) => q.id === p.id);
    if (part) placed.set(p.id, { part, frame: frameOf(p), thickness: part.thickness ?? p.thickness });
  }
  const get = (id: string): Placed => {
    const p = placed.get(id);
    if (!p) throw new RangeError(`jointGaps: there is no part ${id}`);
    return p;
  };
  return joinery.joints.flatMap((joint) =>
    joint.fits.map((fit) => {
      const gaps = gapsOfFit(fit, get(fit.slotPart), get(fit.enteringPart));
      return { fit: fit.id, gaps, total: gaps.reduce((sum, g) => sum + g, 0) };
    }),
  );
}
