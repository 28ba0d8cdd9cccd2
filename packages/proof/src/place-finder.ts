import { type Point, pointSegmentDistance, ringBounds, ringSegments } from '@haunch/geometry';
import type { Joint, Part } from '@haunch/model';
import type { PlacedItem } from './prove-input.js';
import { boxesMeet } from './sweep/sweeper.js';
import { type WantedContour, wantedContours } from './wanted/wanted-contour.js';

/** What lies at a place of the board, in the words of a finding. */
export interface Found {
  readonly part?: string;
  readonly feature?: string;
  readonly joint?: string;
  readonly jointDistance?: number;
}

/** Names the part, the contour and the joint nearest to places of a board. */
export interface PlaceFinder {
  /** `within`: of this item only. `tag`: the edge that is known to be touched there. */
  at(
    p: Point,
    known?: { readonly item?: string; readonly contour?: string; readonly tag?: string | null },
  ): Found;
  /** Joints in which an edge of a part is a wall, an end or a seat. */
  jointsOf(part: string, tag: string): readonly string[];
}

/** The edge ids of a part on which joints meet, with the joints. */
function matingEdges(joints: readonly Joint[], part: string): Map<string, string[]> {
  const out = new Map<string, string[]>();
  const add = (tag: string, joint: string): void => {
    const list = out.get(tag);
    if (!list) out.set(tag, [joint]);
    else if (!list.includes(joint)) list.push(joint);
  };
  for (const j of joints)
    for (const f of j.fits) {
      if (f.slotPart === part) for (const w of f.walls) add(w, j.id);
      if (f.enteringPart === part) for (const e of f.enteringEdges) add(e, j.id);
    }
  return out;
}

/** Segments of a part that carry an edge id, pockets' floors as the whole pocket. */
const edgeSegments = (part: Part, tag: string) =>
  [part.outline, ...part.through, ...part.pockets].flatMap((c) =>
    ringSegments(c.ring).filter((s) => s.tag === tag || tag === `${c.id}/floor`),
  );

/** Prepares to name places among the items of a board. */
export function placeFinder(
  items: readonly PlacedItem[],
  joints: readonly Joint[],
  top: number,
): PlaceFinder {
  const entries = items.map((i) => ({
    item: i.item,
    part: i.part,
    box: ringBounds(i.part.outline.ring),
    contours: wantedContours(i.part, top),
    mating: matingEdges(joints, i.part.id),
  }));
  type Entry = (typeof entries)[number];
  const nearestContour = (e: Entry, p: Point) => {
    let best: { contour: WantedContour; tag: string | undefined; gap: number } | undefined;
    for (const contour of e.contours)
      for (const s of contour.segments) {
        const gap = pointSegmentDistance(s, p);
        if (best === undefined || gap < best.gap) best = { contour, tag: s.tag, gap };
      }
    return best!;
  };
  const nearestJoint = (e: Entry, p: Point): { joint: string; gap: number } | undefined => {
    let best: { joint: string; gap: number } | undefined;
    for (const [tag, names] of e.mating)
      for (const s of edgeSegments(e.part, tag)) {
        const gap = pointSegmentDistance(s, p);
        if (best === undefined || gap < best.gap) best = { joint: names[0]!, gap };
      }
    return best;
  };
  return {
    jointsOf: (part, tag) => entries.find((e) => e.part.id === part)?.mating.get(tag) ?? [],
    at(p, known = {}) {
      const around = { minX: p.x, minY: p.y, maxX: p.x, maxY: p.y };
      const asked = entries.filter((e) =>
        known.item === undefined ? boxesMeet(e.box, around, 50) : e.item === known.item,
      );
      let entry: Entry | undefined;
      let near: ReturnType<typeof nearestContour> | undefined;
      for (const e of asked) {
        const n = nearestContour(e, p);
        if (near === undefined || n.gap < near.gap) [entry, near] = [e, n];
      }
      if (entry === undefined || near === undefined) return {};
      const feature = known.contour ?? near.contour.id;
      const tag = known.tag ?? near.tag;
      const own = tag === undefined ? undefined : entry.mating.get(tag)?.[0];
      if (own !== undefined) return { part: entry.item, feature, joint: own, jointDistance: 0 };
      const other = nearestJoint(entry, p);
      return {
        part: entry.item,
        feature,
        ...(other ? { joint: other.joint, jointDistance: Math.round(other.gap * 1000) / 1000 } : {}),
      };
    },
  };
}
