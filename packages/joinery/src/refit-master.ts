import { type Point, ringBounds, snap } from '@haunch/geometry';
import {
  type Diagnostic,
  type Locus,
  type Mark,
  type Master,
  type MasterLoop,
  type MasterPart,
  type Outcome,
  ok,
  settle,
} from '@haunch/model';
import { tooFar } from './change-limit.js';
import {
  badThickness,
  cutsMeet,
  loopCrosses,
  markAskew,
  markMisses,
  marksDisagree,
  missingThickness,
  strangerThickness,
  thicknessTooFar,
  tooDeep,
} from './diagnostics.js';
import { along, dot, type Frame, frameOf, type Vec } from './frame.js';
import { type Edge, edgesOf, loopWithEdges, ringOfEdges } from './loop.js';
import { cutsOfPart, meetingCuts, selfMeeting } from './loop-problems.js';
import { distanceToTrace, markAxis, markPosition, type Trace, traceOf, traceSlope } from './mark.js';
import { edgeName, moveEdges } from './move-edges.js';
import { SAME_DIRECTION, SAME_PLACE } from './tolerances.js';

/** Moves of marks smaller than this are rounding, not a change of thickness. mm */
const UNMOVED = 1e-9;
const STAY: Point = { x: 0, y: 0 };

/** The marks of a master before and after. */
interface Moves {
  readonly marks: ReadonlyMap<string, Mark>;
  readonly before: Readonly<Record<string, number>>;
  readonly after: Readonly<Record<string, number>>;
}

const moved = (moves: Moves, mark: Mark): boolean =>
  Math.abs(markPosition(mark, moves.after) - markPosition(mark, moves.before)) > UNMOVED;

/** A plate's frame before and after it has followed its own mark. */
interface PlateMove {
  readonly was: Frame;
  readonly frame: Frame;
}

/** The traces of the named marks on a plate after the change; `anyMoved` tells whether there is anything to do. */
function tracesOf(
  moves: Moves,
  names: readonly string[],
  plate: PlateMove,
): { readonly traces: readonly Trace[]; readonly anyMoved: boolean } {
  let anyMoved = false;
  const traces = names.map((name) => {
    const mark = moves.marks.get(name);
    if (!mark)
      throw new RangeError(`refitMaster: there is no mark ${name}; was the master read with readMaster?`);
    const now = traceOf(mark, markPosition(mark, moves.after), plate.frame);
    const was = traceOf(mark, markPosition(mark, moves.before), plate.was);
    if (Math.abs(now.at - was.at) > UNMOVED) anyMoved = true;
    return now;
  });
  return { traces, anyMoved };
}

/** The frame after its origin has followed its mark along the plate's normal: the plate's (u, v) stay over the same ground. */
function movePlate(part: MasterPart, moves: Moves, problems: Diagnostic[]): PlateMove {
  const frame = frameOf(part);
  const mark = part.frame.on === undefined ? undefined : moves.marks.get(part.frame.on);
  if (!mark || !moved(moves, mark)) return { was: frame, frame };
  const axis = markAxis(mark);
  const slope = dot(axis, frame.n);
  if (Math.abs(slope) < SAME_DIRECTION) {
    problems.push(markMisses("the plate's frame", mark.id, { part: part.id }));
    return { was: frame, frame };
  }
  const by = (markPosition(mark, moves.after) - dot(axis, frame.origin)) / slope;
  return { was: frame, frame: { ...frame, origin: along(frame.origin, by, frame.n) } };
}

/** How a straight edge moves to lie on its marks. */
function lineMove(
  edge: Edge,
  k: number,
  plate: PlateMove,
  moves: Moves,
  locus: Locus,
  problems: Diagnostic[],
): Point {
  if (edge.marks.length === 0) return STAY;
  const { traces, anyMoved } = tracesOf(moves, edge.marks, plate);
  let by: Point | undefined;
  for (const t of traces) {
    const slope = traceSlope(t);
    const first = slope < SAME_DIRECTION ? 0 : distanceToTrace(t, edge.from);
    const last = slope < SAME_DIRECTION ? 0 : distanceToTrace(t, edge.to);
    if (slope < SAME_DIRECTION || Math.abs(first - last) > SAME_PLACE) {
      problems.push(markAskew(edgeName(k), t.mark, { ...locus, at: edge.from }));
      return STAY;
    }
    const square = squareTo(edge, t);
    const step = { x: square.x * ((first + last) / 2), y: square.y * ((first + last) / 2) };
    if (by && Math.hypot(by.x - step.x, by.y - step.y) > SAME_PLACE) {
      problems.push(marksDisagree(edgeName(k), edge.marks, { ...locus, at: edge.from }));
      return STAY;
    }
    by ??= step;
  }
  return anyMoved && by ? by : STAY;
}

