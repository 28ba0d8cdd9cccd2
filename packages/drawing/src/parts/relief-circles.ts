import {
  distance,
  indexBoxes,
  type Point,
  ringArea,
  ringBounds,
  snap,
  sweepAround,
  type Vertex,
} from '@haunch/geometry';
import type { Account } from './account.js';
import { reliefCircles } from './diagnostics.js';
import { type Loop, loopEntity } from './loop.js';
import { nestLoops } from './nest-loops.js';

/** Reliefs are no wider than the widest cutter for sheets usually is, mm. Common practice, no source. */
const WIDEST = 13;
/** A relief takes its corner away, or passes it no further off than this, mm. */
const MISSES = 0.02;
/** What is left of an edge between two reliefs is longer than this, mm. */
const REST = 0.01;
/** Corners blunter than this (sine) hold no relief. */
const BLUNT = 0.34;

/** A corner of a loop with the circle that relieves it, and where its edges meet the circle. */
interface Relieved {
  readonly corner: number;
  readonly circle: Loop;
  readonly from: Point;
  readonly to: Point;
}

/**
 * Loops with the circles that are drawn over their inside corners united with them: a cutter leaves such a circle, and
 * the drawing shows it as one. A circle relieves one corner of one loop, between two straight edges, that it takes away
 * or passes through; circles anywhere else stay what they are. A note says so; each is a repair that can be kept.
 */
export function withReliefCircles(loops: readonly Loop[], account: Account): readonly Loop[] {
  const circles = loops.filter((l) => l.circle !== null && 2 * l.circle.radius <= WIDEST);
  if (circles.length === 0) return loops;
  const small = new Set(circles);
  const others = loops.filter((l) => !small.has(l) && l.circle === null);
  const index = indexBoxes(circles.map((c) => c.bounds));
  const wanted = others.map((l) => reliefsOf(l, circles, index));
  if (wanted.every((w) => w.length === 0)) return loops;
  const { depth } = nestLoops(others);
  const gone = new Set<Loop>();
  const made = new Map<Loop, Loop>();
  others.forEach((l, i) => {
    const cut = depth[i]! % 2 === 1;
    const taken = new Set<Loop>();
    const reliefs = wanted[i]!.filter(({ corner, circle }) => {
      if (turnAt(l, corner) > 0 !== cut || gone.has(circle) || taken.has(circle)) return false;
      taken.add(circle);
      return true;
    });
    const after = relieved(l, reliefs, cut);
    if (after === null) return;
    const kept = reliefs.filter(
      ({ circle, corner }) =>
        !account.book.mend('relief', pointOf(l.ring.vertices[corner]!), circle.entities, 0, () => ({
          before: [{ vertices: circle.ring.vertices, closed: true }],
          after: [{ vertices: after.ring.vertices, closed: true }],
        })),
    );
    const done = reliefs.filter((r) => !kept.includes(r));
    const shape = kept.length === 0 ? after : relieved(l, done, cut);
    if (shape === null) return;
    for (const { circle } of done) gone.add(circle);
    made.set(l, shape);
  });
  if (gone.size === 0) return loops;
  const first = loops.find((l) => gone.has(l))!;
  account.diagnostics.push(
    reliefCircles(account.file, { count: gone.size, first: loopEntity(first) }, first.circle!.centre),
  );
  return loops.flatMap((l) => (gone.has(l) ? [] : [made.get(l) ?? l]));
}

const pointOf = ({ x, y }: Vertex): Point => ({ x, y });

/** The sine of a corner's turn, to the left above 0; 0 where an arc meets in it. */
function turnAt(l: Loop, i: number): number {
  const v = l.ring.vertices;
  const [a, b, c] = [v[(i + v.length - 1) % v.length]!, v[i]!, v[(i + 1) % v.length]!];
  if (a.bulge !== 0 || b.bulge !== 0) return 0;
  const length = distance(a, b) * distance(b, c);
  return ((b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x)) / length;
}

function reliefsOf(l: Loop, circles: readonly Loop[], index: ReturnType<typeof indexBoxes>): Relieved[] {
  const { vertices } = l.ring;
  const n = vertices.length;
  return vertices.flatMap((corner, i): Relieved[] => {
    const { x, y } = corner;
    const near: number[] = [];
    index.search({ minX: x - MISSES, minY: y - MISSES, maxX: x + MISSES, maxY: y + MISSES }, (k) => {
      near.push(k);
      return false;
    });
    if (near.length === 0 || Math.abs(turnAt(l, i)) < BLUNT) return [];
    const found = near
      .sort((a, b) => a - b)
      .flatMap((k): Relieved[] => {
        const circle = circles[k]!;
        const { centre, radius } = circle.circle!;
        if (distance(centre, corner) > radius + MISSES) return [];
        const from = leaves(circle, corner, vertices[(i + n - 1) % n]!);
        const to = leaves(circle, corner, vertices[(i + 1) % n]!);
        return from && to && distance(from, to) > REST ? [{ corner: i, circle, from, to }] : [];
      });
    // Two circles in one corner are something else.
    return found.length === 1 ? found : [];
  });
}

/** Where an edge that begins at a corner in a circle leaves the circle; null where it ends in it. */
function leaves(circle: Loop, corner: Point, end: Point): Point | null {
  const { centre, radius } = circle.circle!;
  const length = distance(corner, end);
  const [ux, uy] = [(end.x - corner.x) / length, (end.y - corner.y) / length];
  const along = (centre.x - corner.x) * ux + (centre.y - corner.y) * uy;
  const off = (centre.x - corner.x) * uy - (centre.y - corner.y) * ux;
  const at = Math.max(0, along + Math.sqrt(Math.max(0, radius ** 2 - off ** 2)));
  // A circle that only touches the edge at its corner, as one along the other edge does, leaves it there.
  if (at < MISSES) return pointOf({ ...corner, bulge: 0 });
  return at < length - REST ? { x: snap(corner.x + at * ux), y: snap(corner.y + at * uy) } : null;
}

/** The loop with an arc round each circle instead of the corner; null where two of them would meet on an edge. */
function relieved(l: Loop, reliefs: readonly Relieved[], cut: boolean): Loop | null {
  if (reliefs.length === 0) return null;
  const at = new Map(reliefs.map((r) => [r.corner, r]));
  const entities = [...l.entities, ...reliefs.flatMap((r) => r.circle.entities)];
  const n = l.ring.vertices.length;
  const vertices = l.ring.vertices.flatMap((v, i): Vertex[] => {
    const r = at.get(i);
    if (!r) return [v];
    const next = at.get((i + 1) % n);
    const end = l.ring.vertices[(i + 1) % n]!;
    if (next && distance(v, r.to) + distance(end, next.from) > distance(v, end) - REST) return [];
    const { centre } = r.circle.circle!;
    const sweep = sweepAround(centre, r.from, r.to, cut ? 'ccw' : 'cw');
    const tag = String(entities.indexOf(r.circle.entities[0]!));
    return [
      { ...r.from, bulge: Math.tan(sweep / 4), tag },
      { ...r.to, bulge: 0, ...(v.tag === undefined ? {} : { tag: v.tag }) },
    ];
  });
  if (vertices.length !== n + reliefs.length) return null;
  const ring = { vertices };
  return { ...l, ring, entities, area: ringArea(ring), bounds: ringBounds(ring) };
}
