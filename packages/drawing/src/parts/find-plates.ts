import { type Account, refOf } from './account.js';
import { byLayerRead, crossingCurves, sheetBorder } from './diagnostics.js';
import { type Loop, loopEntity } from './loop.js';
import { withoutDoubledLoops } from './near-doubles.js';
import { nestLoops } from './nest-loops.js';
import { firstLine, groupLoops, type LoopGroup, withoutBorders } from './part-layers.js';

/** An outline with the loops cut out of it. */
export interface Plate {
  readonly outline: Loop;
  readonly cuts: readonly Loop[];
  /** How many contours the outline lies in: more than 0 for an island in a cut of another part. */
  readonly depth: number;
}

const LISTED = 10;
/** So many crossings are remembered with what crosses there. */
const REMEMBERED = 1000;

/** Outlines with their cuts, in the order in which parts are listed, but for those that cross others. */
export function findPlates(flat: readonly Loop[], account: Account): Plate[] {
  const { file, diagnostics } = account;
  const { groups, byLayer } = groupLoops(flat);
  if (byLayer === 'covering') diagnostics.push(byLayerRead(file, groups.length));
  const plates: Plate[] = [];
  for (const g of groups) {
    const group = withoutBorders(
      byLayer !== null ? g : withoutCopies(g, account),
      (border, { loops, nesting }) => {
        const own = loops.indexOf(border);
        const inside = nesting.parent.filter((p) => p === own).length;
        const mended = account.book.mend('border', border.ring.vertices[0]!, border.entities, 0, () => ({
          before: [{ vertices: border.ring.vertices, closed: true }],
          after: [],
        }));
        if (mended) diagnostics.push(sheetBorder(file, loopEntity(border), inside));
        return mended;
      },
    );
    group.nesting.across.forEach(({ a, b, at }, k) => {
      const [p, q] = [group.loops[a]!, group.loops[b]!];
      if (k < LISTED) diagnostics.push(crossingCurves(file, loopEntity(p), firstLine(q), at));
      if (k >= REMEMBERED) return;
      account.unclear.push({
        code: 'read/crossing-curves',
        at,
        entities: [...p.entities, ...q.entities].map(refOf),
        strokes: [p, q].map((l) => ({ vertices: l.ring.vertices, closed: true })),
      });
    });
    // What crosses another is no part that anybody understands, nor is one whose cut does.
    const tangled = new Set(group.nesting.across.flatMap(({ a, b }) => [group.loops[a]!, group.loops[b]!]));
    const cutsOf = new Map<number, Loop[]>();
    group.nesting.parent.forEach((p, j) => {
      if (p < 0 || group.nesting.depth[j] !== group.nesting.depth[p]! + 1) return;
      const list = cutsOf.get(p);
      if (list === undefined) cutsOf.set(p, [group.loops[j]!]);
      else list.push(group.loops[j]!);
    });
    group.nesting.depth.forEach((depth, i) => {
      if (depth % 2 !== 0) return;
      const cuts = [...(cutsOf.get(i) ?? [])].sort((p, q) => firstLine(p) - firstLine(q));
      const outline = group.loops[i]!;
      if (![outline, ...cuts].some((l) => tangled.has(l))) plates.push({ outline, cuts, depth });
    });
  }
  const ownLayers = new Set(plates.map((p) => p.outline.layer)).size === plates.length;
  return plates.sort(
    (p, q) =>
      (ownLayers
        ? 0
        : q.outline.bounds.maxY - p.outline.bounds.maxY || p.outline.bounds.minX - q.outline.bounds.minX) ||
      firstLine(p.outline) - firstLine(q.outline),
  );
}

/** A group without curves that stand on a second layer as well. */
function withoutCopies(g: LoopGroup, account: Account): LoopGroup {
  const loops = withoutDoubledLoops(g.loops, () => true, account.book);
  return loops.length === g.loops.length ? g : { loops, nesting: nestLoops(loops) };
}
