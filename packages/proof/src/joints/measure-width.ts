import type { Side, Spread } from './measure-wall.js';
import { measureSide, removedBeside } from './measure-wall.js';
import { remember } from './remember.js';
import { measuringPlaces, onWall, type Wall, wallCut } from './wall.js';

/** The distance between two edges as cut, at opposite places, mm; air between walls, or material between sides. */
export interface Width extends Spread {
  /** The same as wanted. */
  readonly wanted: number;
  /** Narrowest over the slabs at places along the first edge, from its start, in order; none where no places lie opposite each other. */
  readonly along: readonly { readonly at: number; readonly width: number }[];
}

/** The most places along a wall that are told. */
const TOLD = 9;

/** Of many places the ends, the narrowest, the widest, and others evenly between. */
function told(widths: ReadonlyMap<number, number>): Width['along'] {
  const all = [...widths].sort((a, b) => a[0] - b[0]);
  const n = all.length;
  const keep = new Set<number>();
  if (n === 0) return [];
  const by = all.map(([, w]) => w);
  for (const i of [0, n - 1, by.indexOf(Math.min(...by)), by.indexOf(Math.max(...by))]) keep.add(i);
  for (let k = 1; k < TOLD - 1 && keep.size < Math.min(TOLD, n); k++)
    keep.add(Math.round((k * (n - 1)) / (TOLD - 1)));
  return [...keep].sort((a, b) => a - b).map((i) => ({ at: all[i]![0], width: all[i]![1] }));
}

/** Edges that lean more than this against each other have no width, as the sine of the angle. */
const PARALLEL = 1e-3;

const facing = (a: Wall, b: Wall): boolean =>
  a.air.x * b.air.x + a.air.y * b.air.y < 0 && Math.abs(a.air.x * b.air.y - a.air.y * b.air.x) < PARALLEL;

/** From wall `a` straight across to wall `b`, mm; negative when it lies behind. */
const across = (a: Wall, b: Wall): number =>
  (b.segment.from.x - a.segment.from.x) * a.air.x + (b.segment.from.y - a.segment.from.y) * a.air.y;

/** The part of `a`'s window that has `b`'s window opposite, from `a`'s start. */
function opposite(a: Wall, b: Wall): readonly [number, number] | null {
  const place = (s: number): number => {
    const x = b.segment.from.x + b.along.x * s - a.segment.from.x;
    const y = b.segment.from.y + b.along.y * s - a.segment.from.y;
    return x * a.along.x + y * a.along.y;
  };
  const [p, q] = [place(b.window[0]), place(b.window[1])];
  const from = Math.max(a.window[0], Math.min(p, q));
  const to = Math.min(a.window[1], Math.max(p, q));
  return to - from > 1e-6 ? [from, to] : null;
}

/**
 * Measures the width between two edges whose air (a slot's walls) or material (a tenon's sides) is between them:
 * the distance of opposite places of the edges as cut, over their common length and every slab. Edges without
 * places opposite each other are measured one by one. Null when they are not parallel and facing, or no slab is
 * asked.
 */
export function measureWidth(one: Side, other: Side, between: 'air' | 'material'): Width | null {
  const known = widthsOf(one)[between];
  let width = known.get(other);
  if (width === undefined) {
    width = widthBetween(one, other, between);
    known.set(other, width);
  }
  return width;
}

const widthsOf = remember((_side: Side) => ({
  air: new Map<Side, Width | null>(),
  material: new Map<Side, Width | null>(),
}));

function widthBetween(one: Side, other: Side, between: 'air' | 'material'): Width | null {
  const sign = between === 'air' ? 1 : -1;
  let least = Infinity;
  let most = -Infinity;
  let wanted: number | null = null;
  const widths = new Map<number, number>();
  for (const a of one.walls)
    for (const b of other.walls) {
      if (!facing(a, b)) continue;
      const range = opposite(a, b);
      const distance = across(a, b) * sign;
      if (distance <= 0) continue;
      wanted = wanted === null ? distance : Math.min(wanted, distance);
      if (range === null) continue;
      for (const removed of removedBeside(one, [a.segment, b.segment])) {
        const places = new Set(measuringPlaces(a, removed, range));
        const inA = (s: number): number => {
          const p = onWall(b, s);
          return (p.x - a.segment.from.x) * a.along.x + (p.y - a.segment.from.y) * a.along.y;
        };
        for (const s of measuringPlaces(b, removed, b.window)) {
          const t = inA(s);
          if (t > range[0] && t < range[1]) places.add(t);
        }
        for (const s of places) {
          const p = onWall(a, s);
          const gap = across(a, b) * sign;
          const q = { x: p.x + a.air.x * gap * sign, y: p.y + a.air.y * gap * sign };
          const width = gap + sign * (wallCut(removed, p, a.air).off + wallCut(removed, q, b.air).off);
          least = Math.min(least, width);
          most = Math.max(most, width);
          widths.set(s, Math.min(widths.get(s) ?? Infinity, width));
        }
      }
    }
  if (wanted === null || one.levels.length === 0) return null;
  if (least === Infinity) {
    const a = measureSide(one);
    const b = measureSide(other);
    least = wanted + (between === 'air' ? a.least + b.least : -a.most - b.most);
    most = wanted + (between === 'air' ? a.most + b.most : -a.least - b.least);
  }
  return { wanted, least, most, along: told(widths) };
}
