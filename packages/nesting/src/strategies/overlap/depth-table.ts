import { boxOf, type GridBox, isForbidden, type NoFit } from '../no-fit.js';
import type { GridPolygon } from '../outer-polygon.js';

/**
 * How deep a reference point is inside a no-fit polygon: a grid of cells over its box. A cell is wholly free,
 * wholly inside, or holds the few edges that decide within it. Whether a point of the grid is inside is exact;
 * how deep is right within a part of a cell.
 */
export interface DepthTable {
  readonly x0: number;
  readonly y0: number;
  /** Cells a step. */
  readonly perStep: number;
  /** 0 where the no-fit polygon is one convex polygon with few edges: these answer without cells. */
  readonly columns: number;
  /** 0 free, −1 inside, otherwise where in `lists` the cell's list begins. */
  readonly cells: Int32Array;
  /** A cell's list: 1 where the border passes (else 0), number of pieces, then for each its number of edges and their numbers. */
  readonly lists: Int32Array;
  /** Rows of five: corner x, y, direction x, y, and 1 / length. */
  readonly edges: Float64Array;
  /** Signed depth at the corners of the cells, steps; greater than 0 inside. */
  readonly depths: Float32Array;
  readonly box: GridBox;
  /** Corners of the border, x, y in turn: places where the moving shape touches with a corner in a corner. */
  readonly corners: Float64Array;
}

const EDGE = 5;
/** So many edges are looked at one after the other rather than by cells. */
const FEW_EDGES = 10;
/** Corners that far from any part of the border that matters have this depth, in cells. */
const FAR_OUT = -1;
/** A crack narrower than this, in cells, is no way out of a depth; exact fits in it are still found. */
const CRACK = 0.02;
/** Cells are taken a little larger when they are classed, so that rounding cannot put a point in the wrong one. */
const WIDER = 0.5 + 1e-6;

/** Stretches of the border that have the inside on one side only. */
function withoutCracks(f: NoFit, cell: number): Float64Array {
  const out: number[] = [];
  const e = f.edges;
  const off = Math.max(1, CRACK * cell);
  for (let i = 0; i < e.length; i += 4) {
    const dx = e[i + 2]! - e[i]!;
    const dy = e[i + 3]! - e[i + 1]!;
    const length = Math.hypot(dx, dy);
    if (length === 0) continue;
    // The inside is on the left of the border.
    const x = (e[i]! + e[i + 2]!) / 2 + (dy / length) * off;
    const y = (e[i + 1]! + e[i + 3]!) / 2 - (dx / length) * off;
    if (!isForbidden(f, x, y)) out.push(e[i]!, e[i + 1]!, e[i + 2]!, e[i + 3]!);
  }
  return Float64Array.from(out);
}

/** Square of the distance from a point to the stretch of the border that begins at `i`. */
function distanceToStretch(border: Float64Array, i: number, x: number, y: number): number {
  const ax = border[i]!;
  const ay = border[i + 1]!;
  const dx = border[i + 2]! - ax;
  const dy = border[i + 3]! - ay;
  const t = ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy);
  const u = Math.max(0, Math.min(1, t));
  const ex = x - ax - u * dx;
  const ey = y - ay - u * dy;
  return ex * ex + ey * ey;
}

/** Visits the cells that a stretch of the border meets, with a little to spare. */
function visitBorder(border: Float64Array, g: Cells, visit: (cell: number, stretch: number) => void): void {
  for (let i = 0; i < border.length; i += 4) {
    const ax = border[i]!;
    const ay = border[i + 1]!;
    const bx = border[i + 2]!;
    const by = border[i + 3]!;
    const nx = by - ay;
    const ny = ax - bx;
    const reach = (Math.abs(nx) + Math.abs(ny)) * g.size * WIDER;
    const c0 = g.column(Math.min(ax, bx) - g.size * 1e-6);
    const c1 = g.column(Math.max(ax, bx) + g.size * 1e-6);
    const r0 = g.row(Math.min(ay, by) - g.size * 1e-6);
    const r1 = g.row(Math.max(ay, by) + g.size * 1e-6);
    for (let r = r0; r <= r1; r++)
      for (let c = c0; c <= c1; c++) {
        const mx = g.x0 + (c + 0.5) * g.size;
        const my = g.y0 + (r + 0.5) * g.size;
        if (Math.abs(nx * (mx - ax) + ny * (my - ay)) <= reach) visit(r * g.columns + c, i);
      }
  }
}

