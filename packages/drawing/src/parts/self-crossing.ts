import {
  directionAt,
  distance,
  type Point,
  type Ring,
  ringProblems,
  type Segment,
  segmentIntersections,
  segmentOfBulge,
} from '@haunch/geometry';

/** Crossings nearer than this to an end of either segment are touches of rounded coordinates, mm. */
const AT_AN_END = 0.001;
/** Segments whose directions differ by less than this sine run along each other and do not cross. */
const ALONG = 1e-3;

/** Where a ring meets itself: it crosses, or it only touches or runs over itself. */
export interface SelfContact {
  readonly kind: 'crosses' | 'touches';
  readonly at: Point;
}

/** The gravest place at which a ring meets itself, or null for a simple ring. mm. */
export function selfContact(r: Ring): SelfContact | null {
  const n = r.vertices.length;
  const segment = (i: number): Segment => {
    const v = r.vertices[i]!;
    return segmentOfBulge(v, r.vertices[(i + 1) % n]!, v.bulge);
  };
  let touch: SelfContact | null = null;
  for (const p of ringProblems(r)) {
    if (p.kind === 'zero-area') continue;
    const crossing = p.segments
      .map(([a, b]) => properCrossing(segment(a), segment(b)))
      .find((c) => c !== null);
    if (p.kind === 'self-crossing' && crossing) return { kind: 'crosses', at: crossing };
    touch ??= { kind: 'touches', at: p.at };
  }
  return touch;
}

/** Where two segments cross further than `atAnEnd` mm from their ends, or null. */
export function properCrossing(a: Segment, b: Segment, atAnEnd = AT_AN_END): Point | null {
  for (const p of segmentIntersections(a, b)) {
    if ([a.from, a.to, b.from, b.to].some((e) => distance(e, p) <= atAnEnd)) continue;
    const [u, v] = [directionAt(a, p), directionAt(b, p)];
    if (Math.abs(u.x * v.y - u.y * v.x) > ALONG) return p;
  }
  return null;
}
