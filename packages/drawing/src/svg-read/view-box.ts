import { type Affine, IDENTITY } from './affine.js';
import { readNumbers } from './numbers.js';

/** The rectangle of user space that fills a viewport. User units. */
export interface ViewBox {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Reads a viewBox; null where it is not four numbers with a size. */
export function readViewBox(text: string): ViewBox | null {
  const n = readNumbers(text);
  if (n === null || n.length !== 4 || !(n[2]! > 0 && n[3]! > 0)) return null;
  return { x: n[0]!, y: n[1]!, width: n[2]!, height: n[3]! };
}

const ALIGN = /^\s*(?:defer\s+)?(none|x(Min|Mid|Max)Y(Min|Mid|Max))(?:\s+(meet|slice))?\s*$/;
const SHARE: Readonly<Record<string, number>> = { Min: 0, Mid: 0.5, Max: 1 };

/** The map from a view box to a viewport of the given size at (0, 0) (SVG 2, 8.2 and 8.7). */
export function viewBoxMap(box: ViewBox, width: number, height: number, preserve: string): Affine {
  const m = ALIGN.exec(preserve) ?? ALIGN.exec('xMidYMid meet')!;
  let [sx, sy] = [width / box.width, height / box.height];
  if (m[1] === 'none') return { ...IDENTITY, a: sx, d: sy, e: -box.x * sx, f: -box.y * sy };
  sx = m[4] === 'slice' ? Math.max(sx, sy) : Math.min(sx, sy);
  sy = sx;
  return {
    ...IDENTITY,
    a: sx,
    d: sy,
    e: -box.x * sx + (width - box.width * sx) * SHARE[m[2]!]!,
    f: -box.y * sy + (height - box.height * sy) * SHARE[m[3]!]!,
  };
}
