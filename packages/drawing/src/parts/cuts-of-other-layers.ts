import type { Diagnostic } from '@haunch/model';
import { cutThrough } from './diagnostics.js';
import type { Plate } from './find-plates.js';
import type { AppliedRule } from './layer-rules.js';
import { type Loop, loopEntity } from './loop.js';
import { firstLine } from './part-layers.js';

/** So many layers are named. */
const LISTED = 10;
/** What nobody put on a layer lies on this one (DXF reference, table of layers). */
const NO_LAYER = '0';

/**
 * Says of which layers curves are cut through although neither a rule nor the layer of the part says so: somebody put
 * them on a layer of their own, and perhaps meant a recess, a mark or something to be engraved.
 */
export function cutsOfOtherLayers(
  plates: readonly Plate[],
  rules: ReadonlyMap<string, AppliedRule>,
  file: string,
): Diagnostic[] {
  const silent = new Set([NO_LAYER, ...plates.map((p) => p.outline.layer)]);
  const byLayer = new Map<string, Loop[]>();
  for (const { outline, cuts } of plates)
    for (const cut of cuts) {
      if (cut.layer === outline.layer || silent.has(cut.layer) || rules.has(cut.layer)) continue;
      const list = byLayer.get(cut.layer);
      if (list === undefined) byLayer.set(cut.layer, [cut]);
      else list.push(cut);
    }
  return [...byLayer.entries()]
    .map(([layer, cuts]) => ({ layer, cuts: cuts.sort((a, b) => firstLine(a) - firstLine(b)) }))
    .sort((a, b) => firstLine(a.cuts[0]!) - firstLine(b.cuts[0]!) || (a.layer < b.layer ? -1 : 1))
    .slice(0, LISTED)
    .map(({ layer, cuts }) =>
      cutThrough(
        file,
        { count: cuts.length, first: loopEntity(cuts[0]!) },
        cuts[0]!.ring.vertices[0]!,
        layer,
        soundsLikeRecess(layer),
      ),
    );
}

/** Words for recesses, and depths, in layer names. Common practice, no source. */
const RECESS =
  /pocket|groove|dado|rabbet|rebate|housing|recess|trench|tasche|(?:^|[^a-z])nut(?:$|[^a-z])|falz|rainure|feuillure|\d ?mm/i;
const soundsLikeRecess = (layer: string): boolean => RECESS.test(layer);
