import type { Point } from '@haunch/geometry';
import type { Cutter, Machine } from '@haunch/model';
import { depthPasses } from './depth-passes.js';
import type { Path } from './path.js';
import { BORE_FINISH } from './practice.js';
import type { Speeds } from './speeds.js';
import { descent, type Tracer, tracer } from './tracer.js';

/** Height to which a drill is drawn out of the hole to clear its chips, mm above the sheet. */
const CHIP_HEIGHT = 1;
/** Air left above the bottom of the last peck on the way back down, mm. */
const BACK_OFF = 0.5;

/** A hole pecked by a drill of its diameter: each step no deeper than a pass, chips drawn out between. */
export function drillHole(
  centre: Point,
  depth: number,
  cutter: Cutter,
  machine: Pick<Machine, 'clearance'>,
  speeds: Speeds,
): { readonly trace: Tracer; readonly depths: readonly number[] } {
  const { depths } = depthPasses(depth, { ...cutter, upCutLength: null });
  const t = tracer(centre, machine.clearance, speeds);
  depths.forEach((d, i) => {
    const bottom = i === 0 ? 0 : -depths[i - 1]!;
    const slow = Math.min(machine.clearance, bottom + (i === 0 ? CHIP_HEIGHT : BACK_OFF));
    if (i > 0) t.plunge(Math.min(machine.clearance, CHIP_HEIGHT), speeds.air);
    t.plunge(slow, speeds.air);
    t.plunge(-d, speeds.cut);
  });
  t.up();
  return { trace: t, depths };
}

const halfTurn = (from: Point, to: Point, ccw: boolean): Path[number] => ({
  kind: 'arc',
  from,
  to,
  centre: { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 },
  radius: Math.hypot(to.x - from.x, to.y - from.y) / 2,
  sweep: ccw ? Math.PI : -Math.PI,
});

/**
 * A hole no wider than two cutters, bored: a helix at the cutter's ramp angle a little inside the wall, which
 * reaches the middle, and at the bottom a half circle out to the wall, one full turn along it, and back.
 */
export function boreHole(
  centre: Point,
  diameter: number,
  depth: number,
  cutter: Cutter,
  machine: Pick<Machine, 'clearance'>,
  speeds: Speeds,
  ccw: boolean,
): { readonly trace: Tracer; readonly depths: readonly number[] } {
  const wall = (diameter - cutter.diameter) / 2;
  const inner = wall - Math.min(BORE_FINISH, wall * 0.15);
  const at = (r: number): Point => ({ x: centre.x + r, y: centre.y });
  const turn = [halfTurn(at(inner), at(-inner), ccw), halfTurn(at(-inner), at(inner), ccw)];
  const pitch = Math.min(2 * Math.PI * inner * Math.tan(cutter.rampAngle), cutter.depthPerPass);
  const turns = Math.max(1, Math.ceil(depth / pitch - 1e-9));
  const helix = Array.from({ length: turns }, () => turn).flat();
  const t = tracer(at(inner), machine.clearance, speeds);
  t.down(0);
  t.follow(helix, descent(helix, 0, -depth));
  t.follow(
    [
      halfTurn(at(inner), at(-wall), ccw),
      halfTurn(at(-wall), at(wall), ccw),
      halfTurn(at(wall), at(-wall), ccw),
      halfTurn(at(-wall), centre, ccw),
    ],
    -depth,
  );
  t.up();
  return { trace: t, depths: [depth] };
}