interface Cells {
  readonly x0: number;
  readonly y0: number;
  readonly size: number;
  readonly columns: number;
  readonly rows: number;
  column(x: number): number;
  row(y: number): number;
}

function cellsOver([x0, y0, x1, y1]: GridBox, across: number): Cells {
  const size = Math.max(1, Math.max(x1 - x0, y1 - y0) / across);
  const columns = Math.floor((x1 - x0) / size) + 1;
  const rows = Math.floor((y1 - y0) / size) + 1;
  const within = (k: number, n: number): number => Math.min(n - 1, Math.max(0, k));
  return {
    x0,
    y0,
    size,
    columns,
    rows,
    column: (x) => within(Math.floor((x - x0) / size), columns),
    row: (y) => within(Math.floor((y - y0) / size), rows),
  };
}

/** The pieces that meet each cell, each with the edges that decide there; `full` cells lie inside one piece. */
function piecesByCell(
  f: NoFit,
  g: Cells,
  edgeAt: readonly number[],
): { readonly full: Uint8Array; readonly met: (number[] | undefined)[] } {
  const count = g.columns * g.rows;
  const full = new Uint8Array(count);
  const met: (number[] | undefined)[] = new Array<number[] | undefined>(count).fill(undefined);
  f.polygons.forEach((p, k) => {
    const b = 4 * k + 4;
    const n = p.length / 2;
    const [c0, c1] = [g.column(f.boxes[b]!), g.column(f.boxes[b + 2]!)];
    const [r0, r1] = [g.row(f.boxes[b + 1]!), g.row(f.boxes[b + 3]!)];
    for (let r = r0; r <= r1; r++)
      for (let c = c0; c <= c1; c++) {
        const cell = r * g.columns + c;
        if (full[cell]) continue;
        const mx = g.x0 + (c + 0.5) * g.size;
        const my = g.y0 + (r + 0.5) * g.size;
        let out = false;
        let decide: number[] | undefined;
        for (let i = 0; i < n; i++) {
          const j = i + 1 === n ? 0 : i + 1;
          const ex = p[2 * j]! - p[2 * i]!;
          const ey = p[2 * j + 1]! - p[2 * i + 1]!;
          const middle = ex * (my - p[2 * i + 1]!) - ey * (mx - p[2 * i]!);
          const reach = (Math.abs(ex) + Math.abs(ey)) * g.size * WIDER;
          if (middle <= -reach) {
            out = true;
            break;
          }
          if (middle < reach) {
            decide ??= [];
            decide.push(edgeAt[k]! + i);
          }
        }
        if (out) continue;
        if (!decide) {
          full[cell] = 1;
          met[cell] = undefined;
        } else {
          const list = met[cell] ?? [];
          list.push(decide.length, ...decide);
          met[cell] = list;
        }
      }
  });
  return { full, met };
}

/** The corners of a no-fit polygon's border that are on the grid, each once. */
function cornersOf({ edges }: NoFit): Float64Array {
  const seen = new Set<string>();
  const out: number[] = [];
  for (let i = 0; i < edges.length; i += 2) {
    const [x, y] = [edges[i]!, edges[i + 1]!];
    const name = `${x},${y}`;
    if (!Number.isInteger(x) || !Number.isInteger(y) || seen.has(name)) continue;
    seen.add(name);
    out.push(x, y);
  }
  return Float64Array.from(out);
}

/** Rows of five of the edges of polygons, as in a table. */
function edgeRows(polygons: readonly ArrayLike<number>[]): {
  readonly rows: number[];
  readonly edgeAt: number[];
} {
  const edgeAt: number[] = [];
  const rows: number[] = [];
  for (const p of polygons) {
    edgeAt.push(rows.length / EDGE);
    const n = p.length;
    for (let i = 0; i < n; i += 2) {
      const j = i + 2 === n ? 0 : i + 2;
      const ex = p[j]! - p[i]!;
      const ey = p[j + 1]! - p[i + 1]!;
      rows.push(p[i]!, p[i + 1]!, ex, ey, 1 / Math.hypot(ex, ey));
    }
  }
  return { rows, edgeAt };
}

const NO_CELLS = {
  columns: 0,
  cells: new Int32Array(0),
  lists: new Int32Array(0),
  depths: new Float32Array(0),
} as const;

