import type { Master } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { dryAssemble } from '../src/index.js';
import { copy, demo, type Spoilable } from './demo.js';
import { span } from './dryfit-zoo.js';

// Every closed slot and housing of the sideboard that a joint names, each spoiled alone: whatever twins it has, it is named.

interface Wall {
  readonly part: string;
  readonly feature: string;
  readonly axis: 0 | 1;
  readonly end: 0 | 1;
}

const named = new Set(demo.mates.flatMap((m) => m.slotFeatures));
const WALLS: readonly Wall[] = demo.parts.flatMap((p) =>
  [...p.through, ...p.pockets]
    .filter((c) => named.has(c.id))
    .flatMap((c) =>
      ([0, 1] as const).flatMap((axis) =>
        ([0, 1] as const).map((end): Wall => ({ part: p.id, feature: c.id, axis, end })),
      ),
    ),
);

/** The sideboard with one wall moved into (below 0) or out of its slot. */
function withWall({ part, feature, axis, end }: Wall, outward: number): Master {
  const m = copy(demo) as Spoilable<Master>;
  const p = m.parts.find((x) => x.id === part)!;
  const { loop } = [...p.through, ...p.pockets].find((c) => c.id === feature)!;
  const at = span(demo, part, feature, axis)[end];
  for (const q of [loop.start, ...loop.segments.map((s) => s.to)])
    if (Math.abs(q[axis] - at) < 1e-6) q[axis] = at + (end === 1 ? outward : -outward);
  return m as Master;
}

const verdict = (m: Master): (string | undefined)[][] =>
  dryAssemble(m, { order: false }).diagnostics.map((d) => [d.code, d.locus.feature]);

describe('every wall of every slot', () => {
  it('is looked at: four of each', () => {
    // What a joint names in words, such as an edge notch, is an open place of the outline.
    expect(WALLS.length).toBe(4 * [...named].filter((f) => /^\S+\.\S+$/.test(f)).length);
    expect(WALLS.length).toBe(76);
  });

  // One wall of each slot in either axis, by turns, so that all are covered and the run stays short.
  it.each(
    WALLS.filter((w, i) => w.end === (Math.floor(i / 4) + w.axis) % 2).map(
      (w) => [`${w.feature} ${w.axis === 0 ? 'u' : 'v'}${w.end === 0 ? '−' : '+'}`, w] as const,
    ),
  )('%s: 0.1 in is narrow, 0.1 out is loose, and nothing else is said', (_, w) => {
    expect(verdict(withWall(w, -0.1))).toEqual([['dryfit/narrow', w.feature]]);
    expect(verdict(withWall(w, 0.1))).toEqual([['dryfit/loose', w.feature]]);
  });
});
