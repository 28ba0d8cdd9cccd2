import { type Point, polygonRing, type Ring, reverseRing, ring, type Vertex } from '@haunch/geometry';
import type { Contour, Part } from '@haunch/model';
import fc from 'fast-check';

/** Tags as a drawing gives them. */
export const tagged = (id: string, r: Ring): Contour => {
  const withTags: Ring = { vertices: r.vertices.map((v, k) => ({ ...v, tag: `${id}/e${k}` })) };
  return { id, ring: withTags, bare: withTags, reliefs: [] };
};

/** A bare part as a drawing gives it. */
export function partOf(
  id: string,
  outline: Ring,
  cuts: readonly Ring[] = [],
  thickness: number | null = null,
): Part {
  return {
    kind: 'part',
    id,
    name: id,
    thickness,
    grain: null,
    cutFace: 'n+',
    showFace: null,
    stock: null,
    outline: tagged(`${id}.outline`, outline),
    through: cuts.map((c, k) => tagged(`${id}.c${k + 1}`, c)),
    pockets: [],
    holes: [],
    from: [],
  };
}

/** A slot about a place, turned. */
export function slotRing(at: Point, width: number, length: number, turn = 0): Ring {
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const p = (x: number, y: number): Point => ({ x: at.x + c * x - s * y, y: at.y + s * x + c * y });
  const [w, l] = [width / 2, length / 2];
  return polygonRing([p(-w, -l), p(w, -l), p(w, l), p(-w, l)]);
}

/** A half circle through each inside corner, as is drawn for a cutter of this radius; `air` as for courses. */
export function withRoundReliefs(r: Ring, radius: number, air: -1 | 1): Ring {
  const v = r.vertices;
  const n = v.length;
  const unit = (a: Point, b: Point): Point => {
    const l = Math.hypot(b.x - a.x, b.y - a.y);
    return { x: (b.x - a.x) / l, y: (b.y - a.y) / l };
  };
  const out: Vertex[] = [];
  for (let i = 0; i < n; i++) {
    const [a, b, c] = [v[(i + n - 1) % n]!, v[i]!, v[(i + 1) % n]!];
    const [d, e] = [unit(a, b), unit(b, c)];
    if ((d.x * e.y - d.y * e.x) * air < 0.9) {
      out.push(b);
      continue;
    }
    const arm = radius * Math.SQRT2;
    out.push({ x: b.x - d.x * arm, y: b.y - d.y * arm, bulge: air });
    out.push({ x: b.x + e.x * arm, y: b.y + e.y * arm, bulge: 0 });
  }
  return ring(out);
}

/** A square step along the wall after each inside corner (or before it), as is drawn for a cutter of this diameter. */
export function withSquareReliefs(r: Ring, step: number, air: -1 | 1): Ring {
  const v = r.vertices;
  const n = v.length;
  const out: Vertex[] = [];
  for (let i = 0; i < n; i++) {
    const [a, b, c] = [v[(i + n - 1) % n]!, v[i]!, v[(i + 1) % n]!];
    const [da, db] = [Math.hypot(b.x - a.x, b.y - a.y), Math.hypot(c.x - b.x, c.y - b.y)];
    const d = { x: (b.x - a.x) / da, y: (b.y - a.y) / da };
    const e = { x: (c.x - b.x) / db, y: (c.y - b.y) / db };
    if ((d.x * e.y - d.y * e.x) * air < 0.9) {
      out.push(b);
      continue;
    }
    const p = (x: number, y: number): Vertex => ({
      x: b.x + d.x * x + e.x * y,
      y: b.y + d.y * x + e.y * y,
      bulge: 0,
    });
    // The longer wall is overshot; the shorter one ends early.
    if (da >= db) out.push(p(step, 0), p(step, step), p(0, step));
    else out.push(p(-step, 0), p(-step, -step), p(0, -step));
  }
  return ring(out);
}

/** What a plate is made of. mm */
export interface PlateSpec {
  readonly t: number;
  /** Tenons on the lower edge, a notch in the upper one, fingers on the left one, slots inside. */
  readonly tenons: number;
  readonly notches: number;
  readonly fingers: number;
  readonly slots: number;
  readonly reliefs: 'none' | 'round' | 'square';
  /** Added to the width of slots and notches: a drawn fit. */
  readonly fit: number;
}

/** A plate of that kind: 600 wide; the height follows its fingers. */
export function plateOf(id: string, s: PlateSpec): Part {
  const w = 600;
  const h = Math.max(240, s.fingers * 110 + 60);
  const corners: Point[] = [{ x: 0, y: 0 }];
  for (let k = 0; k < s.tenons; k++) {
    const x = 60 + k * 170;
    corners.push({ x, y: 0 }, { x, y: -s.t }, { x: x + 70, y: -s.t }, { x: x + 70, y: 0 });
  }
  corners.push({ x: w, y: 0 }, { x: w, y: h });
  const slot = s.t + s.fit;
  for (let k = s.notches - 1; k >= 0; k--) {
    const x = 80 + k * 150;
    corners.push({ x: x + slot, y: h }, { x: x + slot, y: h - 61 }, { x, y: h - 61 }, { x, y: h });
  }
  corners.push({ x: 0, y: h });
  for (let k = s.fingers - 1; k >= 0; k--) {
    const y = 53 + k * 110;
    corners.push({ x: 0, y: y + 55 }, { x: -s.t, y: y + 55 }, { x: -s.t, y }, { x: 0, y });
  }
  const relieved = (r: Ring, air: -1 | 1): Ring =>
    s.reliefs === 'round'
      ? withRoundReliefs(r, Math.min(3, s.t / 5), air)
      : s.reliefs === 'square'
        ? withSquareReliefs(r, Math.min(5, s.t / 3), air)
        : r;
  const cuts = Array.from({ length: s.slots }, (_, k) =>
    relieved(slotRing({ x: 90 + k * 110, y: 90 }, slot, 74), 1),
  );
  return partOf(id, relieved(polygonRing(corners), -1), cuts, s.t);
}

/** Plates of many kinds for a thickness. */
export const plateSpec = (thickness: fc.Arbitrary<number>): fc.Arbitrary<PlateSpec> =>
  fc.record({
    t: thickness,
    tenons: fc.integer({ min: 0, max: 3 }),
    notches: fc.integer({ min: 0, max: 3 }),
    fingers: fc.integer({ min: 0, max: 4 }),
    slots: fc.integer({ min: 0, max: 4 }),
    reliefs: fc.constantFrom('none', 'round', 'square'),
    fit: fc.constantFrom(0, 0, 0.1, 0.2, -0.1),
  });

/** The same contours walked the other way. */
export function reversedPart(p: Part): Part {
  const back = <C extends Contour>(c: C): C => {
    const r = reverseRing(c.ring);
    return { ...c, ring: r, bare: r };
  };
  return { ...p, outline: back(p.outline), through: p.through.map(back), pockets: p.pockets.map(back) };
}

/** All corners of a part. */
export const pointsOf = (p: Part): Point[] =>
  [p.outline, ...p.through, ...p.pockets].flatMap((c) => c.ring.vertices.map(({ x, y }) => ({ x, y })));

/** The greatest distance between corners of the same number; Infinity where their numbers differ. */
export function farthest(a: readonly Part[], b: readonly Part[]): number {
  const [p, q] = [a.flatMap(pointsOf), b.flatMap(pointsOf)];
  if (p.length !== q.length) return Number.POSITIVE_INFINITY;
  return p.reduce((m, v, i) => Math.max(m, Math.hypot(v.x - q[i]!.x, v.y - q[i]!.y)), 0);
}
