import type { Point } from '@haunch/geometry';
import { bandSection, type Interval, type Layer } from './plate-layers.js';

/** Where two walls face each other along a strip; closed where material runs all round. mm */
export interface Wall {
  readonly span: Interval;
  readonly closed: boolean;
}

/** A strip of a plate that another plate may stand in: where in it there is material. mm */
export interface Band {
  readonly d: Point;
  readonly m: Point;
  /** p·m of its middle line. */
  readonly middle: number;
  readonly width: number;
  /** Where two walls face each other across air at the width. */
  readonly walls: readonly Wall[];
  /** Edges lie on both of its lines, material between them on the one's side and beyond the other's: tips and roots of fingers. */
  readonly toothed: boolean;
  /** From the least to the greatest place of the plate along the strip. */
  readonly reach: Interval;
  readonly material: readonly Interval[];
}

const WIDEST_SLACK = 0.7;
const WIDEST_PRESS = 0.15;

/** How much of a thin plate's thickness its slot may be wider, lest gaps between small fingers count as slots. */
const THIN_SLACK = 0.12;

/** True where a slot of this width is drawn for a plate of this thickness, with clearance or with press. mm */
export const isSlotFor = (width: number, thickness: number): boolean =>
  width >= thickness - WIDEST_PRESS && width <= thickness + Math.min(WIDEST_SLACK, THIN_SLACK * thickness);

interface Line {
  readonly angle: number;
  readonly offset: number;
  /** +1 where material lies towards +m. */
  readonly side: 1 | -1;
  readonly from: number;
  readonly to: number;
  readonly ring: number;
}

function linesOf(layer: Layer): Line[] {
  const out: Line[] = [];
  for (const { from, to, ring } of layer.straights) {
    let angle = Math.atan2(to.y - from.y, to.x - from.x);
    let side: 1 | -1 = 1;
    if (angle < -1e-7) {
      angle += Math.PI;
      side = -1;
    }
    if (angle > Math.PI - 1e-7) {
      angle -= Math.PI;
      side = side === 1 ? -1 : 1;
    }
    const d = { x: Math.cos(angle), y: Math.sin(angle) };
    const a = from.x * d.x + from.y * d.y;
    const b = to.x * d.x + to.y * d.y;
    out.push({
      angle,
      offset: -from.x * d.y + from.y * d.x,
      side,
      from: Math.min(a, b),
      to: Math.max(a, b),
      ring,
    });
  }
  return out;
}

/** The strips of a slice in which a plate of the given thickness may stand square to it: between walls, then along edges. */
export function bandsOf(layer: Layer, width: number): readonly Band[] {
  let mine = known.get(layer);
  if (mine === undefined) {
    mine = new Map();
    known.set(layer, mine);
  }
  const key = Math.round(width * 1000);
  let found = mine.get(key);
  if (found === undefined) {
    found = stripsOf(layer, width);
    mine.set(key, found);
  }
  return found;
}

const known = new WeakMap<Layer, Map<number, readonly Band[]>>();

interface Strip extends Band {
  readonly walls: Wall[];
}

/** From the least to the greatest place of a plate along a direction. mm */
export function reachOf(layer: Layer, d: Point): Interval {
  const at = layer.rings[0]!.map((p) => p.x * d.x + p.y * d.y);
  return [Math.min(...at), Math.max(...at)];
}

/** How far a finger's tip or root may lie from the face that it should be flush with. mm */
const FLUSH = 0.4;

/** True where a strip runs from fingers' tips to the roots of the gaps between them, on whichever side. */
function isToothed(
  lines: readonly Line[],
  angle: number,
  middle: number,
  width: number,
  material: readonly Interval[],
): boolean {
  const on = (offset: number): Line[] =>
    lines.filter((l) => Math.abs(l.offset - offset) < FLUSH && Math.abs(l.angle - angle) < 1e-4);
  const within = ({ from, to }: Line): boolean =>
    material.some(([a, b]) => Math.min(b, to) - Math.max(a, from) > (to - from) / 2);
  const [low, high] = [on(middle - width / 2), on(middle + width / 2)];
  const teeth = (tips: readonly Line[], roots: readonly Line[], side: 1 | -1): boolean =>
    tips.some((l) => l.side === side && within(l)) && roots.some((l) => l.side === side && !within(l));
  return teeth(low, high, 1) || teeth(high, low, -1);
}

