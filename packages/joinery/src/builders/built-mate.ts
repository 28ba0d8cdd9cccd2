import type { MasterMate } from '@haunch/model';
import { namedAxis } from '../found/world.js';
import { along, cross, dot, type Frame, length, type Vec } from '../frame.js';

/** A direction in the slotted plate's coordinates of a joint: x and y in its plane, z = x × y out of it. */
export type JointDirection = '+x' | '-x' | '+y' | '-y' | '+z' | '-z';

/** How two plates are joined: which way the entering plate goes home, which way it is held, and on what it stops. */
export interface BuiltMate {
  readonly enteringMoves: JointDirection;
  readonly locates: readonly JointDirection[];
  readonly stopsOn: JointDirection;
}

/** A joint's two parts in a master, and where its coordinates stand in the world. */
export interface MateOfJointOptions {
  readonly id: string;
  readonly slotPart: string;
  /** The ids of the cuts or recesses that the builder made, or of the outline where it cut into that. */
  readonly slotFeatures: readonly string[];
  readonly enteringPart: string;
  /** The directions of the joint's x and y in the world; unit vectors at right angles. */
  readonly x: Vec;
  readonly y: Vec;
}

/** Unit vectors have length 1, and right angles are right, within this. */
const SQUARE = 1e-6;

/**
 * The mate of a built joint as a master lists it, in world directions.
 * @throws RangeError when x and y are no unit vectors at right angles, or both parts are one.
 */
export function mateOfJoint(
  joint: { readonly type: string; readonly mate: BuiltMate },
  { id, slotPart, slotFeatures, enteringPart, x, y }: MateOfJointOptions,
): MasterMate {
  for (const [name, v] of [
    ['x', x],
    ['y', y],
  ] as const)
    if (!(Math.abs(length(v) - 1) <= SQUARE)) throw new RangeError(`mateOfJoint: ${name} is no unit vector`);
  if (Math.abs(dot(x, y)) > SQUARE) throw new RangeError('mateOfJoint: x and y are not at right angles');
  if (slotPart === enteringPart) throw new RangeError(`mateOfJoint: part ${slotPart} cannot enter itself`);
  const axes: Readonly<Record<string, Frame['u']>> = { x, y, z: cross(x, y) };
  const inWorld = (d: JointDirection) => namedAxis(along([0, 0, 0], d[0] === '+' ? 1 : -1, axes[d[1]!]!));
  return {
    id,
    type: joint.type,
    slotPart,
    slotFeatures: [...slotFeatures],
    enteringPart,
    enteringMoves: inWorld(joint.mate.enteringMoves),
    locates: joint.mate.locates.map(inWorld),
    stopsOn: inWorld(joint.mate.stopsOn),
  };
}
