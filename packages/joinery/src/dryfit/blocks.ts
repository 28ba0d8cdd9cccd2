import { dot, type Vec } from '../frame.js';
import { COARSE } from './dryfit-tolerance.js';
import { type Profile, profilesOf, spansAt, stopsOf } from './profile.js';
import type { Solid } from './solid.js';

/** A box of material of a plate: along the line, across it in the plate's plane, and along its normal. World, mm. */
export interface Block {
  readonly s: readonly [number, number];
  readonly a: readonly [number, number];
  readonly w: readonly [number, number];
}

const EVERYWHERE: readonly [number, number] = [-Infinity, Infinity];
/** How near to a stop a section is taken in its place, as a share of the stretch. */
const BESIDE = 1e-9;
const MOST_STEPS = 256;

/** The blocks of one stretch in which nothing changes course: what of the material lies over all of it. */
function blocksBetween(p: Profile, from: number, to: number, out: Block[]): void {
  const d = (to - from) * BESIDE;
  const one = spansAt(p, from + d, EVERYWHERE);
  const two = spansAt(p, to - d, EVERYWHERE);
  const n = Math.min(one.length, two.length);
  let slope = 0;
  for (let i = 0; i < n; i++)
    slope = Math.max(slope, Math.abs(one[i]!.low - two[i]!.low), Math.abs(one[i]!.high - two[i]!.high));
  const steps = Math.min(MOST_STEPS, Math.ceil(slope / COARSE));
  if (steps > 1) {
    for (let k = 0; k < steps; k++) {
      const f = from + ((to - from) * k) / steps;
      const t = from + ((to - from) * (k + 1)) / steps;
      const x = spansAt(p, f + d, EVERYWHERE);
      const y = spansAt(p, t - d, EVERYWHERE);
      for (let i = 0; i < Math.min(x.length, y.length); i++) push(p, f, t, x[i]!, y[i]!, out);
    }
    return;
  }
  for (let i = 0; i < n; i++) push(p, from, to, one[i]!, two[i]!, out);
}

function push(
  p: Profile,
  from: number,
  to: number,
  x: { low: number; high: number },
  y: { low: number; high: number },
  out: Block[],
): void {
  const low = Math.max(x.low, y.low);
  const high = Math.min(x.high, y.high);
  if (high > low) out.push({ s: [from, to], a: [low, high], w: p.w });
}

/** Blocks that follow each other with one width are one. */
function joined(blocks: readonly Block[]): Block[] {
  const out: Block[] = [];
  const open = new Map<string, number>();
  for (const b of blocks) {
    const key = `${b.a[0].toFixed(7)} ${b.a[1].toFixed(7)} ${b.s[0].toFixed(9)}`;
    const before = open.get(key);
    const next = `${b.a[0].toFixed(7)} ${b.a[1].toFixed(7)} ${b.s[1].toFixed(9)}`;
    if (before === undefined) {
      out.push(b);
      open.set(next, out.length - 1);
    } else {
      out[before] = { ...out[before]!, s: [out[before]!.s[0], b.s[1]] };
      open.set(next, before);
    }
  }
  return out;
}

const known = new WeakMap<Profile, readonly Block[]>();

function blocksOfProfile(p: Profile): readonly Block[] {
  const before = known.get(p);
  if (before) return before;
  const stops = stopsOf(p, EVERYWHERE, p.outer.s);
  const out: Block[] = [];
  for (let i = 0; i + 1 < stops.length; i++)
    if (stops[i + 1]! - stops[i]! > 1e-9) blocksBetween(p, stops[i]!, stops[i + 1]!, out);
  const made = joined(out);
  known.set(p, made);
  return made;
}

/**
 * A plate as boxes along a line in its plane. Exact for edges along the line and across it; of sloped edges and arcs
 * the boxes leave out at most 1 mm of material, and never add any.
 */
export const blocksOf = (solid: Solid, line: Vec, across: Vec): readonly Block[] =>
  profilesOf(solid, line, across).flatMap(blocksOfProfile);

/** A plate's blocks with the directions of their sides. */
export interface Blocks {
  readonly blocks: readonly Block[];
  readonly across: Vec;
  readonly normal: Vec;
}

/** The extent of a block along a direction in the plane across the line. */
export function extent(b: Block, { across, normal }: Blocks, direction: Vec): [number, number] {
  const ka = dot(across, direction);
  const kw = dot(normal, direction);
  const a = ka >= 0 ? [ka * b.a[0], ka * b.a[1]] : [ka * b.a[1], ka * b.a[0]];
  const w = kw >= 0 ? [kw * b.w[0], kw * b.w[1]] : [kw * b.w[1], kw * b.w[0]];
  return [a[0]! + w[0]!, a[1]! + w[1]!];
}
