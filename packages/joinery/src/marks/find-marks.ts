import type {
  Diagnostic,
  Mark,
  MarkReason,
  Master,
  MasterLoop,
  MasterPart,
  MasterSegment,
} from '@haunch/model';
import { dot, frameOf, toWorld } from '../frame.js';
import { type Edge, edgesOf, marksOf } from '../loop.js';
import { markAxis } from '../mark.js';
import { outlineId } from '../parts-of-master.js';
import { type PlateEdge, plateOf } from '../plate.js';
import { LEAST_LEAN } from '../tolerances.js';
import {
  type Bound,
  bindKept,
  bindSeats,
  boundByFaces,
  footOf,
  movesIn,
  planeOf,
  RANK,
  type Standing,
  touchingEdges,
  wholeMoves,
} from './bounds.js';
import { markDoubtful } from './diagnostics.js';
import { type LeaningLeft, leaningLeft } from './leaning-left.js';
import {
  axisNames,
  axisOf,
  markOf,
  moves,
  type PlaneFollows,
  sameAxis,
  sameFollowing,
  shifted,
  sideFollows,
} from './plane-follows.js';

/** A mark that was found, for one edge (`EL.m1/e0`), centre or plate, with its reason and the plate on which it rests. */
export interface FoundMark {
  readonly part: string;
  readonly edge: string;
  /** Null where a person said that the edge stays. */
  readonly mark: string | null;
  readonly reason: MarkReason;
  readonly with: string;
}

/** An edge that may follow one plate or another, and what was taken. */
export interface MarkQuestion {
  readonly part: string;
  readonly edge: string;
  /** The plates on whose faces it lies, and the shares of thicknesses that it would follow with each. */
  readonly choices: readonly { readonly with: string; readonly terms: Readonly<Record<string, number>> }[];
  /** The place in `choices` of what was taken. */
  readonly taken: number;
  /** The same in words. */
  readonly said: Diagnostic;
}

/** A master with the marks that were found, and why. */
export interface FoundMarks {
  readonly kind: 'found-marks';
  readonly master: Master;
  readonly found: readonly FoundMark[];
  /** Edges for which two answers are possible and nobody has given one: the first was taken, and this asks. */
  readonly questions: readonly MarkQuestion[];
  /** Walls of slots for plates that lean which touch nothing and follow nothing. */
  readonly left: readonly LeaningLeft[];
}

/** What a person says of marks beforehand. */
export interface FindMarksOptions {
  /** What edges follow, by edge: shares of parts' thicknesses; none where the edge stays. */
  readonly byHand?: ReadonlyMap<string, Readonly<Record<string, number>>>;
  /** Edges whose marks in the master were put there by hand and stay as they are. */
  readonly kept?: ReadonlySet<string>;
  /** Which of the choices of a question is meant, by edge. */
  readonly answers?: ReadonlyMap<string, number>;
}

const byTag = (edges: readonly PlateEdge[]): Map<string, PlateEdge> => new Map(edges.map((e) => [e.tag, e]));

/**
 * Marks found by contact in space. Frames and holds are known; which edges follow which plate's thickness is not, or is looked for anew:
 * marks of the master are left aside. In this order: an edge on another plate's face or on a recess's floor; a tenon's end flush with the
 * far face of the plate that it passes through; an edge before a face with a gap of at most 3 mm; then, until nothing changes, an edge that
 * seats on one that follows, and all of a plate that is located along an axis by one moving plane alone (it keeps its width and goes
 * along whole); at last round corners beside edges that follow. Coplanar without contact is no contact. Plates must stand along the
 * world's axes to bear marks; others keep none. What a person says goes before all of it, and what rests on it goes along. Pure; the
 * same master gives the same marks.
 */
