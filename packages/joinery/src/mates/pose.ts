import { along, cross, dot, type Frame, type Vec } from '../frame.js';
import { type Band, bandsOf, reachOf, toothedAt, type Wall } from './bands.js';
import { type BandFit, common, fitBands, fitGroove } from './fit-bands.js';
import { leaningPosesOf } from './leaning-poses.js';
import { bandSection, type Interval, type Layer, type Plate } from './plate-layers.js';

/** A way in which the second plate may stand on the first: its frame in the first's. */
export interface Pose {
  readonly frame: Frame;
  readonly ends: number;
}

/** The frame `inner`, given in `outer`, in the world of `outer`. */
export function within(outer: Frame, inner: Frame): Frame {
  const turn = (a: Vec): Vec => along(along(along([0, 0, 0], a[0], outer.u), a[1], outer.v), a[2], outer.n);
  const o = turn(inner.origin);
  return {
    origin: along(outer.origin, 1, o),
    u: turn(inner.u),
    v: turn(inner.v),
    n: turn(inner.n),
  };
}

/** The frame that undoes `f`. */
export function inverse(f: Frame): Frame {
  const row = (k: 0 | 1 | 2): Vec => [f.u[k], f.v[k], f.n[k]];
  const u = row(0);
  const v = row(1);
  const n = row(2);
  const o = f.origin;
  return { origin: [-dot(o, f.u), -dot(o, f.v), -dot(o, f.n)], u, v, n };
}

function frameFrom(
  p: Band,
  zp: number,
  q: Band,
  zq: number,
  sign: 1 | -1,
  shift: number,
  side: 1 | -1,
): Frame {
  const d: Vec = [sign * p.d.x, sign * p.d.y, 0];
  const n: Vec = [side * p.m.x, side * p.m.y, 0];
  const m = cross(n, d);
  const u = along(along([0, 0, 0], q.d.x, d), q.m.x, m);
  const v = along(along([0, 0, 0], q.d.y, d), q.m.y, m);
  const on: Vec = [p.middle * p.m.x + shift * p.d.x, p.middle * p.m.y + shift * p.d.y, zp];
  return { origin: along(along(on, -q.middle, m), -zq, n), u, v, n };
}

/** How much of a slot's length the plate in it must fill. */
const FILLS = 0.7;

/** How many of the ends that meet at best must meet, lest two of four tenons in their slots count as another way. */
const NEARLY = 0.6;

/** How many ends must meet at least in a run of fingers: those of one finger between two, or one where the plates begin and end together. */
const LEAST_RUN = 2;
const LEAST_FLUSH = 1;

/** How far a plate may reach past the other at an end of a run of fingers and still be as long. mm */
const PAST = 1;

/** The least that counts as being in a slot. mm */
const ENTERS = 3;

/**
 * True where at least one slot is filled by the other plate, and the two are not links of a chain: each through a closed
 * slot of the other, which no motion brings about.
 */
function filled(p: Band, q: Band, { turned, shift }: BandFit): boolean {
  const there = q.material.map(
    ([a, b]): Interval => (turned ? [shift - b, shift - a] : [a + shift, b + shift]),
  );
  const here = p.material.map(
    ([a, b]): Interval => (turned ? [shift - b, shift - a] : [a - shift, b - shift]),
  );
  const full = (walls: readonly Wall[], by: readonly Interval[]): boolean =>
    walls.some(({ span }) => common([span], by) >= FILLS * (span[1] - span[0]));
  const through = (walls: readonly Wall[], by: readonly Interval[]): boolean =>
    walls.some(({ span, closed }) => closed && common([span], by) >= ENTERS);
  return (
    (full(p.walls, there) || full(q.walls, here)) && !(through(p.walls, there) && through(q.walls, here))
  );
}

/** True where of two plates that meet in a run of fingers, which reach so far along it, neither reaches past the other at one end only. */
function sideBySide([p0, p1]: Interval, [q0, q1]: Interval): boolean {
  const [low, high] = [q0 - p0, q1 - p1];
  return Math.abs(low) < PAST || Math.abs(high) < PAST || low > 0 !== high > 0;
}

/** True where two plates that meet in a run begin and end together. */
const flush = ([p0, p1]: Interval, [q0, q1]: Interval): boolean =>
  Math.abs(q0 - p0) < PAST && Math.abs(q1 - p1) < PAST;

const standsFrom = ([a, b]: Interval, { turned, shift }: BandFit): Interval =>
  turned ? [shift - b, shift - a] : [a + shift, b + shift];

