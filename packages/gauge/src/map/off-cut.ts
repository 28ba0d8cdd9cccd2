import { type Point, type Ring, ringBounds } from '@haunch/geometry';
import type { Diagnostic, Locus, ThicknessMap } from '@haunch/model';
import { offCutOutside } from '../diagnostics.js';
import type { BoardMotion } from './inherit-map.js';

/** An off-cut may lie this far beyond its sheet's edge, as sizes are taken with a tape. mm */
const TAPE = 1;

/** Where a place of an off-cut was in its sheet: turned over (x → −x) first, then turned, then moved. mm */
export function inParent({ turnedOver, turn, x, y }: BoardMotion, at: Point): Point {
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const px = turnedOver ? -at.x : at.x;
  return { x: c * px - s * at.y + x, y: s * px + c * at.y + y };
}

/** Where a place of a sheet lies on an off-cut of it: the inverse of `inParent`. mm */
export function inOffCut({ turnedOver, turn, x, y }: BoardMotion, at: Point): Point {
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const [dx, dy] = [at.x - x, at.y - y];
  const px = c * dx + s * dy;
  return { x: turnedOver ? -px : px, y: c * dy - s * dx };
}

/** The four corners of an off-cut in its sheet, its own lower left corner first, then round it. mm */
export const offCutInParent = (width: number, height: number, motion: BoardMotion): readonly Point[] =>
  [
    { x: 0, y: 0 },
    { x: width, y: 0 },
    { x: width, y: height },
    { x: 0, y: height },
  ].map((p) => inParent(motion, p));

/** The sheet that a map was made of, as a box in its own coordinates. mm */
export const sheetOfMap = ({
  centre,
  reach,
}: ThicknessMap): { readonly from: Point; readonly to: Point } => ({
  from: { x: centre.x - reach.x, y: centre.y - reach.y },
  to: { x: centre.x + reach.x, y: centre.y + reach.y },
});

/**
 * Whether an off-cut of this size lies in its sheet: nothing, or which corner lies how far outside. Where the place given would be
 * right as the lower left corner of the room that the off-cut took up, the hint says what to write instead. mm.
 */
export function checkOffCut(
  size: { readonly width: number; readonly height: number },
  motion: BoardMotion,
  sheet: Ring,
  locus: Locus,
): Diagnostic[] {
  const { minX, minY, maxX, maxY } = ringBounds(sheet);
  const beyond = (p: Point): number => Math.max(minX - p.x, p.x - maxX, minY - p.y, p.y - maxY);
  const corners = offCutInParent(size.width, size.height, motion);
  const worst = corners.reduce((a, b) => (beyond(b) > beyond(a) ? b : a));
  if (beyond(worst) <= TAPE) return [];
  const own = inOffCut(motion, worst);
  // The other reading of `at`: the lower left of the room taken up in the sheet.
  const least = (pick: (p: Point) => number): number => Math.min(...corners.map(pick));
  const shift = { x: motion.x - least((p) => p.x), y: motion.y - least((p) => p.y) };
  const fits = corners.every((p) => beyond({ x: p.x + shift.x, y: p.y + shift.y }) <= TAPE);
  const meant = fits ? { x: motion.x + shift.x, y: motion.y + shift.y } : undefined;
  return [
    offCutOutside(own, worst, beyond(worst), { width: maxX - minX, height: maxY - minY }, meant, locus),
  ];
}
