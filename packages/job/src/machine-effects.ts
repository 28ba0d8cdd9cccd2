import { type MachineCalibration, stretchAlong } from '@haunch/gauge';
import { ringSegments } from '@haunch/geometry';
import type { Fit, Layout, Part } from '@haunch/model';
import type { FittedParts } from './fitted-parts.js';
import type { Job } from './job.js';
import { directionOnBoard, mateLine } from './mate-line.js';

/** What the machine's errors would do to one mate if its programs were left as they are. mm */
export interface MachineEffect {
  readonly joint: string;
  /** The angle between the directions in which its two plates' common line lies on their boards, radians, 0 to π/2. */
  readonly turned: number;
  /** How far the plates touch along that line. */
  readonly length: number;
  /** How much longer that length comes out in the slotted plate than in the one that enters. */
  readonly along: number;
  /** How much wider the slot comes out than its program has it. */
  readonly across: number;
  /** How far the slot's end lies aside because a right angle is cut askew. */
  readonly askew: number;
  /** How much narrower at most the slot comes out because both its walls are reached from opposite sides. */
  readonly backlash: number;
}

/** How much more than a right angle the machine makes of one whose first leg lies at this angle. Radians */
function squareness(c: MachineCalibration, direction: number): number {
  const cut = (angle: number): number =>
    Math.atan2(
      (1 + c.scaleY.value) * Math.sin(angle),
      (1 + c.scaleX.value) * Math.cos(angle) + c.shear.value * Math.sin(angle),
    );
  const opened = cut(direction + Math.PI / 2) - cut(direction);
  return Math.atan2(Math.sin(opened), Math.cos(opened)) - Math.PI / 2;
}

/** The greatest length of a fit's walls. */
function wallLength(part: Part, fit: Fit): number {
  const contours = [part.outline, ...part.through, ...part.pockets];
  const segments = contours.flatMap((c) => ringSegments(c.bare));
  const lengths = fit.walls.map((w) => {
    const found = segments.filter((s) => s.tag === w);
    return found.reduce((sum, s) => sum + Math.hypot(s.to.x - s.from.x, s.to.y - s.from.y), 0);
  });
  return Math.max(0, ...lengths);
}

/** The line's angle taken between 0 and π/2. */
const between = (a: number, b: number): number => Math.abs(Math.asin(Math.min(1, Math.abs(Math.sin(a - b)))));

/**
 * What scale, squareness and backlash of a calibrated machine do to every mate of a laid job, uncorrected, in the master's order: first
 * order in the errors. Nothing for a machine that was not calibrated. `along` and `askew` are what correction by the inverse map takes
 * away; the backlash is a bound and stays, but for what a ladder along the same axis has felt of it.
 */
export function machineEffects(
  job: Job,
  laid: { readonly fitted: FittedParts; readonly layout: Layout },
): MachineEffect[] {
  const { calibration: c } = job;
  const { master, parts, joinery } = laid.fitted;
  if (!c || !master) return [];
  const placements = new Map(laid.layout.placements.map((p) => [p.item, p]));
  const drawn = new Map(parts.map((p) => [p.id, p]));
  return master.mates.flatMap((mate): MachineEffect[] => {
    const line = mateLine(master, mate);
    const fits =
      joinery.joints.find((j) => j.id === mate.id)?.fits.filter((f) => f.kind === 'thickness') ?? [];
    if (!line || fits.length === 0) return [];
    const [slot, entering] = ([mate.slotPart, mate.enteringPart] as const).map((id, k) =>
      directionOnBoard(drawn.get(id)!, placements.get(id)!, k === 0 ? line.inSlot : line.inEntering),
    ) as [number, number];
    const length = Math.max(...fits.map((f) => wallLength(drawn.get(f.slotPart)!, f)));
    const widest = Math.max(
      ...fits.map((f) => f.local ?? master.parts.find((p) => p.id === f.enteringPart)!.thickness),
    );
    // Square to the line lies the slot's width: reached by either axis in its share.
    const backlash =
      Math.abs(Math.sin(slot)) * Math.abs(c.backlashX.value) +
      Math.abs(Math.cos(slot)) * Math.abs(c.backlashY.value);
    return [
      {
        joint: mate.id,
        turned: between(slot, entering),
        length,
        along: length * (stretchAlong(c, slot) - stretchAlong(c, entering)),
        across: widest * stretchAlong(c, slot + Math.PI / 2),
        askew: length * Math.abs(squareness(c, slot)),
        backlash,
      },
    ];
  });
}
