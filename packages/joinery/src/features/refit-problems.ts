import {
  type Box,
  circleRing,
  type Point,
  pointSegmentDistance,
  type Ring,
  ringBounds,
  ringProblems,
  ringsDistance,
  segmentBounds,
  segmentOfBulge,
  snap,
} from '@haunch/geometry';
import type { Contour, Diagnostic, Part } from '@haunch/model';
import { ringsMeeting } from '../loop-problems.js';
import { wallAt } from './candidate.js';
import { featureCrosses, inPart, webTooThin } from './diagnostics.js';
import { facingPairs } from './facing.js';
import type { WallCourse } from './wall-course.js';

/** What is left of a web that was thinner than the least as drawn. */
const SHARE = 0.8;
/** Rounding, mm. */
const TINY = 1e-6;

/**
 * Contours nearer than this are drawn on each other, as a housing that ends at its part's edge is: corners of turned parts lie up
 * to half a step of the 0.0001 mm grid off either line, so that such curves may cross by a hair. mm
 */
const ON_EACH_OTHER = 0.0005;

/** A contour before and after. */
export interface Changed {
  readonly before: Contour;
  readonly after: Contour;
  readonly walls: WallCourse;
  /** The offset of each of its elements, mm; all 0 where it did not move. */
  readonly by: readonly number[];
  readonly followed: (element: number) => readonly string[];
}

const hasMoved = (c: Changed): boolean => c.before !== c.after;

/** What has become too thin or crosses in a part; `least` is the least web, or 0.8 of what is drawn where that is less. mm */
export function refitProblems(part: Part, contours: readonly Changed[], least: number): Diagnostic[] {
  if (!contours.some(hasMoved)) return [];
  const crossing = contours.flatMap((c) => {
    if (!hasMoved(c)) return [];
    const now = ringProblems(c.after.ring);
    if (now.length === 0 || now.length <= ringProblems(c.before.ring).length) return [];
    const { x, y } = now[0]!.at;
    return [featureCrosses('itself', inPart(part.id, c.before.id, { x: snap(x), y: snap(y) }))];
  });
  if (crossing.length > 0) return crossing;
  return [...contours.flatMap((c) => thinFingers(part, c, least)), ...thinWebs(part, contours, least)];
}

/** Material between two walls of one contour: fingers, and webs between notches. */
function thinFingers(part: Part, { walls, by, followed, before }: Changed, least: number): Diagnostic[] {
  if (by.every((o) => o === 0)) return [];
  const most = by.reduce((m, o) => Math.max(m, Math.abs(o)), 0);
  const { course } = walls;
  const inside = { ...walls, course: { ...course, air: -course.air as -1 | 1 } };
  return facingPairs(inside, { least: 0.2, widest: least / SHARE + 2 * most }).flatMap(({ a, b, width }) => {
    // Walls that run against each other: a move to the left of each is one towards or away from the other.
    const now = width + course.air * (by[a]! + by[b]!);
    const limit = Math.min(least, SHARE * width);
    if (now >= width - TINY || now >= limit - TINY) return [];
    const ids = [...new Set([...followed(a), ...followed(b)])].sort();
    const what = `the material between edges '${wallAt(walls, a).names[0]}' and '${wallAt(walls, b).names[0]}'`;
    const { x, y } = wallAt(walls, a).from;
    return [
      webTooThin(what, now, width, limit, inPart(part.id, ids[0] ?? before.id, { x: snap(x), y: snap(y) })),
    ];
  });
}

interface Outline {
  readonly id: string;
  readonly before: Ring;
  readonly after: Ring;
  readonly boxes: readonly Box[];
  /** Boxes of the segments that moved. */
  readonly moved: readonly Box[];
  readonly changed: Changed | null;
}

