import {
  directionAt,
  distance,
  type Point,
  type Ring,
  ringSegments,
  type Segment,
  segmentBounds,
  segmentIntersections,
} from '@haunch/geometry';

/** Crossings nearer than this to an end of either segment are touches of rounded coordinates, mm. */
const AT_AN_END = 0.001;
/** Segments whose directions differ by less than this sine run along each other and do not cross. */
const ALONG = 1e-3;

/** The first place at which a ring crosses itself, or null. Touching itself at a point is no crossing. mm. */
export function selfCrossing(r: Ring): Point | null {
  const items = ringSegments(r)
    .map((s, i) => ({ s, i, box: segmentBounds(s) }))
    .sort((a, b) => a.box.minX - b.box.minX || a.i - b.i);
  let active: typeof items = [];
  for (const item of items) {
    active = active.filter((a) => a.box.maxX >= item.box.minX);
    for (const a of active) {
      if (a.box.maxY < item.box.minY || a.box.minY > item.box.maxY) continue;
      const p = properCrossing(a.s, item.s);
      if (p !== null) return p;
    }
    active.push(item);
  }
  return null;
}

/** Where two segments cross away from their ends, or null. */
export function properCrossing(a: Segment, b: Segment): Point | null {
  for (const p of segmentIntersections(a, b)) {
    if ([a.from, a.to, b.from, b.to].some((e) => distance(e, p) <= AT_AN_END)) continue;
    const [u, v] = [directionAt(a, p), directionAt(b, p)];
    if (Math.abs(u.x * v.y - u.y * v.x) > ALONG) return p;
  }
  return null;
}
