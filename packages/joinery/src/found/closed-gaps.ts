import { type Point, snap } from '@haunch/geometry';
import type { MasterLoop, MasterPart } from '@haunch/model';
import { edgesOf, loopWithEdges } from '../loop.js';
import { arrisBefore } from '../marks/leaning-bounds.js';
import { moveEdges } from '../move-edges.js';
import { outlineId } from '../parts-of-master.js';
import { type Plate, type PlateEdge, plateOf } from '../plate.js';
import { type NearContact, nearContacts } from './near-contacts.js';
import { NEAR, settledPlates } from './settle-plates.js';

/** Gaps below this are none, mm. */
const CLOSED = 5e-4;
/** Edges that hold each other across a corner are settled in so many rounds at the most. */
const ROUNDS = 6;

/** Parts without the clearance that was drawn in them, and how much of it there was, mm from wall to face. */
export interface ClosedGaps {
  readonly parts: readonly MasterPart[];
  /** The least and the greatest gap that was closed, for each pair of the list that had any. */
  readonly closed: readonly {
    readonly pair: readonly [number, number];
    readonly from: number;
    readonly to: number;
  }[];
}

/** How far each edge must go along its outward normal, by tag. */
function wishesOf(
  contacts: readonly NearContact[],
  leaning: ReturnType<typeof leaningWishes>,
): Map<string, number[]> {
  const out = new Map<string, number[]>();
  const wish = (edge: PlateEdge, by: number): void =>
    void out.set(edge.tag, [...(out.get(edge.tag) ?? []), by]);
  for (const c of contacts) {
    if (Math.abs(c.gap) <= CLOSED) continue;
    if ('side' in c.on) {
      wish(c.edge, c.gap);
      continue;
    }
    // Of two edges that of a cut moves, which is where clearance is drawn; of two outlines' each by half.
    const cut = (e: PlateEdge): boolean => !e.contour.endsWith('.outline');
    const [mine, theirs] = [cut(c.edge), cut(c.on.edge)];
    if (mine === theirs) {
      wish(c.edge, c.gap / 2);
      wish(c.on.edge, c.gap / 2);
    } else wish(mine ? c.edge : c.on.edge, c.gap);
  }
  for (const { edge, by } of leaning) if (Math.abs(by) > CLOSED) wish(edge, by);
  return out;
}

/** Edges of one plate that lean against a side of the other and are near to it, and how far each must go. */
const leaningWishes = (a: Plate, b: Plate): { readonly edge: PlateEdge; readonly by: number }[] =>
  [[a, b] as const, [b, a] as const].flatMap(([own, other]) =>
    own.edges.flatMap((edge) =>
      [...other.faces, ...other.floors].flatMap((side) => {
        const by = arrisBefore(own, edge, other, side)?.by;
        return by === undefined || Math.abs(by) > NEAR ? [] : [{ edge, by }];
      }),
    ),
  );

const onGrid = (l: MasterLoop): MasterLoop => {
  const at = ([x, y]: readonly [number, number]): [number, number] => [snap(x), snap(y)];
  return {
    start: at(l.start),
    segments: l.segments.map((s) => ({
      ...s,
      to: at(s.to),
      ...(s.centre === undefined ? {} : { centre: at(s.centre) }),
    })),
  };
};

function movedPart(part: MasterPart, wishes: ReadonlyMap<string, readonly number[]>): MasterPart {
  const plate = plateOf(part);
  const outward = new Map(plate.edges.map((e) => [e.tag, e.outward]));
  const loop = (id: string, l: MasterLoop): MasterLoop => {
    const by = l.segments.map((_, k): Point => {
      const own = wishes.get(`${id}/e${k}`);
      const n = outward.get(`${id}/e${k}`);
      if (!own || !n) return { x: 0, y: 0 };
      // Where two plates lie against one edge the nearer one decides: nothing may overlap.
      const least = own.reduce((a, b) => (Math.abs(b) < Math.abs(a) ? b : a));
      return { x: n.x * least, y: n.y * least };
    });
    const moved = moveEdges(edgesOf(l), by, { part: part.id, feature: id });
    return moved.problems.length > 0 ? l : onGrid(loopWithEdges(l, moved.edges));
  };
  return {
    ...part,
    outline: loop(outlineId(part.id), part.outline),
    through: part.through.map((c) => ({ ...c, loop: loop(c.id, c.loop) })),
    pockets: part.pockets.map((c) => ({ ...c, loop: loop(c.id, c.loop) })),
  };
}

/**
 * Parts settled against each other, with every wall, end, seat and shoulder moved onto what it is near to (within 0.8 mm):
 * the clearance that was drawn is taken out, as a master is drawn without any. Edges alone move, outlines of what
 * enters keep their walls. mm; guarantees that parts without clearance are moved in their frames alone.
 */
export function closedGaps(
  parts: readonly MasterPart[],
  pairs: readonly (readonly [number, number])[],
): ClosedGaps {
  let now = settledPlates(parts, pairs);
  const closed = new Map<string, { pair: readonly [number, number]; from: number; to: number }>();
  for (let round = 0; round < ROUNDS; round++) {
    const plates = now.map(plateOf);
    const leaning: { readonly edge: PlateEdge; readonly by: number }[] = [];
    const all = pairs.flatMap((pair) => {
      const lean = leaningWishes(plates[pair[0]]!, plates[pair[1]]!);
      leaning.push(...lean);
      const near = nearContacts(plates[pair[0]]!, plates[pair[1]]!, NEAR);
      const gaps = [...near.map((c) => c.gap), ...lean.map((c) => c.by)].filter((g) => Math.abs(g) > CLOSED);
      if (round === 0 && gaps.length > 0)
        closed.set(pair.join(), { pair, from: Math.min(...gaps), to: Math.max(...gaps) });
      return near;
    });
    const wishes = wishesOf(all, leaning);
    if (wishes.size === 0) break;
    now = settledPlates(
      now.map((p) => movedPart(p, wishes)),
      pairs,
    );
  }
  return { parts: now, closed: [...closed.values()] };
}