function outlineOf(changed: Changed): Outline {
  const { before, after } = changed;
  const n = after.ring.vertices.length;
  const boxes: Box[] = [];
  const moved: Box[] = [];
  after.ring.vertices.forEach((v, i) => {
    const j = (i + 1) % n;
    const w = after.ring.vertices[j]!;
    const box =
      v.bulge === 0
        ? {
            minX: Math.min(v.x, w.x),
            minY: Math.min(v.y, w.y),
            maxX: Math.max(v.x, w.x),
            maxY: Math.max(v.y, w.y),
          }
        : segmentBounds(segmentOfBulge(v, w, v.bulge));
    boxes.push(box);
    const [p, q] = [before.ring.vertices[i]!, before.ring.vertices[j]!];
    if (p.x !== v.x || p.y !== v.y || q.x !== w.x || q.y !== w.y) moved.push(box);
  });
  return { id: before.id, before: before.ring, after: after.ring, boxes, moved, changed };
}

/** Whether something that moved comes within `gap` of the other curve, by their boxes. */
function mayMeet(a: Outline, b: Outline, gap: number): boolean {
  const meets = (p: Box, q: Box): boolean =>
    p.minX <= q.maxX + gap && q.minX <= p.maxX + gap && p.minY <= q.maxY + gap && q.minY <= p.maxY + gap;
  return (
    a.moved.some((p) => b.boxes.some((q) => meets(p, q))) ||
    b.moved.some((p) => a.boxes.some((q) => meets(p, q)))
  );
}

/** Material between contours, and between contours and holes. */
function thinWebs(part: Part, contours: readonly Changed[], least: number): Diagnostic[] {
  const holes = part.holes.map((h): Outline => {
    const ring = circleRing(h.centre, h.diameter / 2);
    return { id: h.id, before: ring, after: ring, boxes: [ringBounds(ring)], moved: [], changed: null };
  });
  const all = [...contours.map(outlineOf), ...holes];
  return all.flatMap((c, i) =>
    all.slice(i + 1).flatMap((d) => {
      if (!mayMeet(c, d, least / SHARE)) return [];
      const was = ringsDistance(c.before, d.before);
      if (was <= ON_EACH_OTHER) return [];
      const now = ringsDistance(c.after, d.after);
      const limit = Math.min(least, SHARE * was);
      if (now >= was - TINY || now >= limit - TINY) return [];
      if (now <= TINY) return [crossingOf(part, c, d)];
      const feature = featureOf(c.changed) ?? featureOf(d.changed) ?? c.id;
      const { x, y } = d.after.vertices[0]!;
      const locus = inPart(part.id, feature, { x: snap(x), y: snap(y) });
      return [webTooThin(`the material between '${c.id}' and '${d.id}'`, now, was, limit, locus)];
    }),
  );
}

/** Two curves that meet after the change: the feature that moved to where they do runs into the other curve. */
function crossingOf(part: Part, c: Outline, d: Outline): Diagnostic {
  const { x, y } = ringsMeeting(c.after, d.after) ?? d.after.vertices[0]!;
  const [mine, theirs] = [featureNear(c.changed, { x, y }), featureNear(d.changed, { x, y })];
  const isTheirs = theirs !== null && (mine === null || theirs.off < mine.off - TINY);
  const other = isTheirs ? c : d;
  return featureCrosses(
    other.changed?.before === part.outline ? 'the outline' : { id: other.id },
    inPart(part.id, (isTheirs ? theirs : mine)?.feature ?? c.id, { x: snap(x), y: snap(y) }),
  );
}

/** The feature whose moved wall is nearest to a place, and how far the place is from where that wall moved through. mm */
function featureNear(
  c: Changed | null,
  at: Point,
): { readonly feature: string; readonly off: number } | null {
  let best: { feature: string; off: number } | null = null;
  for (const [k, o] of (c?.by ?? []).entries()) {
    const [feature] = o === 0 ? [] : c!.followed(k);
    const wall = c!.walls.elements[k]!;
    if (feature === undefined || wall.kind !== 'wall') continue;
    const drawn = pointSegmentDistance({ kind: 'line', from: wall.from, to: wall.to }, at);
    const off = Math.max(0, drawn - Math.abs(o));
    if (best === null || off < best.off - TINY) best = { feature, off };
  }
  return best;
}

/** A feature that moved something on a contour. */
const featureOf = (c: Changed | null): string | undefined =>
  c?.by.flatMap((o, k) => (o === 0 ? [] : c.followed(k)))[0];
