import { cross, dot, type Frame, type Vec } from '../frame.js';
import { common, END_PRESS, meetings } from './fit-bands.js';
import { type Interval, type Plate, sectionOf } from './plate-layers.js';

interface Placed {
  readonly plate: Plate;
  readonly frame: Frame;
}

/** How deep inside of a plate's faces, and how far beyond them, it is looked. mm */
const INSIDE = 0.5;
const BEYOND = 0.9;

/** Where a plate has material along `d`, across it at `at` in the world's measure, `w` above its face n−. */
function cut({ plate, frame }: Placed, d: Vec, m: Vec, at: number, w: number): Interval[] {
  const height = Math.min(Math.max(w, 0.01), plate.part.thickness - 0.01);
  const layer = plate.layers.find((l) => l.low <= height && height <= l.high)!;
  const flat = (v: Vec) => ({ x: dot(v, frame.u), y: dot(v, frame.v) });
  const zero = dot(frame.origin, d);
  return sectionOf(layer, flat(d), flat(m), at - dot(frame.origin, m)).map(
    ([p, q]): Interval => [p + zero, q + zero],
  );
}

/**
 * How two plates meet that stand neither square nor parallel; null where they would overlap. Looked at along nine lines
 * of the prism that both their thicknesses have in common, and beside it for what bears.
 */
export function judgeLeaning(
  a: Placed,
  b: Placed,
  d: Vec,
): { readonly ends: number; readonly bearings: number } | null {
  const [ma, mb] = [cross(a.frame.n, d), cross(b.frame.n, d)];
  const c = dot(a.frame.n, b.frame.n);
  const [za, zb] = [dot(a.frame.origin, a.frame.n), dot(b.frame.origin, b.frame.n)];
  /** Both plates' material along the line so high above their faces n−. */
  const at = (wa: number, wb: number): readonly [Interval[], Interval[]] => {
    const [ha, hb] = [za + wa, zb + wb];
    const [alpha, beta] = [(ha - c * hb) / (1 - c * c), (hb - c * ha) / (1 - c * c)];
    return [cut(a, d, ma, beta * dot(ma, b.frame.n), wa), cut(b, d, mb, alpha * dot(mb, a.frame.n), wb)];
  };
  const heights = (t: number): readonly [number, number, number] => [INSIDE, t / 2, t - INSIDE];
  const [ta, tb] = [a.plate.part.thickness, b.plate.part.thickness];
  let ends = 0;
  for (const wa of heights(ta))
    for (const wb of heights(tb)) {
      const [ia, ib] = at(wa, wb);
      const met = meetings(ia, ib);
      if (common(ia, ib) > END_PRESS * met.ends + 0.05) return null;
      if (wa === ta / 2 && wb === tb / 2) ends = met.ends;
    }
  const touch = (wa: number, wb: number): boolean => common(...at(wa, wb)) > 3;
  /** How many stretches of the second plate have the first one's material beyond both their faces: tenons between walls. */
  const between = (first: 0 | 1): number => {
    const t = first === 0 ? tb : ta;
    const depth = first === 0 ? ta : tb;
    const walls = [-BEYOND, t + BEYOND].map((w) =>
      [INSIDE, depth - INSIDE].flatMap(
        (x) => at(...(first === 0 ? ([x, w] as const) : ([w, x] as const)))[first],
      ),
    );
    const mid = at(ta / 2, tb / 2)[1 - first]!;
    return mid.filter((s) => walls.every((side) => common(side, [s]) > 3)).length;
  };
  let bearings = 0;
  for (const wb of [-BEYOND, tb + BEYOND]) if ([INSIDE, ta - INSIDE].some((wa) => touch(wa, wb))) bearings++;
  for (const wa of [-BEYOND, ta + BEYOND]) if ([INSIDE, tb - INSIDE].some((wb) => touch(wa, wb))) bearings++;
  // A tenon between walls as far apart as its lean needs speaks for itself, as an end that meets does.
  return { ends: ends === 0 ? 0 : ends + Math.max(between(0), between(1)), bearings };
}
