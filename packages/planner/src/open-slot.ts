import { distance, type Point, type Ring, ringSegments, type Segment } from '@haunch/geometry';
import type { Contour } from '@haunch/model';
import { taggedRing } from './contour-path.js';
import { directionAlong, moved, segmentLength } from './path.js';

/** Walls that differ by less than this in direction (sine) are parallel, and square to the floor within ten times that. */
const PARALLEL = 0.002;
/** Walls whose ends lie this near to one line end in a straight edge, mm. */
const LEVEL = 0.01;

/** A slot that is open at a part's edge, as a contour of its own: closed beyond the edge. */
export interface OpenSlot {
  readonly contour: Contour;
  /** Tag of the edge that closes it, outside the part. */
  readonly mouth: string;
  /** Across its floor, mm. */
  readonly width: number;
}

/** An outline, with slots that are cut on their own before it, and the outline without them. */
export interface SlottedOutline {
  readonly slots: readonly OpenSlot[];
  readonly rest: Contour;
  /** Tags of the outline's edges that lead across the mouths of slots. */
  readonly mouths: ReadonlySet<string>;
}

const cross = (a: Point, b: Point): number => a.x * b.y - a.y * b.x;
const ends = (s: Segment) => ({ at: directionAlong(s, 0), out: directionAlong(s, segmentLength(s)) });

interface Found {
  readonly floor: number;
  readonly width: number;
}

/** The floor's number where two straight walls of one length stand square on a straight floor and open at straight corners. */
function slotAt(edges: readonly Segment[], i: number): Found | undefined {
  const n = edges.length;
  const [before, w, f, v, after] = [-2, -1, 0, 1, 2].map((k) => edges[(i + k + n) % n]!) as [
    Segment,
    Segment,
    Segment,
    Segment,
    Segment,
  ];
  if (n < 7 || w.kind !== 'line' || f.kind !== 'line' || v.kind !== 'line') return undefined;
  const [into, along, back] = [ends(w).out, ends(f).out, ends(v).out];
  const square =
    Math.abs(cross(into, back)) < PARALLEL && Math.abs(into.x * along.x + into.y * along.y) < 10 * PARALLEL;
  const turnsIn = cross(into, along) < -0.5 && cross(along, back) < -0.5;
  const opens = cross(ends(before).out, into) > 0.1 && cross(back, ends(after).at) > 0.1;
  const level = Math.abs(segmentLength(w) - segmentLength(v)) < LEVEL;
  return square && turnsIn && opens && level ? { floor: i, width: segmentLength(f) } : undefined;
}

/**
 * Finds the slots of an outline whose tongue of waste, between the kerfs along their walls, would be narrower than `tongue` mm and so
 * whip: square slots with straight walls, at least a cutter wide and deep. Each is prolonged beyond the part's edge by `by` mm.
 */
export function findOpenSlots(
  outline: Contour,
  diameter: number,
  { tongue, by }: { readonly tongue: number; readonly by: number },
  accepts: (slot: OpenSlot) => boolean = () => true,
): SlottedOutline {
  const edges = ringSegments(taggedRing(outline));
  const n = edges.length;
  const slots: OpenSlot[] = [];
  const taken = new Map<number, string>();
  const withSlots = new Set<Contour['reliefs'][number]>();
  edges.forEach((f, i) => {
    const found = slotAt(edges, i);
    if (found === undefined) return;
    const [a, b] = [(i + n - 1) % n, (i + 1) % n];
    const [w, v] = [edges[a]!, edges[b]!];
    const tooWide = found.width - 2 * diameter >= tongue;
    if (tooWide || found.width < diameter || segmentLength(w) < diameter) return;
    if ([a, i, b].some((k) => taken.has(k))) return;
    const id = `${outline.id}.slot${slots.length + 1}`;
    const mouth = `${id}/open`;
    const reliefs = outline.reliefs.filter((r) => r.edges.every((e) => [w.tag, f.tag, v.tag].includes(e)));
    const vertices = [
      { ...moved(v.to, ends(v).out, by), bulge: 0, tag: v.tag! },
      { ...f.to, bulge: 0, tag: f.tag! },
      { ...f.from, bulge: 0, tag: w.tag! },
      { ...moved(w.from, ends(w).at, -by), bulge: 0, tag: mouth },
    ];
    const ring: Ring = { vertices };
    const contour: Contour = {
      id,
      ring,
      bare: ring,
      reliefs: reliefs.map((r) => ({ ...r, edges: [r.edges[1], r.edges[0]] })),
    };
    const slot = { contour, mouth, width: distance(f.from, f.to) };
    if (!accepts(slot)) return;
    slots.push(slot);
    for (const r of reliefs) withSlots.add(r);
    taken.set(a, `${id}/mouth`).set(i, '').set(b, '');
  });
  if (slots.length === 0) return { slots, rest: outline, mouths: new Set() };
  const kept = edges.flatMap((e, k) => {
    const mouth = taken.get(k);
    if (mouth === '') return [];
    return [{ ...e.from, bulge: mouth === undefined ? bulgeAt(outline, k) : 0, tag: mouth ?? e.tag! }];
  });
  const ring = { vertices: kept };
  const reliefs = outline.reliefs.filter((r) => !withSlots.has(r));
  const mouths = new Set([...taken.values()].filter((t) => t !== ''));
  return { slots, rest: { ...outline, ring, bare: ring, reliefs }, mouths };
}

const bulgeAt = (c: Contour, k: number): number => c.bare.vertices[k]!.bulge;
