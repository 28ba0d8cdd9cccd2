import { type Point, ringBounds } from '@haunch/geometry';
import type { Board, Fit, Machine } from '@haunch/model';
import type { Plan, PlannedPause } from '@haunch/planner';
import type { LaidBoard, LaidJob } from '../lay-job.js';

const mm = (v: number): string => `${Math.round(v * 100) / 100} mm`;

/** Clearances nearer than this feel the same, mm: a fifth of a ladder's step. */
const ALIKE = 0.01;

/** The corner of the board that is farthest from a place, as far as the machine reaches. */
function corner({ outline }: Board, { envelope }: Machine, from: Point): Point {
  const box = ringBounds(outline);
  const far = (v: number, low: number, high: number, [least, most]: readonly [number, number]): number =>
    Math.min(most, Math.max(least, v - low > high - v ? low : high));
  return {
    x: far(from.x, box.minX, box.maxX, envelope.x),
    y: far(from.y, box.minY, box.maxY, envelope.y),
  };
}

/** Fits of a plate between two walls that are cut before the outline: mortises and housings. */
const mortisesOn = ({ items }: LaidBoard, fits: readonly Fit[]): Map<string, Fit> => {
  const inner = new Set(
    items.flatMap(({ part }) => [...part.through, ...part.pockets].map((c) => `${part.id} ${c.id}`)),
  );
  const mortises = fits.filter(
    (f) => f.kind === 'thickness' && f.walls.length === 2 && inner.has(`${f.slotPart} ${f.contour}`),
  );
  return new Map(mortises.map((f) => [f.contour, f]));
};

/**
 * Where a board's program waits so that the plug can be tried: after the first mortise or housing of every clearance that is wanted on
 * the board. Mortises whose inside hangs on tabs are passed over, as no plug enters them yet.
 */
export function plugPauses(
  laidBoard: LaidBoard,
  { fitted }: Pick<LaidJob, 'fitted'>,
  { workplan }: Plan,
  machine: Machine,
): PlannedPause[] {
  const fits = mortisesOn(
    laidBoard,
    fitted.joinery.joints.flatMap((j) => j.fits),
  );
  const tried = new Set<number>();
  const pauses: PlannedPause[] = [];
  for (const step of workplan.steps) {
    const fit = fits.get(step.feature);
    if (fit === undefined || step.slug === 'held') continue;
    const family = Math.round(fit.wanted / ALIKE);
    if (tried.has(family)) continue;
    tried.add(family);
    const { part } = laidBoard.items.find((i) => i.item === step.item)!;
    const contour = [...part.through, ...part.pockets].find((c) => c.id === step.feature)!;
    const box = ringBounds(contour.bare);
    const middle = { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 };
    pauses.push({
      after: step.id,
      text: `try the plug in ${step.feature} (${mm(fit.wanted)} clearance wanted); go on if it feels right, else stop`,
      aside: corner(laidBoard.board, machine, middle),
    });
  }
  return pauses;
}