/** True where both lines of the strip carry tips and roots of fingers; see `Band`. */
export function toothedAt(layer: Layer, d: Point, m: Point, middle: number, width: number): boolean {
  // Directions are told by their line: both ways along it are one strip, its lines the other way round.
  const back = d.y < -1e-7 || (Math.abs(d.y) <= 1e-7 && d.x < 0) || Math.atan2(d.y, d.x) > Math.PI - 1e-7;
  const along = back ? { x: -d.x, y: -d.y } : d;
  const left = { x: -along.y, y: along.x };
  const at = left.x * m.x + left.y * m.y > 0 ? middle : -middle;
  const angle = Math.max(0, Math.atan2(along.y, along.x));
  return isToothed(linesOf(layer), angle, at, width, bandSection(layer, along, left, at, width));
}

/** Two walls that face each other across air, and the middle line between them. */
interface Facing {
  readonly angle: number;
  readonly middle: number;
  readonly wall: Wall;
}

function facingLines(lines: readonly Line[], width: number): Facing[] {
  const out: Facing[] = [];
  for (const low of lines)
    for (const high of lines) {
      const gap = high.offset - low.offset;
      if (low.side !== -1 || high.side !== 1 || Math.abs(low.angle - high.angle) > 1e-5) continue;
      if (!isSlotFor(gap, width)) continue;
      const from = Math.max(low.from, high.from);
      const to = Math.min(low.to, high.to);
      if (to - from >= 2)
        out.push({
          angle: low.angle,
          middle: (low.offset + high.offset) / 2,
          wall: { span: [from, to], closed: low.ring > 0 && low.ring === high.ring },
        });
    }
  return out;
}

/** So many open gaps side by side, each less than so many times as deep as wide, are a run of fingers. */
const RUN = 6;
const FINGER_DEPTH = 2;
/** Places are told apart to a tenth of a millimetre, with the limits where drawings seldom have a corner. */
const OFF = 0.137;

/** The slots among gaps: those between fingers that happen to be as wide as the sheet is thick hold no plate. */
function slotsAmong(all: readonly Facing[], width: number): Facing[] {
  const rowOf = ({ angle, wall: { span, closed } }: Facing): string =>
    closed || span[1] - span[0] >= FINGER_DEPTH * width
      ? ''
      : [angle * 1e4, span[0] * 10 + OFF, span[1] * 10 + OFF].map(Math.round).join(' ');
  const count = new Map<string, number>();
  for (const f of all) count.set(rowOf(f), (count.get(rowOf(f)) ?? 0) + 1);
  return all.filter((f) => rowOf(f) === '' || count.get(rowOf(f))! < RUN);
}

function stripsOf(layer: Layer, width: number): Band[] {
  const lines = linesOf(layer);
  const out: Strip[] = [];
  const put = (angle: number, middle: number, wall: Wall | null): void => {
    const same = out.find(
      (b) => Math.abs(b.middle - middle) < 0.4 && Math.abs(Math.atan2(b.d.y, b.d.x) - angle) < 1e-4,
    );
    if (same !== undefined) {
      if (wall !== null) same.walls.push(wall);
      return;
    }
    const d = { x: Math.cos(angle), y: Math.sin(angle) };
    const m = { x: -d.y, y: d.x };
    const material = bandSection(layer, d, m, middle, width);
    // A groove that runs from edge to edge leaves none.
    if (material.length === 0 && wall === null) return;
    const toothed = isToothed(lines, angle, middle, width, material);
    out.push({
      d,
      m,
      middle,
      width,
      walls: wall === null ? [] : [wall],
      toothed,
      reach: reachOf(layer, d),
      material,
    });
  };
  for (const { angle, middle, wall } of slotsAmong(facingLines(lines, width), width))
    put(angle, middle, wall);
  // Strips nearer than 0.4 mm to each other are one: that along the most edge is the one that is meant.
  for (const { angle, offset } of byLength(lines)) {
    put(angle, offset + width / 2, null);
    put(angle, offset - width / 2, null);
  }
  return out;
}

/** How far apart edges that lie in one line may be. mm */
const IN_LINE = 0.05;

/** Lines in the order of how much edge lies in them altogether, the most first. */
function byLength(lines: readonly Line[]): readonly Line[] {
  const inLine = (a: Line, b: Line): boolean =>
    Math.abs(a.offset - b.offset) < IN_LINE && Math.abs(a.angle - b.angle) < 1e-4;
  return lines
    .map((line) => ({
      line,
      length: Math.round(lines.reduce((sum, o) => sum + (inLine(line, o) ? o.to - o.from : 0), 0)),
    }))
    .sort((a, b) => b.length - a.length)
    .map((l) => l.line);
}
