import { isPlain } from '../bed.js';
import type { Axis } from '../overlap/shrink.js';
import type { Stage } from '../overlap/stage.js';
import { type Cell, closeCells, type Member } from './cells.js';

/** So many copies of a piece, and nothing else on one board, are laid in repeated cells … */
const MANY_COPIES = 8;
/** … whose first row begins at so many heights. */
const HEIGHTS = 8;

/** How far a point is along the axis, and across it. */
const along = (axis: Axis, x: number, y: number): readonly [number, number] =>
  axis === 'x' ? [x, y] : [y, x];

/** The `count` copies of a repeated cell that take least along the axis, across a width; undefined where they do not fit. */
function laidInCells(
  { members, u, w }: Cell,
  sizes: (variant: number) => readonly [number, number],
  count: number,
  width: number,
  axis: Axis,
): { readonly length: number; readonly copies: readonly Member[] } | undefined {
  let best: { length: number; copies: readonly Member[] } | undefined;
  const [ua, uc] = along(axis, u[0], u[1]);
  const [wa, wc] = along(axis, w[0], w[1]);
  const det = Math.abs(ua * wc - uc * wa);
  const span = Math.max(...members.map((m) => Math.max(...sizes(m.variant)) + Math.abs(m.x) + Math.abs(m.y)));
  // Room enough for all of them even where half of the cells at the edges are lost.
  const length = (det * count) / members.length / Math.max(width - span, width / 2) + 4 * span;
  const far = Math.hypot(length, width) + 2 * span;
  const most = (p: number, q: number): number => Math.ceil((far * Math.hypot(p, q)) / det) + 1;
  const [ni, nj] = [most(wa, wc), most(ua, uc)];
  if ((2 * ni + 1) * (2 * nj + 1) > 200 * count + 20_000) return undefined;
  const step = Math.max(1, Math.round(Math.max(Math.abs(uc), Math.abs(wc)) / HEIGHTS));
  const lows = new Set([
    ...Array.from({ length: HEIGHTS }, (_, k) => k * step),
    ...members.map((m) => -along(axis, m.x, m.y)[1]),
  ]);
  for (const low of lows) {
    const found: { copy: Member; from: number; to: number }[] = [];
    for (let i = -ni; i <= ni; i++)
      for (let j = -nj; j <= nj; j++)
        for (const m of members) {
          const [a, c] = along(axis, m.x + i * u[0] + j * w[0], m.y + i * u[1] + j * w[1]);
          const [l, t] = along(axis, ...sizes(m.variant));
          const across = c + low;
          if (across < 0 || across + t > width || a < -span || a > length) continue;
          const [x, y] = along(axis, a, across);
          found.push({ copy: { variant: m.variant, x, y }, from: a, to: a + l });
        }
    found.sort((p, q) => p.to - q.to || p.from - q.from || p.copy.y - q.copy.y || p.copy.x - q.copy.x);
    // The first ones from some place on: all that end next after it and begin no sooner.
    for (const { from } of found.slice(0, Math.max(8, Math.ceil(found.length - count)))) {
      if (from > span + Math.abs(ua) + Math.abs(wa)) continue;
      const taken = [];
      for (const f of found) {
        if (f.from < from) continue;
        taken.push(f);
        if (taken.length === count) break;
      }
      if (taken.length < count) continue;
      const reach = taken.at(-1)!.to - from;
      if (best && reach >= best.length) continue;
      const [dx, dy] = along(axis, from, 0);
      best = {
        length: reach,
        copies: taken.map(({ copy }) => ({ ...copy, x: copy.x - dx, y: copy.y - dy })),
      };
    }
  }
  return best;
}

/** Copies in repeated cells, and along which axis they take least. */
export interface Repeated {
  readonly axis: Axis;
  /** One entry a copy, in the order of the stage's possible pieces; references in bed coordinates, steps. */
  readonly copies: readonly Member[];
}

/**
 * Many copies of one piece on one board, a rectangle without anything to keep out of, in repeated cells that take
 * least along each axis. None where there is anything else on it, or no room.
 */
export function repeated(stage: Stage, axes: readonly Axis[], tick: () => boolean): Repeated[] {
  const { beds, possible, wares } = stage;
  const [bed] = beds;
  const [first] = possible;
  if (!bed || beds.length > 1 || !isPlain(bed) || !first || possible.length < MANY_COPIES) return [];
  if (possible.some((p) => p.kind !== first.kind)) return [];
  const [x0, y0, x1, y1] = bed.usable;
  const sizes = (k: number): readonly [number, number] => [
    wares.variants[k]!.width,
    wares.variants[k]!.height,
  ];
  const cells = closeCells(wares, first, tick);
  return axes.flatMap((axis): Repeated[] => {
    const [room, width] = along(axis, x1 - x0, y1 - y0);
    let best: ReturnType<typeof laidInCells>;
    for (const cell of cells) {
      if (!tick()) break;
      const laid = laidInCells(cell, sizes, possible.length, width, axis);
      if (laid && laid.length <= (best?.length ?? room)) best = laid;
    }
    return best ? [{ axis, copies: best.copies.map((m) => ({ ...m, x: m.x + x0, y: m.y + y0 })) }] : [];
  });
}
