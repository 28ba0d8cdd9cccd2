import { distance, type Point, pointRingDistance, ringPerimeter, snap } from '@haunch/geometry';
import type { Contour, Part } from '@haunch/model';

/** Parts that are one and the same, moved and turned; those turned over are `mirrored`. Ids of parts. */
export interface PartFamily {
  readonly parts: readonly string[];
  readonly mirrored: readonly string[];
}

/** Parts that nowhere differ by more than this are the same, mm. */
const ALIKE = 0.02;

/** Groups parts that are congruent, in the order of their first members. Names do not count. */
export function partFamilies(parts: readonly Part[]): readonly PartFamily[] {
  const families: { first: Part; parts: string[]; mirrored: string[] }[] = [];
  const byKey = new Map<string, typeof families>();
  for (const p of parts) {
    const key = keyOf(p);
    const near = byKey.get(key) ?? [];
    const twin = near
      .map((family) => ({ family, how: congruence(family.first, p) }))
      .find((t) => t.how !== null);
    if (twin === undefined) {
      const family = { first: p, parts: [p.id], mirrored: [] };
      families.push(family);
      byKey.set(key, [...near, family]);
    } else twin.family[twin.how === 'turned' ? 'parts' : 'mirrored'].push(p.id);
  }
  return families.map(({ parts: own, mirrored }) => ({ parts: own, mirrored }));
}

/** The same for parts that may be alike. */
const keyOf = (p: Part): string =>
  [p.outline.ring.vertices.length, p.through.length, p.pockets.length, p.holes.length, p.thickness].join('|');

interface Rigid {
  /** Corners that it takes to each other: of the first outline, and of the other. */
  readonly corners: readonly [number, number];
  readonly cos: number;
  readonly sin: number;
  readonly mirror: boolean;
  readonly from: Point;
  readonly to: Point;
}

const moved = ({ cos, sin, mirror, from, to }: Rigid, p: Point): Point => {
  const [x, y] = [p.x - from.x, mirror ? from.y - p.y : p.y - from.y];
  return { x: to.x + cos * x - sin * y, y: to.y + sin * x + cos * y };
};

/** How one part can be laid on the other, if at all. */
function congruence(a: Part, b: Part): 'turned' | 'mirrored' | null {
  if (Math.abs(ringPerimeter(a.outline.ring) - ringPerimeter(b.outline.ring)) > ALIKE * 10) return null;
  for (const mirror of [false, true])
    for (const motion of motions(a.outline, b.outline, mirror))
      if (coincide(a, b, motion)) return mirror ? 'mirrored' : 'turned';
  return null;
}

/** So many ways of laying one outline on the other are tried: all for common parts, few for gears. */
const TRIED = 64;

/** Motions that take the longest edge of one outline to each edge of that length of the other. */
function motions(a: Contour, b: Contour, mirror: boolean): Rigid[] {
  const [va, vb] = [a.ring.vertices, b.ring.vertices];
  const n = va.length;
  const chord = (v: readonly Point[], i: number): number => distance(v[i]!, v[(i + 1) % v.length]!);
  let longest = 0;
  for (let i = 1; i < n; i++) if (chord(va, i) > chord(va, longest) + ALIKE) longest = i;
  const [from, on] = [va[longest]!, va[(longest + 1) % n]!];
  const out: Rigid[] = [];
  for (let j = 0; j < n && out.length < TRIED; j++) {
    if (Math.abs(chord(vb, j) - chord(va, longest)) > ALIKE) continue;
    const [p, q] = [vb[j]!, vb[(j + 1) % n]!];
    // A mirrored outline runs the other way round.
    const [to, next] = mirror ? [q, p] : [p, q];
    const drawn = Math.atan2(mirror ? from.y - on.y : on.y - from.y, on.x - from.x);
    const turn = Math.atan2(next.y - to.y, next.x - to.x) - drawn;
    const corners = [longest, mirror ? (j + 1) % n : j] as const;
    out.push({ cos: Math.cos(turn), sin: Math.sin(turn), mirror, from, to, corners });
  }
  return out;
}

/** Whether a motion takes an outline to the other, corner by corner from those that it was made of. */
function sameOutline({ ring: a }: Contour, { ring: b }: Contour, motion: Rigid): boolean {
  const n = a.vertices.length;
  const [i, j] = motion.corners;
  for (let k = 0; k < n; k++) {
    const v = a.vertices[(i + k) % n]!;
    const w = b.vertices[(motion.mirror ? j - k + n : j + k) % n]!;
    if (distance(moved(motion, v), w) > ALIKE) return false;
    // Mirrored, the edge that left a corner arrives there, and bends the same way as the ring runs.
    const edge = b.vertices[(motion.mirror ? j - k - 1 + 2 * n : j + k) % n]!;
    const chord = distance(v, a.vertices[(i + k + 1) % n]!);
    if ((Math.abs(v.bulge - edge.bulge) * chord) / 2 > ALIKE) return false;
  }
  return true;
}

function coincide(a: Part, b: Part, motion: Rigid): boolean {
  const on = (c: Contour, d: Contour): boolean =>
    c.ring.vertices.length === d.ring.vertices.length &&
    c.ring.vertices.every((v) => pointRingDistance(d.ring, moved(motion, v)) <= ALIKE);
  if (!sameOutline(a.outline, b.outline, motion)) return false;
  const holes = a.holes.every((h) => {
    const centre = moved(motion, h.centre);
    return b.holes.some(
      (g) =>
        Math.abs(snap(g.diameter - h.diameter)) <= ALIKE &&
        g.depth === h.depth &&
        g.face === h.face &&
        distance(g.centre, centre) <= ALIKE,
    );
  });
  if (!holes) return false;
  const matched = (
    own: readonly Contour[],
    theirs: readonly Contour[],
    same: (i: number, j: number) => boolean,
  ) => own.every((c, i) => theirs.some((d, j) => same(i, j) && on(c, d)));
  return (
    matched(a.through, b.through, () => true) &&
    matched(
      a.pockets,
      b.pockets,
      (i, j) => a.pockets[i]!.depth === b.pockets[j]!.depth && a.pockets[i]!.face === b.pockets[j]!.face,
    )
  );
}
