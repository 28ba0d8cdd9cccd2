import {
  distance,
  indexBoxes,
  type LineSegment,
  type Ring,
  ringSegments,
  segmentBounds,
} from '@haunch/geometry';
import type { Part } from '@haunch/model';
import { withoutReliefs } from './parts/without-reliefs.js';

/** A thickness that the parts speak for. */
export interface ThicknessCandidate {
  /** mm */
  readonly value: number;
  /** The number of places in the parts that are this wide or deep. */
  readonly support: number;
  /** Plain sentences for people. */
  readonly reasons: readonly string[];
}

/** Widths between these could be a sheet's thickness, mm. */
const THINNEST = 2;
const THICKEST = 45;
/** Widths that lie no further apart than this belong together, mm. */
const TOGETHER = 0.02;
/** Edges whose directions differ by less than this sine are parallel or square. */
const SQUARE = 1e-3;

/** A slot's walls face each other over at least this share of its width. */
const FACING = 0.95;

interface Measure {
  readonly width: number;
  readonly what: 'slot' | 'step';
  readonly part: string;
}

interface Edge {
  readonly s: LineSegment;
  readonly length: number;
  readonly ux: number;
  readonly uy: number;
}

const edgesOf = (r: Ring): Edge[] =>
  ringSegments(r).flatMap((s) => {
    if (s.kind !== 'line') return [];
    const length = distance(s.from, s.to);
    return [{ s, length, ux: (s.to.x - s.from.x) / length, uy: (s.to.y - s.from.y) / length }];
  });

/** The distance from `a` to `b` across the air on the given side, if they bound a slot there; else null. */
function across(a: Edge, b: Edge, side: 1 | -1): number | null {
  if (Math.abs(a.ux * b.uy - a.uy * b.ux) > SQUARE || a.ux * b.ux + a.uy * b.uy > 0) return null;
  const [nx, ny] = [-a.uy * side, a.ux * side];
  const d = (b.s.from.x - a.s.from.x) * nx + (b.s.from.y - a.s.from.y) * ny;
  const along = (p: { x: number; y: number }) => (p.x - a.s.from.x) * a.ux + (p.y - a.s.from.y) * a.uy;
  const [p, q] = [along(b.s.to), along(b.s.from)];
  const common = Math.min(a.length, Math.max(p, q)) - Math.max(0, Math.min(p, q));
  if (!(d > 0) || common < Math.min(a.length, b.length) / 2) return null;
  // What is wider than its walls face each other is the gap between two fingers, not a slot for a plate.
  return common >= d * FACING ? d : null;
}

/** Widths of slots and notches in a ring: each edge with the nearest that faces it across air. Order n log n. */
function slotWidths(r: Ring, side: 1 | -1): number[] {
  // Walls must face each other for about the least width, so shorter edges are none.
  const edges = edgesOf(r).filter((e) => e.length >= THINNEST * FACING);
  const boxes = edges.map((e) => segmentBounds(e.s));
  const index = indexBoxes(boxes);
  const nearest = edges.map((a, i) => {
    let best = { j: -1, d: Infinity };
    const [nx, ny] = [-a.uy * side * THICKEST, a.ux * side * THICKEST];
    const { minX, minY, maxX, maxY } = boxes[i]!;
    const beside = {
      minX: Math.min(minX, minX + nx) - TOGETHER,
      minY: Math.min(minY, minY + ny) - TOGETHER,
      maxX: Math.max(maxX, maxX + nx) + TOGETHER,
      maxY: Math.max(maxY, maxY + ny) + TOGETHER,
    };
    index.search(beside, (j) => {
      const d = j === i ? null : across(a, edges[j]!, side);
      if (d !== null && (d < best.d || (d === best.d && j < best.j))) best = { j, d };
      return false;
    });
    return best;
  });
  return nearest.flatMap(({ j, d }, i) => (j > i && nearest[j]!.j === i ? [d] : []));
}

/** Lengths of edges that step square from one level to another: once to the left, once to the right. */
function stepDepths(r: Ring): number[] {
  const segments = ringSegments(r);
  const n = segments.length;
  const turn = (i: number): number => {
    const [a, b] = [segments[(i + n) % n]!, segments[(i + 1 + n) % n]!];
    if (a.kind !== 'line' || b.kind !== 'line') return 0;
    const [la, lb] = [distance(a.from, a.to), distance(b.from, b.to)];
    return (
      ((a.to.x - a.from.x) * (b.to.y - b.from.y) - (a.to.y - a.from.y) * (b.to.x - b.from.x)) / (la * lb)
    );
  };
  return segments.flatMap((s, i) => {
    const [before, after] = [turn(i - 1), turn(i)];
    const square = Math.abs(Math.abs(before) - 1) < SQUARE && Math.abs(Math.abs(after) - 1) < SQUARE;
    if (s.kind !== 'line' || !square || before * after >= 0) return [];
    const depth = distance(s.from, s.to);
    const [a, b] = [segments[(i - 1 + n) % n]!, segments[(i + 1) % n]!];
    return Math.max(distance(a.from, a.to), distance(b.from, b.to)) >= depth * FACING ? [depth] : [];
  });
}

function measuresOf(p: Part): Measure[] {
  const outline = withoutReliefs(p.outline.bare, -1);
  const slots = [
    ...slotWidths(outline, -1),
    ...[...p.through, ...p.pockets].flatMap((c) => slotWidths(withoutReliefs(c.bare, 1), 1)),
  ];
  return [
    ...slots.map((width): Measure => ({ width, what: 'slot', part: p.id })),
    ...stepDepths(outline).map((width): Measure => ({ width, what: 'step', part: p.id })),
  ].filter((m) => m.width >= THINNEST && m.width <= THICKEST);
}

const figure = (v: number): string => String(Number(v.toFixed(3)));

function sentence(group: readonly Measure[], what: Measure['what'], value: number): string[] {
  const of = group.filter((m) => m.what === what);
  if (of.length === 0) return [];
  const parts = [...new Set(of.map((m) => m.part))];
  const where =
    parts.length > 4
      ? `${parts.slice(0, 3).join(', ')} and ${parts.length - 3} more parts`
      : parts.join(', ');
  const many = of.length > 1;
  const noun = what === 'slot' ? `slot${many ? 's' : ''}` : `step${many ? 's' : ''}`;
  return [
    `${of.length} ${noun} ${many ? 'are' : 'is'} ${figure(value)} mm ${what === 'slot' ? 'wide' : 'deep'} (${where}).`,
  ];
}

/**
 * Which sheet thicknesses the parts speak for: widths of slots and notches (edges that face each other across
 * air) and depths of square steps, 2 to 45 mm, those within 0.02 mm of each other taken together under their
 * median. The best supported first; equal support: the thinner first. It shows candidates and rivals for a
 * person to confirm; nothing may be resized on it. A drawn clearance or drawn reliefs mislead it.
 */
export function thicknessSupport(parts: readonly Part[]): readonly ThicknessCandidate[] {
  const measures = parts.flatMap(measuresOf).sort((a, b) => a.width - b.width);
  const groups: Measure[][] = [];
  for (const m of measures) {
    const last = groups.at(-1);
    if (last !== undefined && m.width - last.at(-1)!.width <= TOGETHER) last.push(m);
    else groups.push([m]);
  }
  return groups
    .map((group): ThicknessCandidate => {
      const value = Number(group[Math.floor(group.length / 2)]!.width.toFixed(4));
      return {
        value,
        support: group.length,
        reasons: [...sentence(group, 'slot', value), ...sentence(group, 'step', value)],
      };
    })
    .sort((a, b) => b.support - a.support || a.value - b.value);
}
