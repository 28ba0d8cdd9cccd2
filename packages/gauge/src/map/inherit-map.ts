import type { ThicknessMap } from '@haunch/model';

/** How an off-cut's coordinates are carried to its parent's: turned over (x → −x) first, then turned (radians, counter-clockwise), then moved (mm). */
export type BoardMotion = ThicknessMap['motion'];

/** The motion of an off-cut of an off-cut: first into its parent, then with that into the sheet. */
export function composeMotion(parent: BoardMotion, motion: BoardMotion): BoardMotion {
  const { turnedOver, turn, x, y } = parent;
  // Turning over before a turn reverses that turn.
  const [mx, my] = [turnedOver ? -motion.x : motion.x, motion.y];
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  return {
    turnedOver: turnedOver !== motion.turnedOver,
    turn: turn + (turnedOver ? -motion.turn : motion.turn),
    x: c * mx - s * my + x,
    y: s * mx + c * my + y,
  };
}

/** The map of an off-cut: its parent's, seen through the off-cut's own coordinates. */
export const inheritMap = (parent: ThicknessMap, motion: BoardMotion): ThicknessMap => ({
  ...parent,
  motion: composeMotion(parent.motion, motion),
});