export function findMarks(master: Master, options: FindMarksOptions = {}): FoundMarks {
  const all = master.parts.map((part): Standing => {
    const plate = plateOf(part);
    const sides = [...plate.faces, ...plate.floors].map((side) => ({
      side,
      follows: sideFollows(part, plate, side),
    }));
    return { part, plate, sides };
  });
  const questions: MarkQuestion[] = [];
  const bound = new Map<string, Bound>();
  const byHand = handShares(master, all, options);
  for (const own of all)
    for (const edge of own.plate.edges) {
      const found = boundByFaces(own, all, edge).sort(
        (a, b) => RANK.indexOf(a.reason) - RANK.indexOf(b.reason),
      );
      const [first] = found;
      const said = byHand.get(edge.tag);
      if (said) {
        const axis = said.axis ?? first?.follows.axis ?? planeOf(edge).axis;
        const follows = { axis, at: dot(axis, footOf(own, edge)), terms: said.terms };
        const [on = own.part.id] = Object.keys(said.terms).sort();
        bound.set(edge.tag, { follows, reason: 'by hand', with: on });
        continue;
      }
      if (!first) continue;
      const choices = found.filter(
        (b, i) =>
          b.reason === first.reason && !found.slice(0, i).some((c) => sameFollowing(b.follows, c.follows)),
      );
      const answer = options.answers?.get(edge.tag);
      const taken = choices[answer ?? 0] ?? first;
      if (choices.length > 1 && answer === undefined)
        questions.push({
          part: own.part.id,
          edge: edge.tag,
          choices: choices.map((c) => ({ with: c.with, terms: c.follows.terms })),
          taken: 0,
          said: markDoubtful(own.part.id, edge.tag, first.with, choices[1]!.with),
        });
      bound.set(edge.tag, taken);
    }
  const touching = touchingEdges(all);
  for (let again = true; again; ) {
    again = false;
    for (const own of all) again = bindSeats(own, touching, bound) || bindKept(own, touching, bound) || again;
  }
  const marked = withMarks(master, all, bound, options.kept ?? new Set());
  return { kind: 'found-marks', ...marked, questions, left: leaningLeft(master, all, bound) };
}

/** Shares that a person says an edge follows, and the axis along which they are meant, where a mark tells it. */
type HandShares = Pick<PlaneFollows, 'terms'> & Partial<Pick<PlaneFollows, 'axis'>>;

/** What a person says edges follow: in so many words, or by the marks that they put on them. */
function handShares(
  master: Master,
  all: readonly Standing[],
  { byHand, kept }: FindMarksOptions,
): Map<string, HandShares> {
  const marks = new Map(master.marks.map((m) => [m.id, m]));
  const out = new Map<string, HandShares>();
  const bare = (terms: Readonly<Record<string, number>>, sense: number): PlaneFollows['terms'] =>
    Object.fromEntries(Object.entries(terms).flatMap(([id, s]) => (s === 0 ? [] : [[id, sense * s]])));
  for (const { part, plate } of all) {
    const on = new Map<string, readonly string[]>(
      [
        [outlineId(part.id), part.outline] as const,
        ...[...part.through, ...part.pockets].map((c) => [c.id, c.loop] as const),
      ].flatMap(([id, l]) => l.segments.map((s, k) => [`${id}/e${k}`, marksOf(s.on)] as const)),
    );
    for (const edge of plate.edges) {
      const terms = byHand?.get(edge.tag);
      if (terms) out.set(edge.tag, { terms: bare(terms, 1) });
      else if (kept?.has(edge.tag)) {
        const named = (on.get(edge.tag) ?? []).flatMap((id) => marks.get(id) ?? []);
        const square = named.find((m) => sameAxis(axisOf(markAxis(m)).axis, planeOf(edge).axis));
        // A mark that runs along the plate is no mark of its edge; one that leans to it is.
        const own = square ?? named.find((m) => Math.abs(dot(markAxis(m), edge.normal)) > LEAST_LEAN);
        const measured = own && axisOf(markAxis(own));
        out.set(
          edge.tag,
          own && measured
            ? { axis: measured.axis, terms: bare(own.terms, measured.sense) }
            : { axis: planeOf(edge).axis, terms: {} },
        );
      }
    }
  }
  return out;
}

