import type { Ring } from '@haunch/geometry';
import type { NestingItem } from '@haunch/model';

const NONE: readonly Ring[] = [];

const sameRing = (a: Ring, b: Ring): boolean =>
  a === b ||
  (a.vertices.length === b.vertices.length &&
    a.vertices.every((v, i) => {
      const w = b.vertices[i]!;
      return v.x === w.x && v.y === w.y && v.bulge === w.bulge;
    }));

const sameLook = (a: NestingItem, b: NestingItem): boolean => {
  const [p, q] = [a.holes ?? NONE, b.holes ?? NONE];
  return sameRing(a.outline, b.outline) && p.length === q.length && p.every((h, i) => sameRing(h, q[i]!));
};

/** Numbers items so that those whose outlines and holes are written alike have the same number. */
export function numberOutlines(): (item: NestingItem) => number {
  const alike = new Map<number, { readonly item: NestingItem; readonly number: number }[]>();
  let count = 0;
  return (item) => {
    // Outlines are compared only where this sum is the same.
    const sum = item.outline.vertices.reduce((s, v) => s + v.x + 3 * v.y + v.bulge, 0);
    const bucket = alike.get(sum) ?? [];
    alike.set(sum, bucket);
    const before = bucket.find((b) => sameLook(b.item, item));
    if (before) return before.number;
    bucket.push({ item, number: count });
    return count++;
  };
}
