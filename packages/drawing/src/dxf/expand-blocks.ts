import type { Point } from '@haunch/geometry';
import type { Diagnostic } from '@haunch/model';
import { blockMissing, blockRecursion, dxfLimit, outOfReach } from '../diagnostics.js';
import type { Entity } from '../drawing.js';
import { composeHeights, mapEntity, type PlaneMap, withinReach } from '../entity-map.js';
import { compose, isFiniteMap, translation } from '../svg-read/affine.js';
import type { DrawnSpace } from './drawn-space.js';
import { plainName } from './plain-text.js';
import type { BlockReference } from './raw-entity.js';
import { LARGEST } from './tags.js';

/** A block: what is drawn in it and the point of it that is put in place. */
export interface Block {
  readonly name: string;
  readonly base: Point & { readonly z: number };
  /** Whether its contents are in another file. */
  readonly external: boolean;
  readonly space: DrawnSpace;
}

/** Block names are the same in capitals and small letters. */
export const blockKey = (name: string): string => name.toUpperCase();

/** Blocks inside blocks may go this deep. */
export const MOST_NESTING = 16;
/**
 * So many entities may come out of the blocks of a file of this many bytes, and so many places may be visited: a
 * small file that repeats without end is refused within a second, a large one may hold what it needs.
 */
export const mostFromBlocks = (bytes: number): number => 50_000 + 20_000 * Math.floor(bytes / 2 ** 20);

/** Thrown inside to leave all nesting at once; never leaves this file. */
class Enough extends Error {}

interface Place {
  readonly map: PlaneMap;
  /** The layer that stands for layer 0. */
  readonly layer: string;
  readonly hiddenBy: string | null;
  /** Blocks that are open, from the outside. */
  readonly open: readonly string[];
}

/**
 * The entities of a space with all block references replaced by what they stand for, in drawing order. Layer 0 of
 * a block is the layer of its reference, and a reference on a frozen layer hides all of it. Each block says what
 * it has to say when it is first used. A block in itself, or too much of everything, is an error.
 */
export function expandBlocks(
  space: DrawnSpace,
  blocks: ReadonlyMap<string, Block>,
  frozen: ReadonlySet<string>,
  file: string,
  most: number,
): Entity[] {
  const out: Entity[] = [];
  const used = new Set<Block>();
  const missing = new Map<string, { count: number; first: Diagnostic['locus']; external: boolean }>();
  let produced = 0;
  let visited = 0;
  let far = false;

  const stop = (d: Diagnostic): never => {
    space.report(d);
    throw new Enough();
  };
  const put = (e: Entity, at: Place): void => {
    for (const mapped of mapEntity(at.map, e)) {
      if (++produced > most)
        stop(dxfLimit(file, e, `blocks are repeated until there are more than ${most} entities`));
      if (!withinReach(mapped, LARGEST)) {
        if (!far) space.report(outOfReach(file, e));
        far = true;
        continue;
      }
      out.push({
        ...mapped,
        ...(mapped.layer === '0' ? { layer: at.layer } : {}),
        ...(at.hiddenBy === null ? {} : { hiddenBy: at.hiddenBy }),
      });
    }
  };
  const expand = (r: BlockReference, outer: Place | null): void => {
    const ref = r.place;
    const layer = outer !== null && ref.layer === '0' ? outer.layer : ref.layer;
    const hiddenBy = outer?.hiddenBy ?? (frozen.has(layer.toUpperCase()) ? layer : null);
    const around: PlaneMap = outer?.map ?? { flat: translation(0, 0), rise: 1, lift: 0 };
    const open = outer?.open ?? [];
    for (const a of r.attributes) {
      if (outer === null) out.push(a.layer === '0' ? { ...a, layer } : a);
      else put(a, { ...outer, layer });
    }
    const key = blockKey(r.block);
    const block = blocks.get(key);
    if (block === undefined || block.external) {
      const known = missing.get(key);
      if (known !== undefined) known.count++;
      else missing.set(key, { count: 1, first: { line: ref.line }, external: block !== undefined });
      return;
    }
    if (open.includes(key)) stop(blockRecursion(file, ref, plainName(block.name)));
    if (open.length >= MOST_NESTING)
      stop(dxfLimit(file, ref, `blocks are nested more than ${MOST_NESTING} deep`));
    if (!used.has(block)) {
      used.add(block);
      space.takeOver(block.space);
    }
    if (block.space.items.length === 0) return;
    for (let k = 0; k < r.count; k++) {
      if (++visited > most) stop(dxfLimit(file, ref, `blocks are put in place more than ${most} times`));
      const own = r.mapOf(k);
      const flat = compose(around.flat, compose(own.flat, translation(-block.base.x, -block.base.y)));
      if (!isFiniteMap(flat)) {
        if (!far) space.report(outOfReach(file, ref));
        far = true;
        return;
      }
      const heights = composeHeights(around, { ...own, lift: own.lift - own.rise * block.base.z });
      const inner: Place = { map: { flat, ...heights }, layer, hiddenBy, open: [...open, key] };
      for (const item of block.space.items)
        if (item.kind === 'insert') expand(item, inner);
        else put(item, inner);
    }
  };

  try {
    for (const item of space.items)
      if (item.kind === 'insert') expand(item, null);
      else out.push(item);
  } catch (e) {
    if (!(e instanceof Enough)) throw e;
  }
  for (const [key, m] of missing) {
    const name = plainName(blocks.get(key)?.name ?? key);
    space.report(blockMissing(file, name, m.count, m.first.line ?? 1, m.external));
  }
  return out;
}
