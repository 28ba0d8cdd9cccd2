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
 * The group without a border of the sheet: a rectangle round at least two contours that hold contours
 * themselves, so that it cannot be a plate with plain cuts in it.
 */
export function withoutBorder(group: LoopGroup): { readonly group: LoopGroup; readonly border: Loop | null } {
  const { depth, parent } = group.nesting;
  const outer = depth.flatMap((d, i) => (d === 0 ? [i] : []));
  const border = outer.find((i) => {
    if (!isUprightRectangle(group.loops[i]!)) return false;
    const within = parent.flatMap((p, j) => (p === i ? [j] : []));
    return within.filter((j) => parent.includes(j)).length >= 2;
  });
  if (border === undefined) return { group, border: null };
  const loops = group.loops.filter((_, i) => i !== border);
  return { group: { loops, nesting: nestLoops(loops) }, border: group.loops[border]! };
}

export const firstLine = (l: Loop): number => loopEntity(l).line;
