import { moveRing } from '@haunch/geometry';
import type { Layout, NestingInstance } from '@haunch/model';
import { type ExactPolygon, exactlyOverlap } from './exact-overlap.js';

const STEP = 10_000;
const whole = (v: number): bigint => BigInt(Math.round(v * STEP));

/** A straight-edged item where it lies, in whole steps of 0.0001 mm, counter-clockwise. */
function placed(instance: NestingInstance, layout: Layout, k: number): ExactPolygon {
  const p = layout.placements[k]!;
  const { vertices } = moveRing(p.motion, instance.items.find((i) => i.id === p.item)!.outline);
  return vertices.map((v) => [whole(v.x), whole(v.y)] as const);
}

/** The pairs of items on one board whose insides meet; for outlines of straight edges on the grid, without spacing. */
export function exactOverlaps(instance: NestingInstance, layout: Layout): string[] {
  const all = layout.placements.map((_, k) => placed(instance, layout, k));
  const boxes = all.map((p) => {
    const xs = p.map(([x]) => Number(x));
    const ys = p.map(([, y]) => Number(y));
    return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)] as const;
  });
  const out: string[] = [];
  for (let i = 0; i < all.length; i++)
    for (let j = i + 1; j < all.length; j++) {
      const [a, b] = [boxes[i]!, boxes[j]!];
      if (layout.placements[i]!.board !== layout.placements[j]!.board) continue;
      if (a[2] <= b[0] || b[2] <= a[0] || a[3] <= b[1] || b[3] <= a[1]) continue;
      if (exactlyOverlap(all[i]!, all[j]!))
        out.push(`${layout.placements[i]!.item} and ${layout.placements[j]!.item}`);
    }
  return out;
}