/** The table of a single convex polygon: without cells, exact everywhere, soon made. */
export function convexTable(p: GridPolygon): DepthTable {
  const box = boxOf([p]);
  return {
    ...NO_CELLS,
    x0: box[0],
    y0: box[1],
    perStep: 1,
    edges: Float64Array.from(edgeRows([p]).rows),
    box,
    corners: Float64Array.from(p),
  };
}

/** A table over a no-fit polygon, `across` cells along the longer side of its box. */
export function depthTable(f: NoFit, across: number): DepthTable {
  const g = cellsOver(f.box, across);
  const { rows, edgeAt } = edgeRows(f.polygons);
  const edges = Float64Array.from(rows);
  if (f.polygons.length === 1 && edges.length <= EDGE * FEW_EDGES)
    return {
      x0: g.x0,
      y0: g.y0,
      perStep: 1 / g.size,
      ...NO_CELLS,
      edges,
      box: f.box,
      corners: cornersOf(f),
    };
  const border = withoutCracks(f, g.size);
  const { full, met } = piecesByCell(f, g, edgeAt);
  const borders = new Uint8Array(g.columns * g.rows);
  const nearest = noneNear(g);
  visitBorder(border, g, (cell, stretch) => {
    borders[cell] = 1;
    nearestTo(nearest, g, cell, border, stretch);
  });
  const cracks = new Uint8Array(g.columns * g.rows);
  visitBorder(f.edges, g, (cell) => {
    cracks[cell] = 1;
  });
  const cells = new Int32Array(g.columns * g.rows);
  const lists: number[] = [0];
  for (let cell = 0; cell < cells.length; cell++) {
    const list = met[cell];
    if (full[cell]) cells[cell] = -1;
    else if (list) {
      // No border and no crack: inside, though no single piece covers it.
      if (!borders[cell] && !cracks[cell]) {
        cells[cell] = -1;
        continue;
      }
      cells[cell] = lists.length;
      let pieces = 0;
      for (let i = 0; i < list.length; i += list[i]! + 1) pieces++;
      lists.push(borders[cell]!, pieces);
      for (const v of list) lists.push(v);
    }
  }
  return {
    x0: g.x0,
    y0: g.y0,
    perStep: 1 / g.size,
    columns: g.columns,
    cells,
    lists: Int32Array.from(lists),
    edges,
    depths: cornerDepths(f, g, cells, border, nearest),
    box: f.box,
    corners: cornersOf(f),
  };
}

/** The stretch nearest to each corner of a cell, as far as is known, and the square of its distance. */
interface Nearest {
  readonly stretch: Int32Array;
  readonly square: Float64Array;
}

function noneNear(g: Cells): Nearest {
  const n = (g.columns + 1) * (g.rows + 1);
  return { stretch: new Int32Array(n).fill(-1), square: new Float64Array(n).fill(Infinity) };
}

/** Notes a stretch at corner (c, r) where it is nearer than the one noted there. */
function offer(near: Nearest, g: Cells, c: number, r: number, border: Float64Array, stretch: number): void {
  const at = r * (g.columns + 1) + c;
  if (stretch < 0 || near.stretch[at] === stretch) return;
  const square = distanceToStretch(border, stretch, g.x0 + c * g.size, g.y0 + r * g.size);
  if (square >= near.square[at]!) return;
  near.stretch[at] = stretch;
  near.square[at] = square;
}

/** Notes a stretch at the corners of a cell that it meets. */
function nearestTo(near: Nearest, g: Cells, cell: number, border: Float64Array, stretch: number): void {
  const r = Math.floor(cell / g.columns);
  const c = cell - r * g.columns;
  for (let k = 0; k < 4; k++) offer(near, g, c + (k & 1), r + (k >> 1), border, stretch);
}

/**
 * Hands the nearest stretches on from corner to corner, forth and back (P.-E. Danielsson, "Euclidean distance mapping",
 * Computer Graphics and Image Processing 14, 1980): right but for a small part of a cell.
 */
