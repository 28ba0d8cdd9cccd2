import { type Box, fillsItsBox, flattenRing, type Point, type Ring, ringBounds } from '@haunch/geometry';

/** How far chords may leave arcs, mm; the boxes reach so much further where there are arcs. */
const CHORD = 0.05;

interface Edge {
  readonly from: Point;
  readonly to: Point;
}

const xAt = ({ from, to }: Edge, y: number): number =>
  from.x + ((y - from.y) / (to.y - from.y)) * (to.x - from.x);

/** What of a band from y0 to y1, in which no edge ends, lies outside: from one edge pair to the next. */
function bandGaps(edges: readonly Edge[], y0: number, y1: number, { minX, maxX }: Box): Box[] {
  const middle = (y0 + y1) / 2;
  const crossing = edges
    .filter(({ from, to }) => Math.min(from.y, to.y) <= y0 && Math.max(from.y, to.y) >= y1)
    .sort((a, b) => xAt(a, middle) - xAt(b, middle));
  const least = (e: Edge): number => Math.min(xAt(e, y0), xAt(e, y1));
  const most = (e: Edge): number => Math.max(xAt(e, y0), xAt(e, y1));
  const gaps: Box[] = [];
  let left = minX;
  for (let i = 0; i + 1 < crossing.length; i += 2) {
    gaps.push({ minX: left, minY: y0, maxX: most(crossing[i]!), maxY: y1 });
    left = least(crossing[i + 1]!);
  }
  gaps.push({ minX: left, minY: y0, maxX, maxY: y1 });
  return gaps.filter((g) => g.maxX > g.minX);
}

/** What of a band lies outside. */
interface Band {
  readonly y0: number;
  readonly y1: number;
  readonly gaps: readonly Box[];
}

/** Looking for the largest empty rectangle takes the square of the boxes, and is done for every layout that is scored. */
const MOST = 300;

/** One band instead of several, from bottom to top: what any of them lacks, it lacks. */
function oneBand(bands: readonly Band[]): Band {
  const [y0, y1] = [bands[0]!.y0, bands.at(-1)!.y1];
  const gaps: Box[] = [];
  for (const { minX, maxX } of bands.flatMap((b) => b.gaps).sort((a, b) => a.minX - b.minX)) {
    const last = gaps.at(-1);
    if (last && minX <= last.maxX) gaps[gaps.length - 1] = { ...last, maxX: Math.max(last.maxX, maxX) };
    else gaps.push({ minX, minY: y0, maxX, maxY: y1 });
  }
  return { y0, y1, gaps };
}

/** Neighbouring bands taken together up to a height. */
function joinedBands(bands: readonly Band[], height: number): Band[] {
  const groups: Band[][] = [];
  for (const band of bands) {
    const last = groups.at(-1);
    if (last && band.y1 - last[0]!.y0 <= height) last.push(band);
    else groups.push([band]);
  }
  return groups.map((g) => (g.length === 1 ? g[0]! : oneBand(g)));
}

/** Slices along slopes and arcs where nothing else is said, mm. */
const SLICE = 20;

/** What outlines lack by such slices: boards are asked about again and again. */
const known = new WeakMap<Ring, readonly Box[]>();

/**
 * Boxes that cover what an outline lacks of its own box: exactly where its edges run along the axes; along slopes and arcs by slices of at
 * most so many mm, so that what is left beside the boxes is board. None for a rectangle. Where a jagged outline would need hundreds of boxes,
 * slices are thicker and cover more. mm.
 */
export function missingOf(outline: Ring, slice = SLICE): readonly Box[] {
  const before = slice === SLICE ? known.get(outline) : undefined;
  if (before) return before;
  const boxes = fillsItsBox(outline) ? [] : boxesBeside(outline, slice);
  if (slice === SLICE) known.set(outline, boxes);
  return boxes;
}

function boxesBeside(outline: Ring, slice: number): Box[] {
  const box = ringBounds(outline);
  const curved = outline.vertices.some((v) => v.bulge !== 0);
  const points = flattenRing(outline, { tolerance: CHORD });
  const edges = points
    .map((from, i): Edge => ({ from, to: points[(i + 1) % points.length]! }))
    .filter(({ from, to }) => from.y !== to.y);
  const levels = [...new Set(points.map((p) => p.y))].sort((a, b) => a - b);
  const bands = levels.slice(1).flatMap((top, i): Band[] => {
    const bottom = levels[i]!;
    const middle = (top + bottom) / 2;
    const slanted = edges.some(
      ({ from, to }) => from.x !== to.x && Math.min(from.y, to.y) < middle && Math.max(from.y, to.y) > middle,
    );
    const n = slanted ? Math.max(1, Math.ceil((top - bottom) / slice)) : 1;
    return Array.from({ length: n }, (_, k) => {
      const y0 = bottom + ((top - bottom) * k) / n;
      const y1 = k + 1 === n ? top : bottom + ((top - bottom) * (k + 1)) / n;
      return { y0, y1, gaps: bandGaps(edges, y0, y1, box) };
    });
  });
  let gaps = bands.flatMap((b) => b.gaps);
  for (let h = slice; gaps.length > MOST && h < 2 * (box.maxY - box.minY); h *= 2)
    gaps = joinedBands(bands, h).flatMap((b) => b.gaps);
  const by = curved ? CHORD : 0;
  return gaps.map((g) => ({ minX: g.minX - by, minY: g.minY - by, maxX: g.maxX + by, maxY: g.maxY + by }));
}
