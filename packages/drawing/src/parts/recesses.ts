import { snap } from '@haunch/geometry';
import type { Diagnostic, Face } from '@haunch/model';
import { pocketWithoutDepth } from './diagnostics.js';
import type { AppliedRule } from './layer-rules.js';
import { type Loop, loopEntity } from './loop.js';
import { lieOfLoop } from './nest-loops.js';
import { layerRole } from './part-layers.js';

/** A closed curve that bounds a recess or a blind hole instead of cutting through. Depth mm. */
export interface Recess {
  readonly loop: Loop;
  /** The layer of the part that it belongs to, where its own layer says so. */
  readonly base: string | null;
  readonly face: Face;
  readonly depth: number;
  /** The layer that said so, or null where the elevation below 0 did: for the note. */
  readonly saidBy: string | null;
}

/** Parts the loops that cut through from the recesses; a recess whose depth is stated nowhere is an error. */
export function partRecesses(
  loops: readonly Loop[],
  rules: ReadonlyMap<string, AppliedRule>,
  file: string,
): {
  readonly flat: readonly Loop[];
  readonly recesses: readonly Recess[];
  readonly diagnostics: readonly Diagnostic[];
} {
  const flat: Loop[] = [];
  const recesses: Recess[] = [];
  const diagnostics: Diagnostic[] = [];
  for (const loop of loops) {
    const rule = rules.get(loop.layer)?.rule;
    if (rule?.as === 'cut') {
      flat.push(loop);
      continue;
    }
    if (rule?.as === 'pocket' || rule?.as === 'hole') {
      const depth = snap(rule.depth);
      recesses.push({ loop, base: null, face: rule.face ?? 'n+', depth, saidBy: loop.layer });
      continue;
    }
    const { base, role } = layerRole(loop.layer);
    if (role === null && loop.elevation >= 0) {
      flat.push(loop);
      continue;
    }
    const depth = snap(loop.elevation < 0 ? -loop.elevation : Math.abs(loop.depth));
    if (depth === 0) diagnostics.push(pocketWithoutDepth(file, loopEntity(loop), loop.layer));
    else
      recesses.push({
        loop,
        base: role === null ? null : base,
        face: role === 'under' ? 'n-' : 'n+',
        depth,
        saidBy: loop.elevation < 0 ? null : loop.layer,
      });
  }
  return { flat, recesses, diagnostics };
}

/** Which outline a recess belongs to: that of its layer, else the smallest that holds it; −1 for none. */
export function ownerOf(recess: Recess, outlines: readonly Loop[]): number {
  const named = outlines.flatMap((o, i) => (recess.base !== null && o.layer === recess.base ? [i] : []));
  if (named.length === 1) return named[0]!;
  const among = (named.length > 0 ? named : outlines.map((_, i) => i)).sort(
    (a, b) => outlines[a]!.area - outlines[b]!.area || a - b,
  );
  const lies = among.map((i) => ({ i, lie: lieOfLoop(recess.loop, outlines[i]!).lie }));
  return (lies.find((l) => l.lie === 'inside') ?? lies.find((l) => l.lie === 'across'))?.i ?? -1;
}
