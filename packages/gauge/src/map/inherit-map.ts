import type { ThicknessMap } from '@haunch/model';

/** How an off-cut's coordinates are carried to its parent's: turned over (x → −x) first, then turned (radians, counter-clockwise), then moved (mm). */
export type BoardMotion = ThicknessMap['motion'];

/** The map of an off-cut: its parent's, seen through the off-cut's own coordinates. */
export function inheritMap(parent: ThicknessMap, motion: BoardMotion): ThicknessMap {
  const { turnedOver, turn, x, y } = parent.motion;
  // parent ∘ motion: turning over before a turn reverses that turn.
  const [mx, my] = [turnedOver ? -motion.x : motion.x, motion.y];
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  return {
    ...parent,
    motion: {
      turnedOver: turnedOver !== motion.turnedOver,
      turn: turn + (turnedOver ? -motion.turn : motion.turn),
      x: c * mx - s * my + x,
      y: s * mx + c * my + y,
    },
  };
}
