import { type Loop, loopEntity } from './loop.js';
import { type Nesting, nestLoops } from './nest-loops.js';

/** What a layer's ending says of the curves on it. */
export type LayerRole = 'pocket' | 'hole' | 'under' | 'name' | null;

/** Splits `EL.pocket` into the part's layer and the role of what is on it. */
export function layerRole(layer: string): { readonly base: string; readonly role: LayerRole } {
  const m = /^(.+)\.(pocket|hole|under|name)$/i.exec(layer);
  return m === null ? { base: layer, role: null } : { base: m[1]!, role: m[2]!.toLowerCase() as LayerRole };
}

/** Loops that are nested among each other, apart from the others. */
export interface LoopGroup {
  readonly loops: readonly Loop[];
  readonly nesting: Nesting;
}

const groupBy = (loops: readonly Loop[]): ReadonlyMap<string, Loop[]> => {
  const out = new Map<string, Loop[]>();
  for (const l of loops) {
    const list = out.get(l.layer);
    if (list === undefined) out.set(l.layer, [l]);
    else list.push(l);
  }
  return out;
};

/**
 * Decides whether all contours are nested together, or those of each layer by themselves. The latter where
 * every layer bounds exactly one plate (it alone carries a thickness), or where contours of different layers
 * cover each other as they do when all parts are drawn at one place.
 */
export function groupLoops(loops: readonly Loop[]): {
  readonly groups: readonly LoopGroup[];
  readonly byLayer: 'one plate each' | 'covering' | null;
} {
  const pooled: LoopGroup = { loops, nesting: nestLoops(loops) };
  const layers = groupBy(loops);
  if (layers.size < 2) return { groups: [pooled], byLayer: null };
  const alone = [...layers.values()].map((own) => ({ loops: own, nesting: nestLoops(own) }));
  const oneOutline = alone.every((g) => g.nesting.depth.filter((d) => d === 0).length === 1);
  const oneThick = alone.every((g) => g.loops.filter((l) => l.depth > 0 && l.elevation >= 0).length === 1);
  const covering = new Set<string>();
  for (const { a, b } of pooled.nesting.across) {
    const [p, q] = [loops[a]!.layer, loops[b]!.layer];
    if (p !== q) covering.add(p).add(q);
  }
  const stacked =
    covering.size > 0 && (oneOutline || (layers.size >= 4 && covering.size * 4 >= layers.size * 3));
  if (oneOutline && oneThick) return { groups: alone, byLayer: 'one plate each' };
  if (stacked) return { groups: alone, byLayer: 'covering' };
  return { groups: [pooled], byLayer: null };
}

/** Whether a loop is a rectangle with its sides along the axes. */
function isUprightRectangle(l: Loop): boolean {
  const b = l.bounds;
  return (
    Math.abs(l.area - (b.maxX - b.minX) * (b.maxY - b.minY)) <= 1e-6 * l.area && l.ring.vertices.length >= 4
  );
}

/**
 * The group without borders of sheets: rectangles round at least two contours that hold contours themselves, so
 * that they cannot be plates with plain cuts in them. A border may lie in a frame that is one as well.
 */
export function withoutBorders(
  group: LoopGroup,
  leaveOut: (border: Loop, group: LoopGroup) => boolean,
): LoopGroup {
  const asked = new Set<Loop>();
  for (let now = group; ; ) {
    const { depth, parent } = now.nesting;
    const holds = new Set(parent);
    const full = new Map<number, number>();
    parent.forEach((p, j) => {
      if (holds.has(j)) full.set(p, (full.get(p) ?? 0) + 1);
    });
    const borders = depth.flatMap((d, i) => {
      const l = now.loops[i]!;
      return d === 0 && (full.get(i) ?? 0) >= 2 && isUprightRectangle(l) && !asked.has(l) ? [l] : [];
    });
    if (borders.length === 0) return now;
    for (const b of borders) asked.add(b);
    const gone = new Set(borders.filter((b) => leaveOut(b, now)));
    const loops = now.loops.filter((l) => !gone.has(l));
    now = { loops, nesting: nestLoops(loops) };
  }
}

export const firstLine = (l: Loop): number => loopEntity(l).line;
