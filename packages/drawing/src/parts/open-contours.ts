import { distance, type Point, pointInRing } from '@haunch/geometry';
import type { Diagnostic } from '@haunch/model';
import { looseLine, moreOpenOutlines, openOutline } from '../diagnostics.js';
import type { Loop } from './loop.js';
import type { OpenRun } from './trace-loops.js';

/** A gap up to this, mm, in a run of several lines is a contour that failed to close. */
const NEARLY_CLOSED = 1;
/** So are gaps up to this share of the run's length. */
const NEARLY_CLOSED_SHARE = 0.02;
/** Outside of all parts, a run that goes round at least this share of what would close it is an outline. */
const GOES_ROUND = 0.5;
/** So many are listed one by one. */
const LISTED = 10;

const runLength = (r: OpenRun): number => r.segments.reduce((sum, s) => sum + distance(s.from, s.to), 0);

/** Whether an open run was meant to be a contour. The others are scores, engravings or construction lines. */
function isOpenContour(r: OpenRun, loops: readonly Loop[]): boolean {
  if (r.hangs || r.segments.length < 2) return false;
  const gap = distance(r.start, r.end);
  const length = runLength(r);
  if (gap <= Math.min(length / 2, Math.max(NEARLY_CLOSED, length * NEARLY_CLOSED_SHARE))) return true;
  if (r.segments.length < 3 || gap > length * GOES_ROUND) return false;
  return !loops.some((l) => inBox(l, r.start) && pointInRing(l.ring, r.start) !== 'outside');
}

const inBox = (l: Loop, p: Point): boolean =>
  p.x >= l.bounds.minX && p.x <= l.bounds.maxX && p.y >= l.bounds.minY && p.y <= l.bounds.maxY;

/** What is to be said of the runs that closed nothing. */
export function openContourDiagnostics(
  open: readonly OpenRun[],
  loops: readonly Loop[],
  file: string,
): Diagnostic[] {
  const contours = open.filter((r) => isOpenContour(r, loops));
  const loose = open.filter((r) => !contours.includes(r));
  const out = contours
    .slice(0, LISTED)
    .map((r) => openOutline(file, r.segments[0]!.entity, r.start, r.end, distance(r.start, r.end)));
  if (contours.length > LISTED) out.push(moreOpenOutlines(file, contours.length - LISTED));
  if (loose.length > 0) {
    const first = loose.reduce((a, b) => (b.segments[0]!.entity.line < a.segments[0]!.entity.line ? b : a));
    const entities = new Set(loose.flatMap((r) => r.segments.map((s) => s.entity)));
    out.push(looseLine(file, { count: entities.size, first: first.segments[0]!.entity }, first.start));
  }
  return out;
}
