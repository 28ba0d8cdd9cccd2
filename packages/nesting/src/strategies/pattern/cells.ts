import { CORNER_PREFERENCES, findPlace, type Obstacle } from '../find-place.js';
import { isForbidden, type NoFit, noFit } from '../no-fit.js';
import type { GridPolygon } from '../outer-polygon.js';
import { turnedPolygon } from '../overlap/quarter.js';
import type { Piece, Wares } from '../overlap/variant.js';

/** A copy in a cell: in which variant, and where its reference is, steps. */
export interface Member {
  readonly variant: number;
  readonly x: number;
  readonly y: number;
}

/** Copies that, shifted by whole multiples of two vectors, keep clear of each other. Grid steps. */
export interface Cell {
  readonly members: readonly Member[];
  readonly u: readonly [number, number];
  readonly w: readonly [number, number];
  /** Area that a copy takes of the plane, square steps. */
  readonly area: number;
}

/** Pairs of copies that are looked at, those in the smallest boxes first. */
const PAIRS = 16;
/** Shifts of a cell against itself that are looked at, the shortest first. */
const SHIFTS = 32;
/** How many cells in each direction are held against each other: further ones do not meet. */
const ROUND = 3;
/** Cells that are kept, the closest first. */
const KEPT = 12;
/** … unless they take so much more than the closest. */
const WORSE = 1.1;

/** Rounding of areas. */
const ROUNDING = 1e-6;

type Vector = readonly [number, number];

/** Where the variants of a shape may not be with respect to each other, made when first asked for. */
function noFits({ shapes, variants }: Wares): (fixed: number, moving: number) => NoFit {
  const placed = (k: number): GridPolygon[] => {
    const v = variants[k]!;
    return shapes[v.shape]!.grown.map((p) => turnedPolygon(p, v.quarter, -v.offX, -v.offY));
  };
  const made = new Map<string, NoFit>();
  return (fixed, moving) => {
    const key = `${fixed},${moving}`;
    const f = made.get(key) ?? noFit(placed(fixed), placed(moving));
    made.set(key, f);
    return f;
  };
}

/** Corners of a border and middles of its edges, on the grid: where a corner touches in a corner, or two edges touch. */
function touchesOf(f: NoFit): Vector[] {
  const seen = new Map<string, Vector>();
  const take = (x: number, y: number): void => {
    seen.set(`${x},${y}`, [x, y]);
  };
  const e = f.edges;
  for (let i = 0; i < e.length; i += 4) {
    if (Number.isInteger(e[i]) && Number.isInteger(e[i + 1])) take(e[i]!, e[i + 1]!);
    const [x, y] = [(e[i]! + e[i + 2]!) / 2, (e[i + 1]! + e[i + 3]!) / 2];
    const round = [Math.floor(x), Math.ceil(x)].flatMap((p) =>
      [Math.floor(y), Math.ceil(y)].map((q) => [p, q] as const),
    );
    const free = round.find(([p, q]) => !isForbidden(f, p, q));
    if (free) take(...free);
  }
  return [...seen.values()];
}

const byLength = (a: Vector, b: Vector): number =>
  a[0] * a[0] + a[1] * a[1] - b[0] * b[0] - b[1] * b[1] || a[0] - b[0] || a[1] - b[1];

/** Cells of one copy, and of two of which the second lies in any other turn. */
function groups(
  wares: Wares,
  variants: readonly number[],
  between: (fixed: number, moving: number) => NoFit,
): (readonly Member[])[] {
  const [a, ...others] = variants as [number, ...number[]];
  const first = { variant: a, x: 0, y: 0 };
  const [w, h] = [wares.variants[a]!.width, wares.variants[a]!.height];
  const pairs = others.flatMap((b) => {
    const v = wares.variants[b]!;
    return touchesOf(between(a, b)).map(([x, y]) => ({
      members: [first, { variant: b, x, y }],
      box: (Math.max(w, x + v.width) - Math.min(0, x)) * (Math.max(h, y + v.height) - Math.min(0, y)),
    }));
  });
  pairs.sort(
    (p, q) =>
      p.box - q.box || byLength([p.members[1]!.x, p.members[1]!.y], [q.members[1]!.x, q.members[1]!.y]),
  );
  return [...variants.map((v) => [{ ...first, variant: v }]), ...pairs.slice(0, PAIRS).map((p) => p.members)];
}

/**
 * Cells by which copies of one piece repeat closely, those that take least of the plane first: one copy shifted, or
 * two in different turns. The second vector is the lowest place on a row of cells, or a touch of two cells. Each tick
 * is a pair of vectors; ends early when there are no more.
 */
export function closeCells(wares: Wares, { variants, squareSteps }: Piece, tick: () => boolean): Cell[] {
  const between = noFits(wares);
  const out: Cell[] = [];
  for (const members of groups(wares, variants, between)) {
    const forbids = (x: number, y: number): boolean =>
      members.some((m) =>
        members.some((n) => isForbidden(between(m.variant, n.variant), x + n.x - m.x, y + n.y - m.y)),
      );
    const all = members
      .flatMap((m) =>
        members.flatMap((n) =>
          touchesOf(between(m.variant, n.variant)).map(([x, y]): Vector => [x - n.x + m.x, y - n.y + m.y]),
        ),
      )
      .filter(([x, y]) => (x > 0 || (x === 0 && y > 0)) && !forbids(x, y))
      .sort(byLength);
    const shifts = all.slice(0, SHIFTS);
    const keep = (u: Vector, w: Vector): void => {
      const area = Math.abs(u[0] * w[1] - u[1] * w[0]) / members.length;
      // Nothing repeats in less than its own area; that of a hollow shape is known without spacing.
      if (area < squareSteps * (1 - ROUNDING)) return;
      if (out.length > 0 && (area > out[0]!.area * WORSE || (out.length >= KEPT && area >= out.at(-1)!.area)))
        return;
      for (let i = -ROUND; i <= ROUND; i++)
        for (let j = 0; j <= ROUND; j++)
          if ((i !== 0 || j !== 0) && forbids(i * u[0] + j * w[0], i * u[1] + j * w[1])) return;
      out.push({ members, u, w, area });
      out.sort((p, q) => p.area - q.area);
      if (out.length > KEPT) out.pop();
    };
    for (const u of shifts) {
      if (!tick()) return out;
      for (const w of shifts) keep(u, w);
      const above = onRow(members, u, between);
      if (above) keep(u, above);
    }
  }
  return out;
}

/** The lowest place of a cell on a row of them, where the row lies rather along x; otherwise the leftmost beside it. */
function onRow(
  members: readonly Member[],
  u: Vector,
  between: (fixed: number, moving: number) => NoFit,
): Vector | undefined {
  const obstacles: Obstacle[] = [];
  let reach = 0;
  for (const m of members)
    for (const n of members) {
      const f = between(m.variant, n.variant);
      reach = Math.max(reach, ...f.box.map(Math.abs));
      for (let k = -ROUND; k <= ROUND; k++)
        obstacles.push({ noFit: f, x: m.x - n.x + k * u[0], y: m.y - n.y + k * u[1] });
    }
  const flat = Math.abs(u[0]) >= Math.abs(u[1]);
  const far = 4 * (reach + Math.abs(u[0]) + Math.abs(u[1]));
  const place = flat
    ? findPlace([0, 1, Math.abs(u[0]), far], obstacles, CORNER_PREFERENCES[1]!)
    : findPlace([1, 0, far, Math.abs(u[1])], obstacles, CORNER_PREFERENCES[0]!);
  return place;
}