function withMarks(
  master: Master,
  all: readonly Standing[],
  bound: ReadonlyMap<string, Bound>,
  kept: ReadonlySet<string>,
): Pick<FoundMarks, 'master' | 'found'> {
  const drawn = new Map(master.marks.map((m) => [m.id, m]));
  const thicknesses = new Map(master.parts.map((p) => [p.id, p.thickness]));
  const nameOf = axisNames(master.parts);
  const marks = new Map<string, Mark>();
  const found: FoundMark[] = [];
  const use = (f: PlaneFollows): string => {
    const mark = markOf(f, thicknesses, nameOf);
    if (!marks.has(mark.id)) marks.set(mark.id, mark);
    return mark.id;
  };
  const parts = all.map((own): MasterPart => {
    const { part, plate } = own;
    const edgeOf = byTag(plate.edges);
    const frame = frameOf(part);
    const whole = wholeMoves(own, bound);
    const loop = (id: string, l: MasterLoop): MasterLoop => {
      const edges = edgesOf(l);
      return { ...l, segments: l.segments.map((s, k) => segment(id, s, k, edges)) };
    };
    const segment = (id: string, s: MasterSegment, k: number, edges: readonly Edge[]): MasterSegment => {
      const { on: _, ...bare } = s;
      const tag = `${id}/e${k}`;
      const names: string[] = [];
      const note = (f: PlaneFollows, reason: MarkReason, other: string): void => {
        const mark = use(f);
        if (names.includes(mark)) return;
        names.push(mark);
        found.push({ part: part.id, edge: tag, mark, reason, with: other });
      };
      const b = bound.get(tag);
      if (kept.has(tag)) {
        const own = marksOf(s.on).filter((id) => drawn.has(id));
        for (const id of own) {
          marks.set(id, drawn.get(id)!);
          found.push({ part: part.id, edge: tag, mark: id, reason: 'by hand', with: b?.with ?? part.id });
        }
        if (own.length === 0)
          found.push({ part: part.id, edge: tag, mark: null, reason: 'by hand', with: part.id });
        names.push(...own);
      } else if (b && edgeOf.has(tag)) {
        if (movesIn(own, b.follows) && b.reason !== 'held') note(b.follows, b.reason, b.with);
        else if (b.reason === 'by hand')
          found.push({ part: part.id, edge: tag, mark: null, reason: 'by hand', with: part.id });
      } else if (s.centre) {
        const centre = { x: s.centre[0], y: s.centre[1] };
        const there = toWorld(frame, centre, 0);
        for (const f of whole) note(shifted(f, there), 'kept', part.id);
        for (const near of [k - 1, k + 1]) {
          const i = (near + edges.length) % edges.length;
          const beside = bound.get(`${id}/e${i}`);
          if (!beside || !movesIn(own, beside.follows) || !tangent(edges, k, i, near > k)) continue;
          note(shifted(beside.follows, there), 'corner', beside.with);
        }
      }
      return names.length === 0 ? bare : { ...bare, on: names.length === 1 ? names[0]! : names };
    };
    return {
      ...part,
      frame: placed(part, own, use, found),
      outline: loop(`${part.id}.outline`, part.outline),
      through: part.through.map((c) => ({ ...c, loop: loop(c.id, c.loop) })),
      pockets: part.pockets.map((c) => ({ ...c, loop: loop(c.id, c.loop) })),
      holes: part.holes.map(({ on, ...h }) => {
        if (kept.has(h.id)) {
          const own = (on ?? []).filter((id) => drawn.has(id));
          for (const id of own) marks.set(id, drawn.get(id)!);
          const [first = null] = own;
          found.push({ part: part.id, edge: h.id, mark: first, reason: 'by hand', with: part.id });
          return own.length === 0 ? h : { ...h, on: own };
        }
        const there = toWorld(frame, { x: h.centre[0], y: h.centre[1] }, 0);
        const names = whole.map((f) => use(shifted(f, there)));
        for (const mark of names)
          found.push({ part: part.id, edge: h.id, mark, reason: 'kept', with: part.id });
        return names.length === 0 ? h : { ...h, on: names };
      }),
    };
  });
  const sorted = [...marks.values()].sort((a, b) => (a.id < b.id ? -1 : 1));
  return { master: { ...master, marks: sorted, parts }, found };
}

/** The plate's own place: its face n− follows what does not hold. */
function placed(
  part: MasterPart,
  own: Standing,
  use: (f: PlaneFollows) => string,
  found: FoundMark[],
): MasterPart['frame'] {
  const { on: _, ...bare } = part.frame;
  const lower = own.sides.find((s) => s.side.tag === 'n-')?.follows;
  if (!lower || !moves(lower)) return bare;
  const mark = use(lower);
  found.push({ part: part.id, edge: `${part.id}/frame`, mark, reason: 'face', with: part.id });
  return { ...bare, on: mark };
}

/** Whether an arc runs on from, or into, the straight edge beside it without a corner. */
function tangent(edges: readonly Edge[], arc: number, beside: number, after: boolean): boolean {
  const [a, b] = [edges[arc]!, edges[beside]!];
  if (!a.centre || b.centre) return false;
  const at = after ? a.to : a.from;
  const l = Math.hypot(b.to.x - b.from.x, b.to.y - b.from.y);
  const r = Math.hypot(at.x - a.centre.x, at.y - a.centre.y);
  const cosine =
    ((b.to.x - b.from.x) * (at.x - a.centre.x) + (b.to.y - b.from.y) * (at.y - a.centre.y)) / (l * r);
  return Math.abs(cosine) < 1e-4;
}
