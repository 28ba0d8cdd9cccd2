import { loadClip } from '@haunch/geometry';
import { describe, expect, it } from 'vitest';
import { proveProgram } from '../src/index.js';
import { board, contour, holding, inputFor, plate, router, tagged, text } from './plate.js';

const clip = await loadClip();
const R = router.diameter / 2;
const SKIN = { ...holding, skin: { thickness: 0.5 } };

/** A bare plate of this size at (x, 50). */
const part = (id: string, x: number, w: number, h: number) => {
  const outline = contour(id, tagged(id, x, 50, x + w, 50 + h));
  return { ...plate, id, name: id, outline, through: [], pockets: [], holes: [] };
};
const SMALL = part('S', 40, 50, 60);
const LARGE = part('L', 115, 70, 90);

/** Down a slope beside the left edge, once round at `z`, and up. */
function round({ outline }: typeof SMALL, from: number, z: number): string[] {
  const [a, , c] = outline.ring.vertices;
  const [x0, y0, x1, y1] = [a!.x - R, a!.y - R, c!.x + R, c!.y + R];
  return [
    `G0 X${x0} Y${y0}`,
    `G1 Z${from} F2000`,
    `G1 Y${y0 + 40} Z${z} F1000`,
    `G1 Y${y1} F2000`,
    `G1 X${x1}`,
    `G1 Y${y0}`,
    `G1 X${x0}`,
    `G1 Y${y0 + 42}`,
    'G1 Z28 F3000',
  ];
}

const PASSES = [18, 15, 12, 9, 6, 3, 0.5];
const toSkin = (p: typeof SMALL) => PASSES.slice(1).flatMap((z, i) => round(p, PASSES[i]!, z));
const free = (p: typeof SMALL) => round(p, 0.5, -0.3);

function rulesOf(...steps: readonly (readonly string[])[]) {
  const program = ['G21 G90 G17 G94', 'T1 M6', 'S18000 M3', 'G4 P3', 'G0 Z28', ...steps.flat(), 'M5', 'M2'];
  const items = [SMALL, LARGE].map((p) => ({ item: p.id, piece: 1, part: p }));
  const out = proveProgram(
    inputFor(clip, text(program), { items, joints: [], holding: SKIN, board, cutters: [router] }),
  );
  if (!out.ok) throw new Error(out.diagnostics.map((d) => d.message).join('; '));
  const found = out.value.proof.rules.filter((r) => r.verdict === 'fail');
  return found.map((r) => `${r.rule} ${r.findings[0]!.message}`);
}

describe('pieces held by a skin', () => {
  it('pass when all is cut down to the skin, and the smallest is freed first', () => {
    expect(rulesOf(toSkin(SMALL), toSkin(LARGE), free(SMALL), free(LARGE))).toEqual([]);
  });

  it('are refused when a larger one goes first, or when more than skins is cut after one has gone', () => {
    expect(rulesOf(toSkin(SMALL), toSkin(LARGE), free(LARGE), free(SMALL))[0]).toMatch(
      /^P11 S is freed after L/,
    );
    expect(rulesOf(toSkin(SMALL), free(SMALL), toSkin(LARGE), free(LARGE))[0]).toMatch(
      /^P11 More than the skin is cut here after S/,
    );
  });

  it('are refused when one is not freed at all', () => {
    expect(rulesOf(toSkin(SMALL), toSkin(LARGE), free(SMALL)).join()).toContain('P09 L of L is not cut');
  });
});
