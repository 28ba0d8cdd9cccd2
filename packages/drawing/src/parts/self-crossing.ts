import {
  directionAt,
  distance,
  indexSegments,
  type Point,
  type Ring,
  ringSegments,
  type Segment,
  segmentBounds,
  segmentIntersections,
  widenBox,
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

/** Neighbours share an end; what they meet within this distance of it is that end, mm. */
const SHARED_END = 1e-6;

/**
 * The gravest place at which a ring meets itself, or null for a simple ring: the first crossing in the order of its
 * segments, else the first place where it touches or runs over itself. mm. Looks no further than the first crossing,
 * as a scribble has a million of them.
 */
export function selfContact(r: Ring): SelfContact | null {
  const segments = ringSegments(r);
  const n = segments.length;
  const index = indexSegments(segments);
  let touch: SelfContact | null = null;
  for (let i = 0; i < n; i++) {
    const a = segments[i]!;
    const later: number[] = [];
    index.search(widenBox(segmentBounds(a), SHARED_END), (j) => {
      if (j > i) later.push(j);
      return false;
    });
    for (const j of later.sort((p, q) => p - q)) {
      const b = segments[j]!;
      const crossing = properCrossing(a, b);
      if (crossing !== null) return { kind: 'crosses', at: crossing };
      if (touch !== null) continue;
      const shared = [...(j === i + 1 ? [a.to] : []), ...(i === 0 && j === n - 1 ? [a.from] : [])];
      const at = segmentIntersections(a, b).find((p) => !shared.some((q) => distance(p, q) <= SHARED_END));
      if (at !== undefined) touch = { kind: 'touches', at };
    }
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
