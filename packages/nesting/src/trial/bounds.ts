import { moveRing, type Ring, ringBounds } from '@haunch/geometry';
import type { LayoutProblem } from './problem.js';

/** What no layout can undercut: a strip's length in the problem's unit, or a number of boards; and why. */
export interface LowerBound {
  readonly value: number;
  readonly reason: 'area' | 'longest item' | 'items too tall to share the width';
}

const turned = (outline: Ring, turn: number): Ring =>
  moveRing({ mirror: false, turn, dx: 0, dy: 0 }, outline);

/** How much of the outline lies above one x, by its straight sides; arcs count by their chords. */
function sectionAt(r: Ring, x: number): number {
  const ys: number[] = [];
  r.vertices.forEach((a, i) => {
    const b = r.vertices[(i + 1) % r.vertices.length]!;
    if (a.x < x === b.x < x) return;
    ys.push(a.y + ((x - a.x) / (b.x - a.x)) * (b.y - a.y));
  });
  ys.sort((p, q) => p - q);
  let sum = 0;
  for (let i = 0; i + 1 < ys.length; i += 2) sum += ys[i + 1]! - ys[i]!;
  return sum;
}

/**
 * Along how much of its length an outline takes more than `half` of the strip's width. Between two neighbouring
 * corners the section changes evenly, so two probes in each stretch give it exactly.
 */
export function lengthTallerThan(outline: Ring, half: number): number {
  const xs = [...new Set(outline.vertices.map((v) => v.x))].sort((a, b) => a - b);
  let sum = 0;
  for (let i = 0; i + 1 < xs.length; i++) {
    const [x0, x1] = [xs[i]!, xs[i + 1]!];
    const w = x1 - x0;
    const [p, q] = [sectionAt(outline, x0 + w / 4), sectionAt(outline, x1 - w / 4)];
    const [from, to] = [p - (q - p) / 2, q + (q - p) / 2];
    if (from > half && to > half) sum += w;
    else if (from > half || to > half) sum += (w * (Math.max(from, to) - half)) / Math.abs(to - from);
  }
  return sum;
}

const curved = (r: Ring): boolean => r.vertices.some((v) => v.bulge !== 0);

/**
 * The greatest of the simple lower bounds. For a strip: area over width; the longest item in its shortest turn;
 * and the lengths along which items take more than half the width, which can never stand side by side (left out
 * for items with arcs, and where items have holes). For boards: area over the largest board, rounded up.
 */
export function lowerBound(problem: LayoutProblem): LowerBound {
  const { instance, itemArea, stripWidth, unit } = problem;
  if (stripWidth === undefined) {
    const largest = Math.max(
      ...instance.boards.map((b) => {
        const box = ringBounds(b.outline);
        return ((box.maxX - box.minX) * (box.maxY - box.minY)) / unit ** 2;
      }),
    );
    // A sum of areas that is a whole number of boards but for rounding is that number.
    return { value: Math.ceil(itemArea / largest - 1e-9), reason: 'area' };
  }
  let longest = 0;
  let tall = 0;
  // What lies in another item's hole takes no width of its own.
  const holes = instance.items.some((i) => (i.holes ?? []).length > 0);
  for (const item of instance.items) {
    let [shortest, least] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
    for (const turn of item.turns) {
      const r = turned(item.outline, turn);
      const box = ringBounds(r);
      if (box.maxY - box.minY > stripWidth * unit * (1 + 1e-12)) continue;
      shortest = Math.min(shortest, box.maxX - box.minX);
      least = curved(r) || holes ? 0 : Math.min(least, lengthTallerThan(r, (stripWidth * unit) / 2));
    }
    if (!Number.isFinite(shortest)) continue;
    longest = Math.max(longest, shortest);
    tall += least;
  }
  const bounds: LowerBound[] = [
    { value: itemArea / stripWidth, reason: 'area' },
    { value: longest / unit, reason: 'longest item' },
    { value: tall / unit, reason: 'items too tall to share the width' },
  ];
  return bounds.reduce((a, b) => (b.value > a.value ? b : a));
}
