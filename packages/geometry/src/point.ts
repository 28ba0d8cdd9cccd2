/** A place in the plane, millimetres. */
export interface Point {
  readonly x: number;
  readonly y: number;
}

/** The distance between two points, mm. */
export const distance = (a: Point, b: Point): number => Math.hypot(b.x - a.x, b.y - a.y);
