import { along, cross, dot, type Frame, type Vec } from '../frame.js';
import { type Band, bandsOf, type Wall } from './bands.js';
import { type BandFit, common, fitBands } from './fit-bands.js';
import { leaningPosesOf } from './leaning-poses.js';
import type { Interval, Plate } from './plate-layers.js';

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

/** How many ends must meet at least in a run of fingers: those of one finger between two. */
const LEAST_RUN = 2;

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

/** True where of two plates that meet in a run of fingers neither reaches past the other at one end only. */
function sideBySide(p: Band, q: Band, { turned, shift }: BandFit): boolean {
  const [p0, p1] = p.reach;
  const [q0, q1] = turned
    ? [shift - q.reach[1], shift - q.reach[0]]
    : [q.reach[0] + shift, q.reach[1] + shift];
  const [low, high] = [q0 - p0, q1 - p1];
  return Math.abs(low) < PAST || Math.abs(high) < PAST || low > 0 !== high > 0;
}

/** Every way in which `q` may stand on `p`, square to it or leaning, that their strips bear out; in a total order. */
export function posesOf(p: Plate, q: Plate): Pose[] {
  const out: Pose[] = [];
  for (const lp of p.layers)
    for (const lq of q.layers)
      for (const bp of bandsOf(lp, lq.high - lq.low))
        for (const bq of bandsOf(lq, lp.high - lp.low)) {
          const walled = bp.walls.length + bq.walls.length > 0;
          const run = !walled && bp.toothed && bq.toothed;
          const fits = fitBands(bp.material, bq.material, walled ? 1 : run ? LEAST_RUN : 4).filter((fit) =>
            walled ? filled(bp, bq, fit) : !run || sideBySide(bp, bq, fit),
          );
          const most = fits.reduce((m, f) => Math.max(m, f.ends), 0);
          for (const fit of fits)
            if (fit.ends >= NEARLY * most)
              for (const side of [1, -1] as const)
                out.push({
                  ends: fit.ends,
                  frame: frameFrom(
                    bp,
                    (lp.low + lp.high) / 2,
                    bq,
                    (lq.low + lq.high) / 2,
                    fit.turned ? -1 : 1,
                    fit.shift,
                    side,
                  ),
                });
        }
  for (const { frame, ends } of leaningPosesOf(p, q)) out.push({ frame, ends });
  for (const { frame, ends } of leaningPosesOf(q, p)) out.push({ frame: inverse(frame), ends });
  return out;
}
