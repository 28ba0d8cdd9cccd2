import { distance, type Point, ringSegments } from '@haunch/geometry';
import type { Part } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import {
  findThickness,
  partsOfMaster,
  recogniseFeatures,
  refitByFeatures,
  refitMaster,
} from '../src/index.js';
import { all, demo, valueIn } from './demo.js';

/** The distance between the lines of two tagged edges of a part, measured afresh on its contours. */
function apart(p: Part, a: string, b: string): number {
  const segments = [p.outline, ...p.through, ...p.pockets].flatMap((c) => ringSegments(c.ring));
  const of = (tag: string) => segments.find((s) => s.tag === tag)!;
  const [s, t] = [of(a), of(b)];
  const l = distance(s.from, s.to);
  const n: Point = { x: -(s.to.y - s.from.y) / l, y: (s.to.x - s.from.x) / l };
  return Math.abs((t.from.x - s.from.x) * n.x + (t.from.y - s.from.y) * n.y);
}

describe('recognition beside marks, on the sideboard', () => {
  const parts = partsOfMaster(demo);
  const table = valueIn(recogniseFeatures(parts, { thicknesses: [18] }));

  it('is found to be 18 mm', () => {
    expect(findThickness(parts)).toMatchObject({ verdict: 'likely', value: 18 });
  });

  it.each([16.2, 17.4, 18.6, 19.05])('agrees on every slot width and tenon length at %f mm', (t) => {
    const marks = partsOfMaster(valueIn(refitMaster(demo, { thicknesses: all(demo, t) })));
    const bare = valueIn(refitByFeatures(parts, table, t)).parts;
    const following = table.features.filter((f) => f.follows);
    expect(following.length).toBeGreaterThan(40);
    const differ = following.flatMap((f) => {
      const [p, q] = [marks, bare].map((list) => list.find((x) => x.id === f.part)!);
      return f.sides[0].flatMap((a) =>
        f.sides[1].flatMap((b) => {
          const [byMarks, byFeatures] = [apart(p!, a, b), apart(q!, a, b)];
          return Math.abs(byMarks - byFeatures) <= 2e-4
            ? []
            : [`${f.id} ${a} ${b}: ${byMarks} ${byFeatures}`];
        }),
      );
    });
    expect(differ).toEqual([]);
  });

  it('recognises every slot and housing that the master names in its mates', () => {
    const named = new Set(demo.mates.flatMap((m) => m.slotFeatures));
    const through = demo.parts.flatMap((p) => [...p.through, ...p.pockets].map((c) => c.id));
    const wanted = through.filter((id) => named.has(id)).sort();
    const found = table.features
      .filter((f) => f.kind === 'slot' || f.kind === 'housing')
      .map((f) => f.contour);
    expect(wanted.length).toBeGreaterThan(10);
    expect(wanted.filter((id) => !found.includes(id))).toEqual([]);
  });
});
