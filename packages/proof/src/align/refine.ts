import { type Motion, movePoint, type Point, snap } from '@haunch/geometry';
import { wallCut } from '../joints/wall.js';
import { REACH, type TrackIndex } from '../sweep/track-index.js';
import { moveSample, type Sample } from './part-shape.js';

/** A sample with what is removed where its edge is looked for. */
export interface Sighting {
  readonly sample: Sample;
  readonly removed: TrackIndex;
}

/** Walls that are farther off than this have less and less to say, mm; in turn. */
const SCALES = [0.5, 0.1, 0.02, 0.004] as const;
const FINEST = SCALES[SCALES.length - 1]!;
/** So many of the longest edges may be right where others are not. */
const STARTS = 8;
/** A turn this near to a quarter turn is one, radians, if it costs less than this share of the agreement. */
const QUARTER = 0.003;
const COST = 0.02;

interface Seen {
  readonly p: Point;
  readonly n: Point;
  /** How far into the air the edge as cut lies, mm. */
  readonly off: number;
  readonly weight: number;
  readonly edge: string;
}

function look(sightings: readonly Sighting[], motion: Motion): Seen[] {
  const out: Seen[] = [];
  sightings.forEach(({ sample, removed }) => {
    const { p, air, edge, weight } = moveSample(motion, sample);
    const off = -wallCut(removed, p, air).off;
    if (Math.abs(off) < REACH - 0.01)
      out.push({ p, n: air, off, weight, edge: edge < 0 ? '' : `${edge} ${sample.air.x} ${sample.air.y}` });
  });
  return out;
}

const agreement = (seen: readonly Seen[]): number =>
  seen.reduce((sum, s) => sum + s.weight / (1 + (s.off / FINEST) ** 2), 0);

/** Solves a symmetric 3 × 3 system; null when it has no one solution. */
function solve(a: readonly number[], b: readonly number[]): readonly [number, number, number] | null {
  const m = [
    [a[0]!, a[1]!, a[2]!, b[0]!],
    [a[1]!, a[3]!, a[4]!, b[1]!],
    [a[2]!, a[4]!, a[5]!, b[2]!],
  ];
  for (let i = 0; i < 3; i++) {
    let pivot = i;
    for (let r = i + 1; r < 3; r++) if (Math.abs(m[r]![i]!) > Math.abs(m[pivot]![i]!)) pivot = r;
    [m[i], m[pivot]] = [m[pivot]!, m[i]!];
    if (Math.abs(m[i]![i]!) < 1e-9) return null;
    for (let r = 0; r < 3; r++) {
      if (r === i) continue;
      const k = m[r]![i]! / m[i]![i]!;
      for (let c = i; c < 4; c++) m[r]![c]! -= k * m[i]![c]!;
    }
  }
  return [m[0]![3]! / m[0]![0]!, m[1]![3]! / m[1]![1]!, m[2]![3]! / m[2]![2]!];
}

