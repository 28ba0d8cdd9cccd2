import { expect, it } from 'vitest';
import { defaultAllowances, findJoints } from '../src/index.js';
import { demo } from './demo.js';

it('x', () => {
  const t0 = performance.now();
  const j = findJoints(demo, defaultAllowances('snug'));
  console.log(performance.now() - t0);
  if (!j.ok) throw new Error(JSON.stringify(j.diagnostics));
  const fits = j.value.joints.flatMap((x) => x.fits);
  for (const f of fits)
    console.log(f.id, f.walls.join(' '), f.enteringPart, f.enteringEdges.join(' '), f.wanted);
  for (const k of ['thickness', 'ends', 'seat'])
    console.log(
      k,
      [1, 2].map((n) => fits.filter((f) => f.kind === k && f.walls.length === n).length),
    );
  expect(j.value.joints.length).toBe(23);
});
