import { inParent, offCutInParent, sheetOfMap } from '@haunch/gauge';
import { ringBounds } from '@haunch/geometry';
import type { Board } from '@haunch/model';

const two = (v: number): number => +v.toFixed(2);

/** Where an off-cut lay in its sheet, as a small picture of so many mm across. */
export interface OffCutPicture {
  readonly svg: string;
  readonly width: number;
  readonly height: number;
}

/** Whether a board's map was made of another sheet than itself: it is an off-cut. */
export const isOffCut = ({ map }: Board): boolean =>
  map !== undefined &&
  (map.motion.turnedOver || map.motion.turn !== 0 || map.motion.x !== 0 || map.motion.y !== 0);

/**
 * An off-cut in its sheet: the sheet's outline, the off-cut's, a dot at the off-cut's own lower left corner with arrows along its own
 * X and Y, and crosses where the sheet was measured. `scale` is picture mm per sheet mm. Deterministic. SVG without a frame.
 */
export function offCutPicture(board: Board, scale: number, unit: number): OffCutPicture | undefined {
  const { map } = board;
  if (!map || !isOffCut(board)) return undefined;
  const sheet = sheetOfMap(map);
  const [w, h] = [sheet.to.x - sheet.from.x, sheet.to.y - sheet.from.y];
  const x = (v: number): number => two((v - sheet.from.x) * scale);
  const y = (v: number): number => two((sheet.to.y - v) * scale);
  const { maxX, maxY } = ringBounds(board.outline);
  const at = (p: { x: number; y: number }) => inParent(map.motion, p);
  const corners = offCutInParent(maxX, maxY, map.motion);
  const origin = at({ x: 0, y: 0 });
  const arrow = Math.min(maxX, maxY) * 0.8;
  const axis = (name: string, to: { x: number; y: number }): string => {
    const tip = at(to);
    const [dx, dy] = [x(tip.x) - x(origin.x), y(tip.y) - y(origin.y)];
    const long = Math.hypot(dx, dy);
    const [ux, uy] = [dx / long, dy / long];
    const head = unit * 0.9;
    const wing = (side: number): string =>
      `${two(x(tip.x) - head * ux + side * head * 0.5 * uy)},${two(y(tip.y) - head * uy - side * head * 0.5 * ux)}`;
    return `<path d="M${x(origin.x)} ${y(origin.y)}L${x(tip.x)} ${y(tip.y)}" class="oc-axis"/><polygon points="${x(tip.x)},${y(tip.y)} ${wing(1)} ${wing(-1)}" fill="#a3341f"/><text x="${two(x(tip.x) - ux * unit * 1.4 + uy * unit * 1.2)}" y="${two(y(tip.y) - uy * unit * 1.4 - ux * unit * 1.2 + unit * 0.5)}" class="oc-n">${name}</text>`;
  };
  const cross = unit * 0.6;
  const readings = board.readings.flatMap((r) => {
    if (!r.at) return [];
    const p = at(r.at);
    return [
      `<path d="M${two(x(p.x) - cross)} ${y(p.y)}h${two(2 * cross)}M${x(p.x)} ${two(y(p.y) - cross)}v${two(2 * cross)}" class="oc-read"/>`,
    ];
  });
  const turned = ((((map.motion.turn * 180) / Math.PI) % 360) + 360) % 360;
  const how = `its own lower left corner (dot) was at (${+origin.x.toFixed(1)}, ${+origin.y.toFixed(1)})${turned === 0 ? '' : `, turned ${+turned.toFixed(1)}°`}${map.motion.turnedOver ? ', turned over' : ''}`;
  return {
    width: w * scale,
    height: h * scale,
    svg: `<style>.oc-axis{stroke:#a3341f;stroke-width:${two(unit * 0.25)};fill:none}.oc-read{stroke:#23211c;stroke-width:${two(unit * 0.2)};fill:none}.oc-n{font-size:${two(unit * 1.5)}px;font-weight:bold;fill:#a3341f}</style><rect x="0" y="0" width="${two(w * scale)}" height="${two(h * scale)}" fill="#f3ede0" stroke="#23211c" stroke-width="${two(unit * 0.2)}"/><polygon points="${corners.map((p) => `${x(p.x)},${y(p.y)}`).join(' ')}" fill="#7a5a2e" fill-opacity="0.35" stroke="#23211c" stroke-width="${two(unit * 0.2)}"/>${readings.join('')}${axis('X', { x: arrow, y: 0 })}${axis('Y', { x: 0, y: arrow })}<circle cx="${x(origin.x)}" cy="${y(origin.y)}" r="${two(unit * 0.6)}" fill="#a3341f"/><text x="0" y="${two(h * scale + unit * 2)}" text-anchor="start" class="tm-u">in its sheet of ${+w.toFixed(1)} × ${+h.toFixed(1)} mm: ${how}</text>`,
  };
}