function spreadNearest(near: Nearest, g: Cells, border: Float64Array): void {
  const { stretch } = near;
  const across = g.columns + 1;
  for (let pass = 0; pass < 2; pass++) {
    const way = pass === 0 ? 1 : -1;
    for (let i = 0; i <= g.rows; i++) {
      const r = way > 0 ? i : g.rows - i;
      const before = r - way;
      const has = before >= 0 && before <= g.rows;
      for (let k = 0; k <= g.columns; k++) {
        const c = way > 0 ? k : g.columns - k;
        if (has)
          for (let d = -1; d <= 1; d++)
            if (c + d >= 0 && c + d <= g.columns)
              offer(near, g, c, r, border, stretch[before * across + c + d]!);
        if (c - way >= 0 && c - way <= g.columns)
          offer(near, g, c, r, border, stretch[r * across + c - way]!);
      }
      for (let k = 1; k <= g.columns; k++) {
        const c = way > 0 ? g.columns - k : k;
        offer(near, g, c, r, border, stretch[r * across + c + way]!);
      }
    }
  }
}

/** Signed depths at the corners of all cells that are not free; `near` knows the stretches that meet the cells of the border. */
function cornerDepths(
  f: NoFit,
  g: Cells,
  cells: Int32Array,
  border: Float64Array,
  near: Nearest,
): Float32Array {
  spreadNearest(near, g, border);
  const across = g.columns + 1;
  const depths = new Float32Array(across * (g.rows + 1)).fill(FAR_OUT * g.size);
  const codeAt = (c: number, r: number): number =>
    c < 0 || r < 0 || c >= g.columns || r >= g.rows ? 0 : cells[r * g.columns + c]!;
  for (let r = 0; r <= g.rows; r++)
    for (let c = 0; c <= g.columns; c++) {
      const [p, q, s, t] = [codeAt(c - 1, r - 1), codeAt(c, r - 1), codeAt(c - 1, r), codeAt(c, r)];
      if (p === 0 && q === 0 && s === 0 && t === 0) continue;
      const inside = p === -1 && q === -1 && s === -1 && t === -1;
      const d = border.length === 0 ? 0 : Math.sqrt(near.square[r * across + c]!);
      const isIn = inside || isForbidden(f, g.x0 + c * g.size, g.y0 + r * g.size);
      depths[r * across + c] = isIn ? d : -d;
    }
  return depths;
}

/** The depth within a single convex polygon: the distance to its nearest edge. */
function convexDepth({ edges }: DepthTable, x: number, y: number): number {
  let depth = Infinity;
  for (let e = 0; e < edges.length; e += EDGE) {
    const side = edges[e + 2]! * (y - edges[e + 1]!) - edges[e + 3]! * (x - edges[e]!);
    if (side <= 0) return 0;
    const d = side * edges[e + 4]!;
    if (d < depth) depth = d;
  }
  return depth;
}

/**
 * The depth of a point, relative to the fixed shape: 0 exactly where the point is free, else greater than 0, steps.
 * The point must be strictly inside the table's box.
 */
export function depthAt(t: DepthTable, x: number, y: number): number {
  if (t.columns === 0) return convexDepth(t, x, y);
  const gx = (x - t.x0) * t.perStep;
  const gy = (y - t.y0) * t.perStep;
  const cx = gx | 0;
  const cy = gy | 0;
  const cell = cy * t.columns + cx;
  const code = t.cells[cell]!;
  if (code === 0) return 0;
  let least = 0;
  let border = 0;
  if (code > 0) {
    const { lists, edges } = t;
    border = lists[code]!;
    let at = code + 2;
    for (let k = lists[code + 1]!; k > 0; k--) {
      const end = at + 1 + lists[at]!;
      let depth = Infinity;
      for (at++; at < end; at++) {
        const e = lists[at]! * EDGE;
        const side = edges[e + 2]! * (y - edges[e + 1]!) - edges[e + 3]! * (x - edges[e]!);
        if (side <= 0) {
          depth = 0;
          break;
        }
        const d = side * edges[e + 4]!;
        if (d < depth) depth = d;
      }
      at = end;
      if (depth > least) least = depth;
    }
    if (least === 0) return 0;
  }
  const { depths } = t;
  const fx = gx - cx;
  const fy = gy - cy;
  const p = cell + cy;
  const q = p + t.columns + 1;
  const depth =
    (depths[p]! * (1 - fx) + depths[p + 1]! * fx) * (1 - fy) +
    (depths[q]! * (1 - fx) + depths[q + 1]! * fx) * fy;
  // Where the border passes, the pieces know better than the corners near it; both fall short of the truth.
  return border === 1 && least > depth ? least : depth > 0 ? depth : least > 0 ? least : 1;
}
