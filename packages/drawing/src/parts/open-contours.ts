import { type BoxIndex, distance, indexBoxes, type Point, pointAlong, pointInRing } from '@haunch/geometry';
import type { Entity } from '../drawing.js';
import { type Account, refOf } from './account.js';
import { looseLine, moreOpenOutlines, openOutline } from './diagnostics.js';
import type { Loop } from './loop.js';
import { segmentOf, strokeOf } from './loose-segment.js';
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
function isOpenContour(r: OpenRun, onPart: boolean): boolean {
  if (r.hangs || r.segments.length < 2) return false;
  const gap = distance(r.start, r.end);
  const length = runLength(r);
  if (gap <= Math.min(length / 2, Math.max(NEARLY_CLOSED, length * NEARLY_CLOSED_SHARE))) return true;
  if (r.segments.length < 3 || gap > length * GOES_ROUND) return false;
  return !onPart;
}

/** Says what is to be said of the runs that closed nothing: contours that are open, and loose lines. */
export function reportOpenRuns(open: readonly OpenRun[], loops: readonly Loop[], account: Account): void {
  const { file, diagnostics } = account;
  const index = indexBoxes(loops.map((l) => l.bounds));
  const contours: OpenRun[] = [];
  const inside: OpenRun[] = [];
  const outside: OpenRun[] = [];
  for (const r of open) {
    const onPart = middles(r).some((p) => liesOn(index, loops, p));
    if (isOpenContour(r, onPart)) contours.push(r);
    else (onPart ? inside : outside).push(r);
  }
  contours.forEach((r, k) => {
    const gap = distance(r.start, r.end);
    if (k < LISTED) diagnostics.push(openOutline(file, r.segments[0]!.entity, r.start, r.end, gap));
    account.unclear.push({
      code: 'read/open-outline',
      at: r.start,
      entities: entitiesOf([r]).map(refOf),
      strokes: r.segments.map(strokeOf),
    });
  });
  if (contours.length > LISTED) diagnostics.push(moreOpenOutlines(file, contours.length - LISTED));
  const loose = [...inside, ...outside];
  if (loose.length === 0) return;
  const entities = entitiesOf(loose);
  const first = entities.reduce((a, b) => (b.line < a.line ? b : a));
  const run = loose.find((r) => r.segments.some((s) => s.entity === first))!;
  const where = { inside: entitiesOf(inside).length, outside: entitiesOf(outside).length };
  diagnostics.push(looseLine(file, { count: entities.length, first }, run.start, where));
  const strokes = (runs: readonly OpenRun[]) => runs.flatMap((r) => r.segments.map(strokeOf));
  if (inside.length > 0) account.leaveOut('engraving', entitiesOf(inside), strokes(inside));
  if (outside.length > 0) account.leaveOut('construction line', entitiesOf(outside), strokes(outside));
}

const entitiesOf = (runs: readonly OpenRun[]): Entity[] => [
  ...new Set(runs.flatMap((r) => r.segments.map((s) => s.entity))),
];

/** A few places on a run that are not its ends, which may only touch a contour. */
function middles(r: OpenRun): Point[] {
  const step = Math.max(1, Math.ceil(r.segments.length / 3));
  return r.segments.filter((_, i) => i % step === 0).map((s) => pointAlong(segmentOf(s), 0.5));
}

function liesOn(index: BoxIndex, loops: readonly Loop[], p: Point): boolean {
  return index.search({ minX: p.x, minY: p.y, maxX: p.x, maxY: p.y }, (i) => {
    return pointInRing(loops[i]!.ring, p) !== 'outside';
  });
}