/** The unit vector across an edge on the side to which its trace's distance counts: exact for axis-parallel edges. */
function squareTo(edge: Edge, t: Trace): Point {
  const slope = traceSlope(t);
  const g = { x: t.gu / slope, y: t.gv / slope };
  const l = Math.hypot(edge.to.x - edge.from.x, edge.to.y - edge.from.y);
  const n = { x: -(edge.to.y - edge.from.y) / l, y: (edge.to.x - edge.from.x) / l };
  return n.x * g.x + n.y * g.y >= 0 ? n : { x: -n.x, y: -n.y };
}

/** How a centre moves to lie on its marks: the shortest way onto one, the crossing of two. */
function centreMove(
  centre: Point,
  names: readonly string[],
  what: string,
  plate: PlateMove,
  moves: Moves,
  locus: Locus,
  problems: Diagnostic[],
): Point {
  if (names.length === 0) return STAY;
  const { traces, anyMoved } = tracesOf(moves, names, plate);
  const missing = traces.find((t) => traceSlope(t) < SAME_DIRECTION);
  if (missing) {
    problems.push(markMisses(what, missing.mark, locus));
    return STAY;
  }
  if (!anyMoved) return STAY;
  const a = traces[0]!;
  const unitA = { x: a.gu / traceSlope(a), y: a.gv / traceSlope(a) };
  let by = { x: unitA.x * distanceToTrace(a, centre), y: unitA.y * distanceToTrace(a, centre) };
  const crossing = traces.find(
    (t) => Math.abs(a.gu * t.gv - a.gv * t.gu) > SAME_DIRECTION * traceSlope(a) * traceSlope(t),
  );
  if (crossing) {
    const det = a.gu * crossing.gv - a.gv * crossing.gu;
    by = {
      x: (a.at * crossing.gv - crossing.at * a.gv) / det - centre.x,
      y: (a.gu * crossing.at - crossing.gu * a.at) / det - centre.y,
    };
  }
  const there = { x: centre.x + by.x, y: centre.y + by.y };
  if (traces.some((t) => Math.abs(distanceToTrace(t, there)) > SAME_PLACE)) {
    problems.push(marksDisagree(what, names, locus));
    return STAY;
  }
  return by;
}

function moveLoop(
  loop: MasterLoop,
  plate: PlateMove,
  moves: Moves,
  locus: Locus,
  problems: Diagnostic[],
): readonly Edge[] {
  const edges = edgesOf(loop);
  const by = edges.map((edge, k) =>
    edge.centre
      ? centreMove(
          edge.centre,
          edge.marks,
          `the centre of ${edgeName(k)}`,
          plate,
          moves,
          { ...locus, at: edge.centre },
          problems,
        )
      : lineMove(edge, k, plate, moves, locus, problems),
  );
  const result = moveEdges(edges, by, locus);
  problems.push(...result.problems);
  return result.edges;
}

/** What is wrong with the loops of a refitted part: meeting themselves or each other. */
function refittedProblems(part: MasterPart): Diagnostic[] {
  const { outline, through, pockets } = cutsOfPart(part);
  const crossing = [outline, ...through, ...pockets].flatMap(({ id, ring }) => {
    const found = selfMeeting(ring);
    return found ? [loopCrosses(found.problem, { part: part.id, feature: id, at: found.at })] : [];
  });
  if (crossing.length > 0) return crossing;
  return meetingCuts(outline, through).map((m) =>
    cutsMeet(m.cut, m.other, { part: part.id, feature: m.cut, at: m.at }),
  );
}

/** The lower left corner of a loop's box. */
const lowCorner = (edges: readonly Edge[]): Point => {
  const box = ringBounds(ringOfEdges(edges, ''));
  return { x: box.minX, y: box.minY };
};

const snapVec = ([x, y, z]: Vec): [number, number, number] => [snap(x), snap(y), snap(z)];

