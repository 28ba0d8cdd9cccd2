import type { Point } from '@haunch/geometry';
import type { Trim } from '@haunch/model';
import type { OffCutLeft } from '../off-cuts-left.js';
import type { PaperSide } from './paper-data.js';
import { type Pen, POINT_MM } from './pdf/pen.js';
import { shortened } from './sheet/wrap-text.js';
import { length, type PaperUnit, size } from './units.js';

/** Scales that a drawing may have, 1 to so much. */
const SCALES = [1, 2, 2.5, 4, 5, 7.5, 10, 12.5, 15, 20, 25, 30, 40, 50, 75, 100];

/** Where a drawing may go on its page, mm. */
export interface DrawingRoom {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** What of a board is shown beside its parts. */
export interface BoardDrawing {
  readonly unit: PaperUnit;
  /** Tabs, screws, zones, the place where the thickness is checked and the origin; not on a map for unloading. */
  readonly atMachine: boolean;
  /** Rectangles that are kept, shown by dashed lines. */
  readonly kept?: readonly OffCutLeft[];
  /** The words on a part; its name if nothing is said. */
  readonly nameOf?: (item: string) => string;
}

/** A drawing as it was made: its scale, 1 to so much, and the height that it took. */
export interface DrawnBoard {
  readonly scale: number;
  readonly height: number;
}

/** Room for axes and sizes round the sheet, mm on paper. */
const AROUND = { left: 11, right: 3, top: 3, bottom: 11 };
/** The scale bar and what is written beside it take this width, right of the origin's name. */
const SCALE_BAR = 62;
/** Radius of the mark where the thickness is checked. */
const CHECK = 2.6;
/** The smallest type of a name, points, and the width that any name may have on paper, mm. */
const [SMALLEST, LEAST_NAME] = [6, 14];
/** Type of what is kept. */
const KEPT = { size: 8, bold: true } as const;
/** Parallel lines across a box, from lower left to upper right, so far apart. */
function hatch(x: number, y: number, w: number, h: number, step: number): (readonly [Point, Point])[] {
  const lines: [Point, Point][] = [];
  for (let k = -h; k < w; k += step)
    lines.push([
      { x: x + k, y: y + h },
      { x: x + k + h, y },
    ]);
  return lines;
}

function arrow(pen: Pen, from: Point, to: Point, width = 0.4): void {
  pen.line(from, to, { width });
  const l = Math.hypot(to.x - from.x, to.y - from.y);
  const [dx, dy] = [(to.x - from.x) / l, (to.y - from.y) / l];
  const wing = (s: number): Point => ({
    x: to.x - 2.4 * dx + s * 0.9 * dy,
    y: to.y - 2.4 * dy - s * 0.9 * dx,
  });
  pen.loops([[to, wing(1), wing(-1)]], { fill: 0 });
}

/**
 * Draws a board to the largest round scale that fits: the sheet in grey, parts in white with their names, recesses lighter than the sheet,
 * and at the machine tabs, screws, zones, grain, origin and the place of the thickness check, each told by its form and named.
 */
export function drawBoard(pen: Pen, side: PaperSide, room: DrawingRoom, how: BoardDrawing): DrawnBoard {
  const [free, tall] = [room.width - AROUND.left - AROUND.right, room.height - AROUND.top - AROUND.bottom];
  const needed = Math.max(side.width / free, side.height / tall);
  const scale = SCALES.find((s) => s >= needed) ?? Math.ceil(needed);
  const x0 = room.x + AROUND.left + (free - side.width / scale) / 2;
  const top = room.y + AROUND.top;
  const bottom = top + side.height / scale;
  const at = (p: Point): Point => ({ x: x0 + p.x / scale, y: bottom - p.y / scale });
  const [w, h] = [side.width / scale, side.height / scale];
  const edge = side.edge?.points.map(at);
  if (edge) pen.loops([edge], { fill: 0.87 });
  else pen.rect(x0, top, w, h, { fill: 0.87 });
  if (how.atMachine)
    for (const [ax, ay, bx, by] of side.vacuumAreas) {
      const a = at({ x: ax, y: by });
      pen.rect(a.x, a.y, (bx - ax) / scale, (by - ay) / scale, {
        stroke: 0.35,
        width: 0.25,
        dash: [3, 1.2, 0.6, 1.2],
      });
    }
  for (const item of side.items) {
    const of = (kind: string): Point[][] =>
      item.curves.filter((c) => c.kind === kind).map((c) => c.points.map(at));
    pen.loops(of('outline'), { fill: 1, stroke: 0, width: 0.4, round: true });
    pen.loops(of('pocket'), { fill: 0.93, stroke: 0, width: 0.18, dash: [1, 0.6] });
    pen.loops([...of('cut'), ...of('hole')], { fill: 0.87, stroke: 0, width: 0.25 });
  }
  if (edge) pen.loops([edge], { stroke: 0, width: 0.6 });
  else pen.rect(x0, top, w, h, { stroke: 0, width: 0.6 });
  for (const d of side.defects ?? []) {
    const [p, q, r, t] = d.points.map(at);
    const dots = { width: 0.5, dash: [0.5, 1] };
    pen.loops([[p!, q!, r!, t!]], { stroke: 0, ...dots });
    pen.line(p!, r!, dots);
    pen.line(q!, t!, dots);
  }
  for (const l of side.ladder) pen.loops([l.map(at)], { stroke: 0, width: 0.3, dash: [0.3, 0.8] });
  for (const { id, x, y, width, height, outline } of how.kept ?? []) {
    const corner = at({ x, y: y + height });
    const dashed = { stroke: 0, width: 0.45, dash: [2.4, 1.4] };
    if (outline) pen.loops([outline.map((p) => at({ x: x + p.x, y: y + p.y }))], dashed);
    else pen.rect(corner.x, corner.y, width / scale, height / scale, dashed);
    const middle = at({ x: x + width / 2, y: y + height / 2 });
    const upright = width < height;
    const room = (upright ? height : width) / scale - 2;
    const whole = `${id}: ${size([width, height], how.unit)}`;
    const words = pen.widthOf(whole, KEPT) <= room ? whole : shortened(pen, id, room, KEPT);
    pen.text(middle, words, { ...KEPT, align: 'middle', turn: upright ? Math.PI / 2 : 0 });
  }
  if (how.atMachine) holding(pen, side, at, scale);
  if (how.atMachine) for (const t of side.trims) trimLine(pen, side, t, at);
  const middle = side.edge ? at(side.edge.checkedAt) : { x: x0 + w / 2, y: top + h / 2 };
  const check = how.atMachine ? middle : null;
  names(pen, side, at, scale, { nameOf: how.nameOf ?? ((item) => item), check });
  if (how.atMachine) axes(pen, side, { x0, bottom, w, middle }, how.unit);
  scaleBar(pen, x0 + Math.max(w, SCALE_BAR), bottom + 8, scale, how.unit);
  return { scale, height: AROUND.top + h + AROUND.bottom };
}

/** A trimming cut: a dash-dotted line where its finished edge is, with a short arrow to the side that becomes loose, and its word. */
function trimLine(
  pen: Pen,
  { width, height }: PaperSide,
  { along, at: where, waste }: Trim,
  at: (p: Point) => Point,
): void {
  const place = (u: number, v: number): Point => at(along === 'y' ? { x: v, y: u } : { x: u, y: v });
  const long = along === 'y' ? height : width;
  pen.line(place(0, where), place(long, where), { width: 0.5, dash: [4, 1, 0.8, 1] });
  const way = (waste === 'above') === (along === 'y') ? 1 : -1;
  for (const u of [0.12, 0.88]) {
    const p = place(u * long, where);
    arrow(pen, p, along === 'y' ? { x: p.x + 5 * way, y: p.y } : { x: p.x, y: p.y + 5 * way });
  }
  const p = place(0.5 * long, where);
  const [dx, dy] = along === 'y' ? [way > 0 ? 3.4 : -1, 0] : [0, way > 0 ? 3.4 : -1];
  const turn = along === 'y' ? Math.PI / 2 : 0;
  pen.text({ x: p.x + dx, y: p.y + dy }, 'trimmed off', { size: 8, bold: true, align: 'middle', turn });
}

/** The middle of a round stop that touches the sheet's edge at a place: outward of the nearest edge by its radius. */
function stopMiddle({ width, height }: PaperSide, { x, y }: Point, r: number): Point {
  const ways = [
    { gap: x, to: { x: x - r, y } },
    { gap: width - x, to: { x: x + r, y } },
    { gap: y, to: { x, y: y - r } },
    { gap: height - y, to: { x, y: y + r } },
  ];
  return ways.reduce((a, b) => (b.gap < a.gap ? b : a)).to;
}

/** What keeps the sheet and its parts: zones hatched, screws crossed, pins black, tabs as small blocks. */
function holding(pen: Pen, side: PaperSide, at: (p: Point) => Point, scale: number): void {
  for (const k of side.keepOuts) {
    const [a, b] = [at(k[0]!), at(k[2]!)];
    const [x, y, kw, kh] = [Math.min(a.x, b.x), Math.min(a.y, b.y), Math.abs(a.x - b.x), Math.abs(a.y - b.y)];
    pen.rect(x, y, kw, kh, { fill: 1, stroke: 0, width: 0.3 });
    pen.within(x, y, kw, kh, () => pen.lines(hatch(x, y, kw, kh, 1.2), { width: 0.18 }));
  }
  for (const s of side.screws) {
    const p = at(s.at);
    const r = Math.max(1.1, s.head / 2 / scale);
    const k = 0.7 * r;
    pen.circle(p, r, { fill: 1, stroke: 0, width: 0.3 });
    pen.lines(
      [
        [
          { x: p.x - k, y: p.y - k },
          { x: p.x + k, y: p.y + k },
        ],
        [
          { x: p.x - k, y: p.y + k },
          { x: p.x + k, y: p.y - k },
        ],
      ],
      { width: 0.3 },
    );
  }
  for (const p of side.pins) pen.circle(at(p), Math.max(1, (side.pinDiameter ?? 8) / 2 / scale), { fill: 0 });
  for (const p of side.stops) {
    const r = Math.max((side.pinDiameter ?? 8) / 2, 1.2 * scale);
    pen.circle(at(stopMiddle(side, p, r)), r / scale, { fill: 1, stroke: 0, width: 0.7 });
  }
  const half = 0.65;
  pen.rects(
    side.tabs.map((t) => {
      const p = at(t.at);
      return [p.x - half, p.y - half, 2 * half, 2 * half] as const;
    }),
    { fill: 0 },
  );
}

/** Names of parts, as large as their room allows; a small part's name stands on white. */
function names(
  pen: Pen,
  side: PaperSide,
  at: (p: Point) => Point,
  scale: number,
  { nameOf, check }: { readonly nameOf: (item: string) => string; readonly check: Point | null },
): void {
  for (const { item, label, curves } of side.items) {
    const xs = curves.flatMap((c) => (c.kind === 'outline' ? c.points.map((p) => p.x) : []));
    const own = xs.length === 0 ? 0 : (Math.max(...xs) - Math.min(...xs)) / scale;
    const words = shortened(pen, nameOf(item), Math.max(LEAST_NAME, own), { size: SMALLEST, bold: true });
    const home = at(label.at);
    const tall = (1.5 * label.room) / scale / POINT_MM;
    const one = pen.widthOf(words, { size: 1, bold: true });
    const wide = (2.6 * label.room) / scale / one;
    const type = Math.max(SMALLEST, Math.min(15, tall, Math.max(wide, Math.min(tall, 8))));
    const [half, rise] = [(one * type) / 2, type * POINT_MM];
    // The mark of the thickness check stays free: a name that it would cover steps aside.
    const near = check !== null && Math.abs(home.y - check.y) < 0.5 * rise + CHECK;
    const reach = half + CHECK + 0.8;
    const aside =
      near && Math.abs(home.x - check.x) < reach ? check.x + (home.x < check.x ? -reach : reach) : home.x;
    const p = { x: aside, y: home.y };
    if (type <= 7) pen.rect(p.x - half - 0.3, p.y - 0.55 * rise, 2 * half + 0.6, 1.1 * rise, { fill: 1 });
    pen.text({ x: p.x, y: p.y + 0.36 * rise }, words, { size: type, bold: true, align: 'middle' });
  }
}

interface Sheeted {
  readonly x0: number;
  readonly bottom: number;
  readonly w: number;
  /** Where the thickness is checked. */
  readonly middle: Point;
}

/** Between the word and the arrow of the grain, mm. */
const GRAIN_WORD = 2;

/** The origin with its axes, the grain, and where the thickness is checked. */
function axes(pen: Pen, side: PaperSide, { x0, bottom, w, middle: m }: Sheeted, unit: PaperUnit): void {
  const corner = { x: x0, y: bottom };
  pen.circle(corner, 1.5, { fill: 1, stroke: 0, width: 0.5 });
  pen.lines(
    [
      [
        { x: x0 - 2.4, y: bottom },
        { x: x0 + 2.4, y: bottom },
      ],
      [
        { x: x0, y: bottom - 2.4 },
        { x: x0, y: bottom + 2.4 },
      ],
    ],
    { width: 0.4 },
  );
  arrow(pen, { x: x0, y: bottom + 4 }, { x: x0 + 16, y: bottom + 4 });
  const lettering = { size: 9, bold: true };
  const across = `X  ${length(side.width, unit, 0)}`;
  pen.text({ x: x0 + 17, y: bottom + 5 }, across, lettering);
  arrow(pen, { x: x0 - 4, y: bottom }, { x: x0 - 4, y: bottom - 16 });
  pen.text({ x: x0 - 3, y: bottom - 18 }, `Y  ${length(side.height, unit, 0)}`, {
    size: 9,
    bold: true,
    turn: Math.PI / 2,
  });
  pen.text({ x: x0 - 2, y: bottom + 7.6 }, 'X0 Y0', { size: 9, bold: true, align: 'right' });
  pen.circle(m, CHECK, { fill: 1, stroke: 0, width: 0.5 });
  pen.text({ x: m.x, y: m.y + 1.15 }, 'M', { size: 9, bold: true, align: 'middle' });
  if (side.grain === null) return;
  const along = side.grain === 'x';
  const word = GRAIN_WORD + pen.widthOf('grain', lettering);
  // On a board that is drawn small the grain stands beside the axis, beyond the board's edge.
  const tip = {
    x: Math.max(x0 + w - 34, x0 + 17 + pen.widthOf(across, lettering) + 3 + word),
    y: bottom + 4,
  };
  pen.text({ x: tip.x - GRAIN_WORD, y: tip.y + 1 }, 'grain', { ...lettering, align: 'right' });
  const [a, b] = along
    ? [tip, { x: tip.x + 12, y: tip.y }]
    : [
        { x: tip.x + 3, y: tip.y + 3.5 },
        { x: tip.x + 3, y: tip.y - 3 },
      ];
  arrow(pen, { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 }, b);
  arrow(pen, { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 }, a);
}

/** A bar of a round length, its right end at `x`, with the scale beside it. */
function scaleBar(pen: Pen, x: number, y: number, scale: number, unit: PaperUnit): void {
  const inch = unit === 'inch';
  const steps = inch ? [24, 12, 6, 3, 1].map((i) => i * 25.4) : [1000, 500, 200, 100, 50, 20];
  const bar = steps.find((s) => s / scale <= 32) ?? steps.at(-1)!;
  const w = bar / scale;
  pen.rect(x - w, y - 1, w / 2, 1, { fill: 0 });
  pen.rect(x - w, y - 1, w, 1, { stroke: 0, width: 0.2 });
  pen.text({ x: x - w - 1.5, y: y - 0.1 }, `1 : ${scale}   ${length(bar, unit, 0)}`, {
    size: 8,
    align: 'right',
  });
}
