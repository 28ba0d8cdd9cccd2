import { expect, it } from 'vitest';
import {
  cornerRelief,
  inscribedWidth,
  offsetRing,
  rectangleRing,
  relieveRing,
  ringSegments,
} from '../src/index.js';

it('the example of the README prints what it says', () => {
  const slot = rectangleRing(0, 0, 80, 18);
  const radius = 6.35 / 2;
  expect(inscribedWidth(slot).toFixed(3)).toBe('18.000');
  const [south, east] = ringSegments(slot);
  const relief = cornerRelief({
    before: south!,
    after: east!,
    air: 'left',
    radius,
    surplus: 0.1,
    form: 'diagonal',
  });
  if ('problem' in relief) throw new Error(relief.problem);
  const relieved = relieveRing(slot, 'inside', [{ ...relief, tag: 'r0', corner: { x: 80, y: 0 } }]);
  if ('problem' in relieved) throw new Error(relieved.problem);
  expect(relieved.ring.vertices.length).toBe(5);
  const [path] = offsetRing(slot, { by: -radius });
  expect(path!.vertices.map(({ x, y }) => [x, y])).toEqual([
    [3.175, 3.175],
    [76.825, 3.175],
    [76.825, 14.825],
    [3.175, 14.825],
  ]);
});
