import {
  type Point,
  pointAlong,
  pointInRing,
  ringBounds,
  ringSegments,
  type Segment,
  segmentLength,
} from '@haunch/geometry';
import type { Board, Cutter, Holding, Machine, Part } from '@haunch/model';
import { clearanceAt } from './clearance-at.js';
import type { PlainMotion, PlainProgram } from './plain-motion.js';

/** What a witness is told: what shall come of a program that is known to be right. mm */
export interface WitnessInput {
  readonly board: Board;
  readonly parts: readonly Part[];
  readonly cutters: readonly Cutter[];
  readonly machine: Machine;
  readonly holding: Holding;
  /** The program that is known to be right. */
  readonly right: PlainProgram;
}

/** What a witness saw of another program. */
export interface Testimony {
  /** The most that any wall, floor or face seen lies elsewhere than in the right program, mm. */
  readonly moved: number;
  /** Where that is, in words; empty when nothing moved. */
  readonly where: string;
  /** Safety rules broken, in words. */
  readonly unsafe: readonly string[];
  /** How many strokes of the cutter differ from those of the right program. */
  readonly strokes: number;
}

/** Distance between places on walls, mm: a cutter of 6 mm that reaches 0.01 beyond a wall notches 0.35 of it. */
const ALONG = 0.3;
/** Distance between places inside parts, mm: no cutter of 6 mm fits between them. */
const INSIDE = 3;
/** How far from a tab another may reach, in widths of tabs: what the proof bears too. */
const TAB_LENGTH = 4;
/** Farther than this from a wall nothing is looked at, mm. */
const NEAR = 0.5;
/** How close to a wall is on it, mm. */
const ON = 0.005;
/** Heights in a program are rounded to half of this at most: a thousandth of an inch. mm */
const ROUNDING = 0.0127;

interface Seen {
  readonly at: Point;
  readonly what: string;
  readonly heights: readonly number[];
  readonly wall: boolean;
  /** A tab of the right program stands here or close by: a longer one is no harm where a tab may be. */
  readonly byTab: boolean;
}

function along(s: Segment): Point[] {
  const n = Math.max(2, Math.ceil(segmentLength(s) / ALONG));
  return Array.from({ length: n }, (_, k) => pointAlong(s, (k + 0.5) / n));
}

/** Side of a cell in which strokes and places are looked up, mm. */
const CELL = 10;

/** The cells that a box meets. */
function cellsOf(minX: number, minY: number, maxX: number, maxY: number): string[] {
  const out: string[] = [];
  for (let i = Math.floor(minX / CELL); i <= Math.floor(maxX / CELL); i++)
    for (let j = Math.floor(minY / CELL); j <= Math.floor(maxY / CELL); j++) out.push(`${i} ${j}`);
  return out;
}

const strokeOf = ({ from, to, arc, tool }: PlainMotion): string => JSON.stringify([from, to, arc, tool]);

/**
 * A second opinion on what a changed program cuts, made in another way than the proof: no polygons, no union, only
 * the distance from thousands of places on walls, in parts and on floors to the cutter's path, at several heights,
 * compared with those of a program that is right.
 */