function isRun(p: Band, q: Band, fit: BandFit): boolean {
  const there = standsFrom(q.reach, fit);
  return fit.ends >= (flush(p.reach, there) ? LEAST_FLUSH : LEAST_RUN) && sideBySide(p.reach, there);
}

/**
 * False where the second plate, standing square on the first, meets it in a run of fingers that is shifted along itself.
 * Slices of plates with pockets are thinner than fingers are long, so that only the whole plates tell.
 */
function inStep(p: Plate, q: Plate, { origin, u, v, n }: Frame): boolean {
  const m = { x: n[0], y: n[1] };
  const d = { x: -m.y, y: m.x };
  const along3: Vec = [d.x, d.y, 0];
  const dq = { x: dot(along3, u), y: dot(along3, v) };
  const mq = { x: u[2], y: v[2] };
  const [tp, tq] = [p.part.thickness, q.part.thickness];
  const onP = origin[0] * m.x + origin[1] * m.y + tq / 2;
  if (!toothedAt(p.whole, d, m, onP, tq) || !toothedAt(q.whole, dq, mq, tp / 2 - origin[2], tp)) return true;
  const start = dot(origin, along3);
  const [q0, q1] = reachOf(q.whole, dq);
  return sideBySide(reachOf(p.whole, d), [q0 + start, q1 + start]);
}

/** How near material must come to a groove's end to bound it. mm */
const BOUNDS = 1;

/** The grooves of a strip that no end bounds, each from where the plate begins to where it ends. */
const openGrooves = (b: Band, whole: Layer): Interval[] =>
  b.walls.flatMap(({ span: [from, to], closed }): Interval[] => {
    if (!closed || common([[from - BOUNDS, to + BOUNDS]], b.material) > 0) return [];
    const there = bandSection(whole, b.d, b.m, b.middle, b.width);
    const [low, high] = [Math.max(from, there[0]?.[0] ?? to), Math.min(to, there.at(-1)?.[1] ?? from)];
    return high > low ? [[low, high]] : [];
  });

/** The ways in which one of two strips stands in a groove of the other that no end bounds. */
const inGrooves = (p: Plate, bp: Band, q: Plate, bq: Band): BandFit[] => [
  ...openGrooves(bp, p.whole).flatMap((g) => fitGroove(g, bq.material)),
  ...openGrooves(bq, q.whole).flatMap((g) =>
    fitGroove(g, bp.material).map((f) => ({ ...f, shift: f.turned ? f.shift : -f.shift })),
  ),
];

/** The slices of two plates that are laid together; of plates with pockets the whole plates too, as fingers go through them. */
function slices(p: Plate, q: Plate): [Layer, Layer][] {
  const out = p.layers.flatMap((lp) => q.layers.map((lq): [Layer, Layer] => [lp, lq]));
  return out.length > 1 ? [...out, [p.whole, q.whole]] : out;
}

/** Every way in which `q` may stand on `p`, square to it or leaning, that their strips bear out; in a total order. */
export function posesOf(p: Plate, q: Plate): Pose[] {
  const out: Pose[] = [];
  const pairs = slices(p, q);
  for (const [lp, lq] of pairs)
    for (const bp of bandsOf(lp, lq.high - lq.low))
      for (const bq of bandsOf(lq, lp.high - lp.low)) {
        const walled = bp.walls.length + bq.walls.length > 0;
        const run = !walled && bp.toothed && bq.toothed;
        const ended = fitBands(bp.material, bq.material, walled || run ? 1 : 4).filter((fit) =>
          walled ? filled(bp, bq, fit) : !run || isRun(bp, bq, fit),
        );
        const most = ended.reduce((m, f) => Math.max(m, f.ends), 0);
        const fits = ended.filter((f) => f.ends >= NEARLY * most);
        for (const fit of walled ? [...fits, ...inGrooves(p, bp, q, bq)] : fits)
          for (const side of [1, -1] as const) {
            const zp = (lp.low + lp.high) / 2;
            const zq = (lq.low + lq.high) / 2;
            const frame = frameFrom(bp, zp, bq, zq, fit.turned ? -1 : 1, fit.shift, side);
            if (pairs.length === 1 || inStep(p, q, frame)) out.push({ ends: fit.ends, frame });
          }
      }
  for (const { frame, ends } of leaningPosesOf(p, q)) out.push({ frame, ends });
  for (const { frame, ends } of leaningPosesOf(q, p)) out.push({ frame: inverse(frame), ends });
  return out;
}