function refitPart(part: MasterPart, moves: Moves, problems: Diagnostic[]): MasterPart {
  const own: Diagnostic[] = [];
  const plate = movePlate(part, moves, own);
  const at = (feature: string): Locus => ({ part: part.id, feature });
  const outline = moveLoop(part.outline, plate, moves, at(`${part.id}.outline`), own);
  const through = part.through.map((c) => moveLoop(c.loop, plate, moves, at(c.id), own));
  const pockets = part.pockets.map((c) => moveLoop(c.loop, plate, moves, at(c.id), own));
  const centres = part.holes.map((h) => {
    const centre = { x: h.centre[0], y: h.centre[1] };
    const by = centreMove(centre, h.on ?? [], 'its centre', plate, moves, at(h.id), own);
    return { x: centre.x + by.x, y: centre.y + by.y };
  });
  // The drawing keeps the numbers of its lower left corner: the origin goes along, everything else keeps its place in the world.
  const low = lowCorner(edgesOf(part.outline));
  const lowNow = lowCorner(outline);
  const du = snap(lowNow.x - low.x);
  const dv = snap(lowNow.y - low.y);
  const onPaper = (p: Point): Point => ({ x: snap(p.x - du), y: snap(p.y - dv) });
  const drawn = (edges: readonly Edge[]): Edge[] =>
    edges.map((e) => ({
      ...e,
      from: onPaper(e.from),
      to: onPaper(e.to),
      ...(e.centre ? { centre: onPaper(e.centre) } : {}),
    }));
  const origin = along(along(plate.frame.origin, du, plate.frame.u), dv, plate.frame.v);
  const thickness = moves.after[part.id]!;
  const result: MasterPart = {
    ...part,
    thickness,
    frame: { ...part.frame, origin: snapVec(origin) },
    outline: loopWithEdges(part.outline, drawn(outline)),
    through: part.through.map((c, i) => ({ ...c, loop: loopWithEdges(c.loop, drawn(through[i]!)) })),
    pockets: part.pockets.map((c, i) => ({ ...c, loop: loopWithEdges(c.loop, drawn(pockets[i]!)) })),
    holes: part.holes.map((h, i) => {
      const c = onPaper(centres[i]!);
      return { ...h, centre: [c.x, c.y] };
    }),
  };
  for (const f of [...part.pockets, ...part.holes])
    if (f.depth !== 'through' && f.depth >= thickness) own.push(tooDeep(f.depth, thickness, at(f.id)));
  if (own.length === 0) own.push(...refittedProblems(result));
  problems.push(...own);
  return result;
}

/**
 * The master at other thicknesses (mm, by part), exact: every mark goes to where its constant and its terms
 * put it, edges and centres on marks go along, everything else keeps its place in the world, and neighbours
 * are met again where they now cross, nearest to the old corner. Radii, depths, marks, mates and assembly
 * stay; so do the (u, v) of the outline's lower left corner, to which the frame's origin is moved.
 * Guarantees: the same thicknesses change nothing; there and back is the original within the grid of
 * 0.0001 mm. Refused by name: a thickness missing, ≤ 0 or more than three times the old one or less than a third, an edge that vanishes, runs backwards or loses its
 * neighbour, a mark askew to its edge, loops that cross, a pocket or hole as deep as its plate.
 * @throws RangeError when the master names marks or parts that it does not have (`readMaster` refuses those).
 */
export function refitMaster(
  master: Master,
  { thicknesses }: { readonly thicknesses: Readonly<Record<string, number>> },
): Outcome<Master> {
  const problems: Diagnostic[] = [];
  const before: Record<string, number> = {};
  for (const p of master.parts) {
    before[p.id] = p.thickness;
    const t = Object.hasOwn(thicknesses, p.id) ? thicknesses[p.id] : undefined;
    if (t === undefined) problems.push(missingThickness(p.id));
    else if (!(t > 0) || !Number.isFinite(t)) problems.push(badThickness(p.id, t));
    else if (tooFar(p.thickness, t)) problems.push(thicknessTooFar(p.id, p.thickness, t));
  }
  for (const id of Object.keys(thicknesses))
    if (!Object.hasOwn(before, id)) problems.push(strangerThickness(id));
  if (problems.length > 0) return { ok: false, diagnostics: problems };
  if (master.parts.every((p) => p.thickness === thicknesses[p.id])) return ok(master);
  const moves: Moves = { marks: new Map(master.marks.map((m) => [m.id, m])), before, after: thicknesses };
  const parts = master.parts.map((p) => refitPart(p, moves, problems));
  return settle({ ...master, parts }, problems);
}