export function wallWitness(input: WitnessInput): (program: PlainProgram) => Testimony {
  const { board, parts, cutters, machine, holding, right } = input;
  const top = machine.zZero === 'top' ? 0 : board.thickness;
  const bottom = top - board.thickness;
  const radii = new Map(cutters.map((c) => [c.number, c.diameter / 2]));
  const radiusOf = (tool: number): number => radii.get(tool) ?? (cutters[0]?.diameter ?? 0) / 2;
  const most = Math.max(...cutters.map((c) => c.diameter / 2));
  const overTabs = bottom + holding.tabHeight + 0.2;
  const reach = most + NEAR;
  const box = (m: PlainMotion): { minX: number; minY: number; maxX: number; maxY: number } => {
    const xs = [m.from.x, m.to.x];
    const ys = [m.from.y, m.to.y];
    if (m.arc !== null) {
      const r = Math.hypot(m.from.x - m.arc.x, m.from.y - m.arc.y);
      xs.push(m.arc.x - r, m.arc.x + r);
      ys.push(m.arc.y - r, m.arc.y + r);
    }
    return { minX: Math.min(...xs), minY: Math.min(...ys), maxX: Math.max(...xs), maxY: Math.max(...ys) };
  };
  const cutting = (m: PlainMotion): boolean => Math.min(m.from.z, m.to.z) < top;
  const rightStrokes = new Map<string, PlainMotion>();
  for (const m of right.motions) if (cutting(m)) rightStrokes.set(strokeOf(m), m);
  // Strokes by the cells of a coarse grid that they can reach.
  const gather = (list: Iterable<PlainMotion>): Map<string, PlainMotion[]> => {
    const out = new Map<string, PlainMotion[]>();
    for (const m of list) {
      const b = box(m);
      for (const key of cellsOf(b.minX - reach, b.minY - reach, b.maxX + reach, b.maxY + reach)) {
        const there = out.get(key);
        if (there) there.push(m);
        else out.set(key, [m]);
      }
    }
    return out;
  };
  const cellOf = (p: Point): string => `${Math.floor(p.x / CELL)} ${Math.floor(p.y / CELL)}`;
  const rightNear = gather(rightStrokes.values());
  const seen: Seen[] = [];
  for (const part of parts) {
    const walls = [
      { ring: part.outline.ring, id: part.outline.id, floor: bottom },
      ...part.through.map((c) => ({ ring: c.ring, id: c.id, floor: bottom })),
      ...part.pockets.map((c) => ({ ring: c.ring, id: c.id, floor: top - c.depth })),
    ];
    for (const { ring, id, floor } of walls) {
      const low = floor === bottom ? [bottom + 0.02, overTabs] : [floor + ROUNDING];
      const heights = [...low, (floor + top) / 2, top - 0.02];
      const places = ringSegments(ring).flatMap(along);
      const standing = places.map(
        (at) =>
          floor === bottom &&
          clearanceAt(rightNear.get(cellOf(at)) ?? [], radiusOf, at, bottom + 0.02, NEAR) > ON,
      );
      const about = Math.ceil((TAB_LENGTH * holding.tabWidth) / ALONG);
      places.forEach((at, k) => {
        const byTab = Array.from({ length: 2 * about + 1 }, (_, d) => k + d - about).some(
          (n) => standing[(n + places.length) % places.length],
        );
        seen.push({ at, what: `${part.id} ${id}`, heights, wall: true, byTab });
      });
    }
    const box = ringBounds(part.outline.ring);
    for (let x = box.minX + INSIDE / 2; x < box.maxX; x += INSIDE)
      for (let y = box.minY + INSIDE / 2; y < box.maxY; y += INSIDE) {
        const at = { x, y };
        if (pointInRing(part.outline.ring, at) !== 'inside') continue;
        if (part.through.some((c) => pointInRing(c.ring, at) === 'inside')) continue;
        const pocket = part.pockets.find((c) => pointInRing(c.ring, at) === 'inside');
        const floor = pocket === undefined ? top : top - pocket.depth;
        const heights = pocket === undefined ? [top - 0.02] : [floor - 2 * ROUNDING, floor + 2 * ROUNDING];
        seen.push({ at, what: `${part.id} ${pocket?.id ?? 'face'}`, heights, wall: false, byTab: false });
      }
  }
  const cells = new Map<string, Seen[]>();
  for (const s of seen) {
    const key = cellOf(s.at);
    const list = cells.get(key);
    if (list) list.push(s);
    else cells.set(key, [s]);
  }
  return (program) => {
    const unsafe = dangers(program, { board, machine, top, bottom, cutters });
    const strokes = new Map<string, PlainMotion>();
    for (const m of program.motions) if (cutting(m)) strokes.set(strokeOf(m), m);
    const added = [...strokes].flatMap(([k, m]) => (rightStrokes.has(k) ? [] : [m]));
    const gone = new Set([...rightStrokes].flatMap(([k, m]) => (strokes.has(k) ? [] : [m])));
    const differing = [...added, ...gone];
    let moved = 0;
    let where = '';
    if (differing.length > 0) {
      const addedNear = gather(added);
      const known = new Map<string, PlainMotion[]>();
      const theirs = (cell: string): readonly PlainMotion[] => {
        let list = known.get(cell);
        if (!list) {
          list = [...(rightNear.get(cell) ?? []).filter((m) => !gone.has(m)), ...(addedNear.get(cell) ?? [])];
          known.set(cell, list);
        }
        return list;
      };
      const asked = new Set<Seen>();
      for (const m of differing) {
        const b = box(m);
        for (const key of cellsOf(b.minX - reach, b.minY - reach, b.maxX + reach, b.maxY + reach))
          for (const s of cells.get(key) ?? []) asked.add(s);
      }
      for (const s of asked) {
        if (clearanceAt(differing, radiusOf, s.at, Infinity, NEAR) >= NEAR) continue;
        const [before, after] = [rightNear.get(cellOf(s.at)) ?? [], theirs(cellOf(s.at))];
        for (const h of s.heights) {
          const was = clearanceAt(before, radiusOf, s.at, h, NEAR);
          const is = clearanceAt(after, radiusOf, s.at, h, NEAR);
          const gouge = s.wall ? (was >= -ON ? -is : 0) : was > 0 && is < 0 ? -is : 0;
          const tab = s.byTab && h < overTabs;
          const uncut = s.wall ? (was <= ON && !tab ? is : 0) : was < 0 && is > 0 ? is : 0;
          const by = Math.max(gouge, uncut);
          if (by > moved) {
            moved = by;
            where = `${s.what} at X${s.at.x.toFixed(2)} Y${s.at.y.toFixed(2)} Z${h.toFixed(2)}`;
          }
        }
      }
    }
    return { moved, where, unsafe, strokes: differing.length };
  };
}

