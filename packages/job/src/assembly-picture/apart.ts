import type { AssemblyStep, Master } from '@haunch/model';
import { extentAlong, type Solid } from './plate-solid.js';
import { along, axisVector, cross, unit, type Vec } from './vec.js';

/** Plates that share less than this in width or height pass each other, mm. */
const PASSING = 0.01;

type Extent = readonly [number, number];
const shifted = (e: Extent, by: number): Extent => [e[0] + by, e[1] + by];
const overlap = (a: Extent, b: Extent): boolean => Math.min(a[1], b[1]) - Math.max(a[0], b[0]) > PASSING;

/** Two directions that make a right-angled frame with the given one. */
function across(d: Vec): readonly [Vec, Vec] {
  const other: Vec = Math.abs(d[0]) < 0.9 ? [1, 0, 0] : [0, 1, 0];
  const a = unit(cross(d, other));
  return [a, cross(d, a)];
}

/** Extents of solids where they stand, each asked for once. */
class Extents {
  readonly #known = new Map<string, Extent>();

  along(s: Solid, axis: Vec): Extent {
    const key = `${s.id} ${axis.join()}`;
    const found = this.#known.get(key) ?? extentAlong(s, axis);
    this.#known.set(key, found);
    return found;
  }
}

/** Whether plate `b` stands in the way of plate `a` moving along `d`. */
function inTheWay(a: Solid, b: Solid, offsets: ReadonlyMap<string, Vec>, d: Vec, extents: Extents): boolean {
  const at = (s: Solid, axis: Vec): Extent => {
    const o = offsets.get(s.id)!;
    return shifted(extents.along(s, axis), o[0] * axis[0] + o[1] * axis[1] + o[2] * axis[2]);
  };
  if (across(d).some((axis) => !overlap(at(a, axis), at(b, axis)))) return false;
  const [ea, eb] = [at(a, d), at(b, d)];
  return eb[0] + eb[1] > ea[0] + ea[1];
}

/** The steps of an assembly as far as they move something. */
type Moves = readonly Pick<AssemblyStep, 'step' | 'moving' | 'move' | 'travel'>[];

/**
 * How far every plate is moved when the assembly is undone, last step first: the moving plates go back along their
 * move, and push ahead of them what was taken off before and stands in their way. One map for every number of steps that are done, from
 * none to all; in the last nothing is moved. mm, by part id.
 */
export function offsetsStepByStep(assembly: Moves, solids: readonly Solid[]): ReadonlyMap<string, Vec>[] {
  const offsets = new Map<string, Vec>(solids.map((s) => [s.id, [0, 0, 0]]));
  const extents = new Extents();
  const off = new Set<string>();
  const states = [new Map(offsets)];
  for (const step of [...assembly].sort((a, b) => b.step - a.step)) {
    const back = along([0, 0, 0], -1, axisVector(step.move));
    const moving = new Set(step.moving.filter((id) => offsets.has(id)));
    for (let grew = true; grew; ) {
      grew = false;
      for (const b of solids) {
        if (moving.has(b.id) || !off.has(b.id)) continue;
        if (solids.some((a) => moving.has(a.id) && inTheWay(a, b, offsets, back, extents))) {
          moving.add(b.id);
          grew = true;
        }
      }
    }
    for (const id of moving) offsets.set(id, along(offsets.get(id)!, step.travel, back));
    for (const id of step.moving) off.add(id);
    states.unshift(new Map(offsets));
  }
  return states;
}

/** How far every plate is moved when all of the assembly is undone, as {@link offsetsStepByStep} does it. mm, by part id. */
export const offsetsApart = (master: Master, solids: readonly Solid[]): ReadonlyMap<string, Vec> =>
  offsetsStepByStep(master.assembly, solids)[0]!;
