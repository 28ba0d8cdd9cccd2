import type { Point } from '@haunch/geometry';
import type { MachineCalibration } from './calibration.js';

/** Where the machine really cuts a point of its program, mm. */
export const cutPlace = (c: MachineCalibration, p: Point): Point => ({
  x: (1 + c.scaleX.value) * p.x + c.shear.value * p.y,
  y: (1 + c.scaleY.value) * p.y,
});

/** The point that the program must name so that the machine cuts at `p`, mm: the inverse of `cutPlace`. */
export const commandedPlace = (c: MachineCalibration, p: Point): Point => {
  const y = p.y / (1 + c.scaleY.value);
  return { x: (p.x - c.shear.value * y) / (1 + c.scaleX.value), y };
};

/**
 * How much longer a length comes out that lies along a direction (radians from the machine's X), as a ratio: what two mates
 * that are cut at different turns differ by, a metre.
 */
export function stretchAlong(c: MachineCalibration, direction: number): number {
  const [u, v] = [Math.cos(direction), Math.sin(direction)];
  return Math.hypot((1 + c.scaleX.value) * u + c.shear.value * v, (1 + c.scaleY.value) * v) - 1;
}