function dangers(
  { motions, ended }: PlainProgram,
  i: {
    readonly board: Board;
    readonly machine: Machine;
    readonly top: number;
    readonly bottom: number;
    readonly cutters: readonly Cutter[];
  },
): string[] {
  const out = new Set<string>();
  const { machine, top, bottom } = i;
  const safe = top + machine.clearance - ROUNDING;
  const sheet = ringBounds(i.board.outline);
  const over = (x: number, y: number): boolean =>
    x > sheet.minX && x < sheet.maxX && y > sheet.minY && y < sheet.maxY;
  for (const m of motions) {
    const low = Math.min(m.from.z, m.to.z);
    const overSheet = over(m.from.x, m.from.y) || over(m.to.x, m.to.y);
    const lift = m.from.x === m.to.x && m.from.y === m.to.y && m.to.z >= m.from.z;
    if (m.rapid && !lift && low < safe && overSheet) out.add('a rapid below clearance');
    if (!m.rapid && low < top && m.spindle === 0) out.add('a cut with a spindle that stands');
    if (!m.rapid && low < top && m.spindle < 0) out.add('a cut with the spindle turning backwards');
    if (!m.rapid && low < top && !(m.feed > 0)) out.add('a cut without a feed');
    if (!m.rapid && m.feed > machine.maxFeed + 1) out.add('a feed beyond the limit');
    if (low < bottom - machine.spoilboard - ROUNDING) out.add('a cut too deep into the bed');
    if (!i.cutters.some((c) => c.number === m.tool) && low < top)
      out.add('a cut with a tool that nobody knows');
  }
  if (!ended) out.add('no end');
  const last = motions.at(-1);
  if (last && last.to.z < safe) out.add('an end in the sheet');
  return [...out];
}
