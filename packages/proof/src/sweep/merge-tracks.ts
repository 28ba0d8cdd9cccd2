import type { Point } from '@haunch/geometry';
import type { Track } from './track.js';
import { joinIntervals } from './track-index.js';

/** A way of a cutter's axis without its history. */
export type Curve =
  | { readonly kind: 'line'; readonly a: Point; readonly b: Point }
  | {
      readonly kind: 'arc';
      readonly a: Point;
      readonly b: Point;
      readonly centre: Point;
      readonly r: number;
      readonly start: number;
      readonly sweep: number;
    };

/** Directions and offsets of lines nearer than these are one carrier: far below the grid of 0.0001 mm. */
const ANGLE_GRID = 1e-8;
const OFFSET_GRID = 2e-5;
const FULL = 2 * Math.PI;

const round = (v: number, grid: number): number => Math.round(v / grid) + 0;

function mergeLines(tracks: readonly Track[]): Curve[] {
  const carriers = new Map<string, { s0: number; s1: number; a: Point; b: Point }[]>();
  const points = new Map<string, Point>();
  for (const t of tracks) {
    if (t.kind !== 'line') continue;
    let [a, b] = [t.a, t.b];
    let dx = b.x - a.x;
    let dy = b.y - a.y;
    const length = Math.hypot(dx, dy);
    if (length < 1e-7) {
      points.set(`${round(a.x, OFFSET_GRID)} ${round(a.y, OFFSET_GRID)}`, a);
      continue;
    }
    dx /= length;
    dy /= length;
    if (dx < -1e-12 || (dx <= 1e-12 && dy < 0)) {
      [a, b] = [b, a];
      dx = -dx;
      dy = -dy;
    }
    const key = `${round(Math.atan2(dy, dx), ANGLE_GRID)} ${round(a.x * dy - a.y * dx, OFFSET_GRID)}`;
    const s0 = a.x * dx + a.y * dy;
    const piece = { s0, s1: s0 + length, a, b };
    const list = carriers.get(key);
    if (list) list.push(piece);
    else carriers.set(key, [piece]);
  }
  const out: Curve[] = [];
  for (const list of carriers.values()) {
    list.sort((p, q) => p.s0 - q.s0 || q.s1 - p.s1);
    let last = { ...list[0]! };
    for (const p of list.slice(1))
      if (p.s0 > last.s1 + 1e-6) {
        out.push({ kind: 'line', a: last.a, b: last.b });
        last = { ...p };
      } else if (p.s1 > last.s1) {
        last.s1 = p.s1;
        last.b = p.b;
      }
    out.push({ kind: 'line', a: last.a, b: last.b });
  }
  for (const p of points.values()) out.push({ kind: 'line', a: p, b: p });
  return out;
}

function mergeArcs(tracks: readonly Track[]): Curve[] {
  const carriers = new Map<string, { centre: Point; r: number; spans: [number, number][] }>();
  for (const t of tracks) {
    if (t.kind !== 'arc') continue;
    const key = [t.centre.x, t.centre.y, t.r].map((v) => round(v, OFFSET_GRID)).join(' ');
    const low = t.sweep >= 0 ? t.start : t.start + t.sweep;
    const from = ((low % FULL) + FULL) % FULL;
    const to = from + Math.min(FULL, Math.abs(t.sweep));
    const spans: [number, number][] =
      to > FULL
        ? [
            [from, FULL],
            [0, to - FULL],
          ]
        : [[from, to]];
    const found = carriers.get(key);
    if (found) found.spans.push(...spans);
    else carriers.set(key, { centre: t.centre, r: t.r, spans });
  }
  const out: Curve[] = [];
  for (const { centre, r, spans } of carriers.values()) {
    const joined = joinIntervals(spans, 1e-9);
    const first = joined[0]!;
    const last = joined[joined.length - 1]!;
    // Spans that meet across the direction zero are one again.
    if (joined.length > 1 && first[0] < 1e-9 && last[1] > FULL - 1e-9) {
      joined.pop();
      first[0] = last[0] - FULL;
    }
    for (const [from, to] of joined) {
      const at = (a: number): Point => ({ x: centre.x + r * Math.cos(a), y: centre.y + r * Math.sin(a) });
      out.push({ kind: 'arc', a: at(from), b: at(to), centre, r, start: from, sweep: to - from });
    }
  }
  return out;
}

/** A name of a curve that equal curves share. */
export const curveKey = (c: Curve): string =>
  c.kind === 'line'
    ? `l${round(c.a.x, 1e-6)},${round(c.a.y, 1e-6)},${round(c.b.x, 1e-6)},${round(c.b.y, 1e-6)}`
    : `a${round(c.centre.x, 1e-6)},${round(c.centre.y, 1e-6)},${round(c.r, 1e-6)},${round(c.start, 1e-8)},${round(c.sweep, 1e-8)}`;

/**
 * The ways of one cutter without doubles: passes over the same ground, parts of them and pieces of one line become
 * one curve. The order is that of their names, whatever the order of the program.
 */
export function mergeTracks(tracks: readonly Track[]): Curve[] {
  const keyed = [...mergeLines(tracks), ...mergeArcs(tracks)].map((c) => ({ c, key: curveKey(c) }));
  keyed.sort((p, q) => (p.key < q.key ? -1 : p.key > q.key ? 1 : 0));
  return keyed.map((k) => k.c);
}
