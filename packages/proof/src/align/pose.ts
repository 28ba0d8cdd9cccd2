import { type Motion, movePoint, type Point, STAY } from '@haunch/geometry';
import { type CutEdges, REACHED } from './cut-edges.js';
import { type Edge, moveSample, type PartShape, type Sample } from './part-shape.js';

/** A place and a turn in which a part may have been cut, and how well edges as cut run along it there. */
export interface Pose {
  readonly motion: Motion;
  /** Share of the contours' length beside which an edge was cut. */
  readonly share: number;
  /** Mean distance to the edges as cut in units of the greatest that counts, 0 … 1. */
  readonly miss: number;
}

/** Edges whose lengths differ by more than this are not the same one, mm. */
const LENGTH = 2;
/** Poses whose few samples meet less than this are given up. */
const HOPE = 0.4;
/** Poses that lie nearer to each other are one, mm and radians. */
const SAME_PLACE = 0.5;
const SAME_TURN = 0.01;
/** The most poses that are kept of one part. */
const KEPT = 8;
/** Turns that are tried where a shape has no straight edge. */
const TURNS = 72;

const TURN = 2 * Math.PI;
const wrap = (a: number): number => ((a % TURN) + TURN) % TURN;
const angle = (e: Edge): number => Math.atan2(e.to.y - e.from.y, e.to.x - e.from.x);
const half = (e: Edge): Point => ({ x: (e.from.x + e.to.x) / 2, y: (e.from.y + e.to.y) / 2 });

/** The motion that turns by `turn` and takes `p` to `q`. */
export function motionTaking(p: Point, q: Point, turn: number): Motion {
  const r = movePoint({ ...STAY, turn }, p);
  return { mirror: false, turn: wrap(turn), dx: q.x - r.x, dy: q.y - r.y };
}

function meet(samples: readonly Sample[], motion: Motion, edges: CutEdges): Omit<Pose, 'motion'> {
  let [all, met, miss] = [0, 0, 0];
  for (const s of samples) {
    const m = moveSample(motion, s);
    const d = edges.distance(m.p, m.along);
    all += s.weight;
    if (d < REACHED) met += s.weight;
    miss += (s.weight * d) / REACHED;
  }
  return all === 0 ? { share: 0, miss: 1 } : { share: met / all, miss: miss / all };
}

/** How well edges as cut run along a part in a pose. */
export const poseAt = (shape: PartShape, motion: Motion, edges: CutEdges): Pose => ({
  motion,
  ...meet(shape.samples, motion, edges),
});

const alike = (shape: PartShape, a: Motion, b: Motion): boolean => {
  const turn = Math.abs(wrap(a.turn - b.turn + Math.PI) - Math.PI);
  const [p, q] = [movePoint(a, shape.middle), movePoint(b, shape.middle)];
  return turn <= SAME_TURN && Math.hypot(p.x - q.x, p.y - q.y) <= SAME_PLACE;
};

/**
 * The poses in which a part meets edges as cut at least by `least` of its length, best first: straight edges of its
 * outline are laid on straight edges as cut of about their length; a shape without straight edges is laid on the
 * place `middle` (that of a piece) in turns of 5°.
 */
export function findPoses(
  shape: PartShape,
  edges: CutEdges,
  { least, middle }: { readonly least: number; readonly middle?: Point },
): Pose[] {
  const tried: Motion[] = [];
  const out: Pose[] = [];
  const attempt = (motion: Motion): void => {
    if (meet(shape.few, motion, edges).share < HOPE) return;
    if (tried.some((t) => alike(shape, t, motion))) return;
    tried.push(motion);
    const pose = poseAt(shape, motion, edges);
    if (pose.share >= least) out.push(pose);
  };
  for (const e of shape.edges)
    for (const f of edges.straight) {
      if (Math.abs(e.length - f.length) > LENGTH) continue;
      const turn = angle(f) - angle(e);
      attempt(motionTaking(half(e), half(f), turn));
      // Where one end was cut elsewhere the other still tells.
      if (Math.abs(e.length - f.length) > REACHED) {
        attempt(motionTaking(e.from, f.from, turn));
        attempt(motionTaking(e.to, f.to, turn));
      }
    }
  if (out.length === 0 && middle !== undefined)
    for (let i = 0; i < TURNS; i++) attempt(motionTaking(shape.middle, middle, (i * TURN) / TURNS));
  return out.sort((a, b) => a.miss - b.miss || a.motion.turn - b.motion.turn).slice(0, KEPT);
}
