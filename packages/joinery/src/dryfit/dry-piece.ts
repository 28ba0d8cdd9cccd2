import { distance, type Ring, ringArea, ringProblems } from '@haunch/geometry';
import type {
  AssemblyStep,
  Diagnostic,
  Master,
  MasterLoop,
  MasterMate,
  MasterPart,
  Part,
} from '@haunch/model';
import { axisVector, cross, dot, type Frame, frameOf, length, minus } from '../frame.js';
import { edgesOf } from '../loop.js';
import { partOfMaster } from '../parts-of-master.js';
import { SAME_DIRECTION, SAME_PLACE } from '../tolerances.js';
import {
  badArc,
  badCurve,
  badThickness,
  frameAskew,
  leftHanded,
  sameId,
  unknownPart,
} from './diagnostics.js';
import { type Solid, solidOf } from './solid.js';

/** A flat part and where it stands. */
export interface StandingPart {
  readonly part: Part;
  readonly frame: MasterPart['frame'];
}

/** A piece to be put together: parts with frames and curves, and, where known, how they are to meet. mm. */
export interface DryPiece {
  readonly parts: readonly StandingPart[];
  readonly mates?: readonly MasterMate[];
  readonly assembly?: readonly AssemblyStep[];
  /** The thickness that the piece was drawn for, to tell a plate from a wrong sheet. */
  readonly designThickness?: number;
}

/** A piece ready to be put together. */
export interface StandingPiece {
  readonly solids: readonly Solid[];
  readonly mates: readonly MasterMate[];
  readonly assembly: readonly AssemblyStep[];
  readonly designThickness: number | null;
}

/**
 * A master as a piece to be put together, its parts as drawn or, where given, as they are to be cut: the same parts
 * with clearances and reliefs.
 * @throws RangeError when a part is given that the master does not have.
 */
export function dryPieceOf(master: Master, parts?: readonly Part[]): DryPiece {
  const stranger = parts?.find((p) => !master.parts.some((q) => q.id === p.id));
  if (stranger) throw new RangeError(`dryPieceOf: the master has no part ${stranger.id}`);
  return {
    parts: master.parts.map((p) => ({
      part: parts?.find((q) => q.id === p.id) ?? partOfMaster(p),
      frame: p.frame,
    })),
    mates: master.mates,
    assembly: master.assembly,
    designThickness: master.designThickness,
  };
}

function frameProblem(id: string, f: Frame): Diagnostic | undefined {
  for (const axis of ['u', 'v', 'n'] as const) {
    const l = length(f[axis]);
    if (!(Math.abs(l - 1) <= SAME_DIRECTION)) return frameAskew(id, `${axis} has length ${+l.toFixed(4)}`);
  }
  if (f.origin.some((x) => !Number.isFinite(x))) return frameAskew(id, 'its origin is not a place');
  if (Math.abs(dot(f.u, f.v)) > SAME_DIRECTION) return frameAskew(id, 'u and v are not at right angles');
  const n = cross(f.u, f.v);
  if (dot(n, f.n) < 0) return leftHanded(id);
  return length(minus(n, f.n)) > 3 * SAME_DIRECTION ? frameAskew(id, 'u × v is not n') : undefined;
}

function ringProblem(part: string, feature: string, r: Ring): Diagnostic | undefined {
  if (r.vertices.some((v) => ![v.x, v.y, v.bulge].every(Number.isFinite)))
    return badCurve(part, feature, 'the curve has a coordinate that is not a number');
  const [first] = ringProblems(r);
  if (first)
    return badCurve(
      part,
      feature,
      first.kind === 'zero-area' ? 'the curve encloses nothing' : 'the curve crosses or runs over itself',
      first.at,
    );
  return Math.abs(ringArea(r)) > 0 ? undefined : badCurve(part, feature, 'the curve encloses nothing');
}

function partProblems({ part, frame }: StandingPart): Diagnostic[] {
  const out: Diagnostic[] = [];
  const f = frameProblem(part.id, frameOf({ frame }));
  if (f) out.push(f);
  if (part.thickness === null || !(part.thickness > 0 && Number.isFinite(part.thickness)))
    out.push(badThickness(part.id, part.thickness));
  for (const c of [part.outline, ...part.through, ...part.pockets]) {
    const problem = ringProblem(part.id, c.id, c.ring);
    if (problem) out.push(problem);
  }
  for (const p of part.pockets)
    if (part.thickness !== null && !(p.depth > 0 && p.depth < part.thickness))
      out.push(badCurve(part.id, p.id, `the pocket is ${p.depth} mm deep in ${part.thickness} mm`));
  return out;
}

/** Arcs of a master's loops whose centre is not in the middle: a ring of bulges could not tell any more. */
function arcProblems(p: MasterPart): Diagnostic[] {
  const loops: { id: string; loop: MasterLoop }[] = [
    { id: `${p.id}.outline`, loop: p.outline },
    ...p.through,
    ...p.pockets,
  ];
  return loops.flatMap(({ id, loop }) =>
    edgesOf(loop).flatMap((e) => {
      if (!e.centre) return [];
      const radii = [distance(e.centre, e.from), distance(e.centre, e.to)] as const;
      return Math.abs(radii[0] - radii[1]) > SAME_PLACE ? [badArc(p.id, id, radii, e.centre)] : [];
    }),
  );
}

/** Stands the parts of a piece in the world, and says what about them cannot be meant. */
export function standPiece(piece: Master | DryPiece): { piece?: StandingPiece; problems: Diagnostic[] } {
  const master = 'format' in piece;
  const problems: Diagnostic[] = [];
  if (master) problems.push(...piece.parts.flatMap(arcProblems));
  if (problems.length > 0) return { problems };
  const { parts, mates = [], assembly = [], designThickness } = master ? dryPieceOf(piece) : piece;
  const ids = parts.map((p) => p.part.id);
  for (const id of new Set(ids.filter((x, i) => ids.indexOf(x) !== i))) problems.push(sameId(id));
  problems.push(...parts.flatMap(partProblems));
  for (const m of mates) {
    for (const id of [m.slotPart, m.enteringPart])
      if (!ids.includes(id)) problems.push(unknownPart(id, { joint: m.id }));
    for (const d of [m.enteringMoves, ...m.locates, ...(m.stopsOn === undefined ? [] : [m.stopsOn])])
      if (!(Math.abs(length(axisVector(d)) - 1) <= SAME_DIRECTION))
        problems.push(frameAskew(m.slotPart, `a direction of joint ${m.id} is no unit vector`));
  }
  for (const s of assembly)
    for (const id of [...s.fixed, ...s.moving])
      if (!ids.includes(id)) problems.push(unknownPart(id, { path: `assembly, step ${s.step}` }));
  if (problems.length > 0) return { problems };
  const solids = parts.map(({ part, frame }) => solidOf(part, frameOf({ frame }), part.thickness!));
  return { piece: { solids, mates, assembly, designThickness: designThickness ?? null }, problems };
}