/** One weighted least-squares step towards the edges as cut; `turning` leaves the turn free. */
function step(seen: readonly Seen[], motion: Motion, scale: number, turning: boolean): Motion {
  const total = seen.reduce((sum, s) => sum + s.weight, 0);
  if (total === 0) return motion;
  const c = seen.reduce(
    (m, s) => ({ x: m.x + (s.p.x * s.weight) / total, y: m.y + (s.p.y * s.weight) / total }),
    { x: 0, y: 0 },
  );
  const size = Math.max(1, ...seen.map((s) => Math.hypot(s.p.x - c.x, s.p.y - c.y)));
  const a = [0, 0, 0, 0, 0, 0];
  const b = [0, 0, 0];
  for (const s of seen) {
    const w = s.weight / (1 + (s.off / scale) ** 2);
    // How far the wall moves along its normal for a turn that moves the farthest sample by 1.
    const g = turning ? (s.n.y * (s.p.x - c.x) - s.n.x * (s.p.y - c.y)) / size : 0;
    const row = [s.n.x, s.n.y, g];
    a[0]! += w * row[0]! * row[0]!;
    a[1]! += w * row[0]! * row[1]!;
    a[2]! += w * row[0]! * row[2]!;
    a[3]! += w * row[1]! * row[1]!;
    a[4]! += w * row[1]! * row[2]!;
    a[5]! += w * row[2]! * row[2]!;
    for (let i = 0; i < 3; i++) b[i]! += w * row[i]! * s.off;
  }
  // A shape that a turn or a shift leaves on itself, such as a disc, stays as it is in that direction.
  const hold = 1e-6 * total;
  const d = solve([a[0]! + hold, a[1]!, a[2]!, a[3]! + hold, a[4]!, a[5]! + hold], b);
  if (d === null) return motion;
  const turn = d[2] / size;
  const [k, q] = [Math.cos(turn), Math.sin(turn)];
  // Turned about the samples' middle, then moved.
  const [ox, oy] = [motion.dx - c.x, motion.dy - c.y];
  return {
    ...motion,
    turn: motion.turn + turn,
    dx: c.x + k * ox - q * oy + d[0],
    dy: c.y + q * ox + k * oy + d[1],
  };
}

function settle(sightings: readonly Sighting[], from: Motion, turning: boolean, scales: readonly number[]) {
  let motion = from;
  for (const scale of scales)
    for (let i = 0; i < 3; i++) motion = step(look(sightings, motion), motion, scale, turning);
  return motion;
}

/**
 * Refines a motion by least squares on the distances from wanted to cut walls, walls that are off having less and
 * less to say; then from each of the longest walls, so that it comes to rest on those that most others agree with
 * and not between them. Turns near quarter turns become such, shifts multiples of 0.0001 mm.
 */
export function refineMotion(sightings: readonly Sighting[], from: Motion): Motion {
  let best = settle(sightings, from, true, SCALES);
  let most = agreement(look(sightings, best));
  const consider = (motion: Motion, share = 1): void => {
    const value = agreement(look(sightings, motion));
    if (value > most * share + 1e-9) [best, most] = [motion, value];
  };
  const byEdge = new Map<string, { off: number; weight: number; n: Point }>();
  for (const s of look(sightings, best)) {
    if (s.edge === '') continue;
    const e = byEdge.get(s.edge) ?? { off: 0, weight: 0, n: s.n };
    byEdge.set(s.edge, { off: e.off + s.off * s.weight, weight: e.weight + s.weight, n: s.n });
  }
  const base = best;
  const longest = [...byEdge.values()].sort((a, b) => b.weight - a.weight).slice(0, STARTS);
  for (const { off, weight, n } of longest) {
    const by = off / weight;
    if (Math.abs(by) < FINEST / 2) continue;
    consider(
      settle(sightings, { ...base, dx: base.dx + by * n.x, dy: base.dy + by * n.y }, true, [FINEST, FINEST]),
    );
  }
  const quarter = Math.round(best.turn / (Math.PI / 2)) * (Math.PI / 2);
  if (Math.abs(best.turn - quarter) < QUARTER) {
    // About the middle of what is seen, so that nothing far off is thrown aside.
    const seen = look(sightings, best);
    const c = seen.reduce((m, s) => ({ x: m.x + s.p.x / seen.length, y: m.y + s.p.y / seen.length }), {
      x: 0,
      y: 0,
    });
    const by = quarter - best.turn;
    const o = movePoint({ mirror: false, turn: by, dx: 0, dy: 0 }, { x: best.dx - c.x, y: best.dy - c.y });
    const squared = { ...best, turn: quarter, dx: c.x + o.x, dy: c.y + o.y };
    consider(settle(sightings, squared, false, [0.02, FINEST]), 1 - COST);
  }
  const full = 2 * Math.PI;
  return {
    ...best,
    turn: ((best.turn % full) + full) % full,
    dx: snap(best.dx),
    dy: snap(best.dy),
  };
}
