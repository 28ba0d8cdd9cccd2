import { pointInRing } from '@haunch/geometry';
import type { TextEntity } from '../drawing.js';
import type { Loop } from './loop.js';
import { layerRole } from './part-layers.js';

const lettering = (t: TextEntity): string => t.text.replace(/\s+/g, ' ').trim();

/**
 * The name of each outline: the text on its `.name` layer, else the largest text that begins inside it (and in
 * no smaller outline), the first in the file among equals. Null where there is none. `unused` names nothing.
 */
export function partNames(
  outlines: readonly Loop[],
  texts: readonly TextEntity[],
): { readonly names: readonly (string | null)[]; readonly unused: readonly TextEntity[] } {
  const layers = new Map<string, number>();
  for (const o of outlines) layers.set(o.layer, (layers.get(o.layer) ?? 0) + 1);
  const found: TextEntity[][] = outlines.map(() => []);
  const named = new Set<number>();
  const smallestFirst = outlines
    .map((_, i) => i)
    .sort((a, b) => outlines[a]!.area - outlines[b]!.area || a - b);
  for (const t of texts) {
    const { base, role } = layerRole(t.layer);
    const own = role === 'name' && layers.get(base) === 1 ? outlines.findIndex((o) => o.layer === base) : -1;
    if (own >= 0) {
      if (!named.has(own)) found[own] = [];
      named.add(own);
      found[own]!.push(t);
      continue;
    }
    const around = smallestFirst.find((i) => {
      const b = outlines[i]!.bounds;
      if (t.at.x < b.minX || t.at.x > b.maxX || t.at.y < b.minY || t.at.y > b.maxY) return false;
      return pointInRing(outlines[i]!.ring, t.at) !== 'outside';
    });
    if (around !== undefined && !named.has(around)) found[around]!.push(t);
  }
  const best = found.map((list) => [...list].sort((a, b) => b.height - a.height || a.line - b.line)[0]);
  const used = new Set(best);
  return {
    names: best.map((t) => (t === undefined ? null : lettering(t))),
    unused: texts.filter((t) => !used.has(t)),
  };
}
