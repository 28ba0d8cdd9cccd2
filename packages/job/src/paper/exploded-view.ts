import type { Box, Clip, Point } from '@haunch/geometry';
import { type DrawnPiece, drawPiece } from '../assembly-picture/draw-piece.js';
import { biggestSides } from '../assembly-picture/piece-group.js';
import { placeLabels } from '../assembly-picture/place-labels.js';
import { movedSolid, type Solid } from '../assembly-picture/plate-solid.js';
import { along, dot, type Vec } from '../assembly-picture/vec.js';
import { depthAt, seen, type View, viewFrom } from '../assembly-picture/view.js';
import { windsRound } from '../assembly-picture/visible-faces.js';
import type { PaperAssemblyStep } from './assembly-steps.js';
import { type Pen, POINT_MM } from './pdf/pen.js';

/** Where a picture may go on its page, mm. */
export interface PictureRoom {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** From the right of the front and above, as the other pictures of pieces are. */
const VIEW: View = viewFrom({ azimuth: 0.48, elevation: 0.37 });
/** What moves is drawn so far off at the least and, as a share of the piece, at the most, mm. */
const [NEAREST, FARTHEST] = [70, 0.5];
/** A step with more plates than this shows the near ones alone: the others would be small, and only in the way. */
export const MOST_SHOWN = 20;
/** So many moving plates are named at the most, where they are more than those that something is met at. */
const MOST_NAMED = 12;
/** Margin within a picture for names and taps, mm on paper. */
const EDGE = 8;
const NAME = 8.5;
const MOST_LETTERS = 14;
/** A place is hidden where a side is nearer to the eye by more than this, mm. */
const BEHIND = 2;

const boxOf = (points: readonly Point[]): Box => ({
  minX: Math.min(...points.map((p) => p.x)),
  maxX: Math.max(...points.map((p) => p.x)),
  minY: Math.min(...points.map((p) => p.y)),
  maxY: Math.max(...points.map((p) => p.y)),
});

/** What of the standing parts is shown: all of a small piece, of a large one what the step joins and what that is joined to. */
const shownOf = ({ standing, moving, partners, beside }: PaperAssemblyStep): readonly string[] =>
  standing.length + moving.length > MOST_SHOWN ? [...partners, ...beside] : standing;

/** How solids come on the paper: the largest scale that fits. */
function placed(box: Box, room: PictureRoom): (p: Point) => Point {
  const [w, h] = [room.width - 2 * EDGE, room.height - 2 * EDGE];
  const scale = Math.min(w / (box.maxX - box.minX), h / (box.maxY - box.minY));
  const left = room.x + EDGE + (w - scale * (box.maxX - box.minX)) / 2;
  const base = room.y + EDGE + (h + scale * (box.maxY - box.minY)) / 2;
  return (p) => ({ x: left + scale * (p.x - box.minX), y: base - scale * (p.y - box.minY) });
}

/** Sides in their tones, hidden ones taken out; thin inner lines, firmer contours. */
function drawSolids(pen: Pen, drawn: DrawnPiece, at: (p: Point) => Point, moving: ReadonlySet<string>): void {
  for (const { face, polygons } of drawn.faces)
    if (polygons.length > 0)
      pen.loops(
        polygons.map((loop) => loop.map(at)),
        { fill: moving.has(face.plate) ? (Math.abs(face.normal[2]) > 0.5 ? 0.8 : 0.88) : 1 },
      );
  const lines = (contour: boolean): Point[][] =>
    drawn.lines.filter((l) => l.contour === contour).map((l) => [at(l.from), at(l.to)]);
  pen.lines(lines(false), { width: 0.15, round: true });
  pen.lines(lines(true), { width: 0.4, round: true });
}

/** A name of more letters than a picture has room for, cut off with an ellipsis: the words beside it have it whole. */
const cut = (name: string): string => {
  const letters = [...name];
  return letters.length > MOST_LETTERS ? `${letters.slice(0, MOST_LETTERS - 1).join('')}…` : name;
};

function drawNames(
  pen: Pen,
  drawn: DrawnPiece,
  at: (p: Point) => Point,
  room: PictureRoom,
  named: ReadonlySet<string>,
): void {
  const letter = NAME * POINT_MM;
  // Places are sought in a frame whose corner is the room's.
  const local = (p: Point): Point => ({ x: at(p).x - room.x, y: at(p).y - room.y });
  const labels = placeLabels(
    biggestSides(drawn, local)
      .filter((a) => named.has(a.text))
      .map((a) => ({ ...a, text: cut(a.text) })),
    {
      letter,
      silhouette: drawn.silhouette.map((l) => l.map(local)),
      width: room.width,
      height: room.height,
    },
  );
  for (const { text, at: where, anchor } of labels) {
    const p = { x: where.x + room.x, y: where.y + room.y };
    if (anchor) {
      const tip = { x: anchor.x + room.x, y: anchor.y + room.y };
      pen.line(p, tip, { width: 0.2 });
      pen.circle(tip, 0.5, { fill: 0 });
    }
    const half = pen.widthOf(text, { size: NAME, bold: true }) / 2;
    if (anchor) pen.rect(p.x - half - 0.6, p.y - 0.6 * letter, 2 * half + 1.2, 1.2 * letter, { fill: 1 });
    pen.text({ x: p.x, y: p.y + 0.36 * letter }, text, { size: NAME, bold: true, align: 'middle' });
  }
}

/** Draws a piece put together, its parts named. */
export function drawTogether(pen: Pen, solids: readonly Solid[], clip: Clip, room: PictureRoom): void {
  const drawn = drawPiece(VIEW, solids, clip, false);
  const at = placed(drawn.box, room);
  drawSolids(pen, drawn, at, new Set());
  drawNames(pen, drawn, at, room, new Set(solids.map((s) => s.id)));
}

function arrowHead(pen: Pen, from: Point, to: Point): void {
  const l = Math.hypot(to.x - from.x, to.y - from.y);
  if (l < 0.5) return;
  const [dx, dy] = [(to.x - from.x) / l, (to.y - from.y) / l];
  const wing = (s: number): Point => ({ x: to.x - 2.6 * dx + s * dy, y: to.y - 2.6 * dy - s * dx });
  pen.loops([[to, wing(1), wing(-1)]], { fill: 0, stroke: 1, width: 0.25 });
}

/**
 * Draws one step: what stands in white, what moves in grey and drawn off along its move, a dashed line from every tenon to its place with an
 * arrow's head there, and a mark where to tap: a black dot, a ring where it lies on the far side. Hidden lines are taken out.
 */
export function drawStep(
  pen: Pen,
  step: PaperAssemblyStep,
  solids: readonly Solid[],
  clip: Clip,
  room: PictureRoom,
): void {
  const mine = new Set([...step.moving, ...shownOf(step)]);
  const moving = new Set(step.moving);
  const here = solids.filter((s) => mine.has(s.id));
  const corners = here.flatMap((s) =>
    s.faces.flatMap((f) => f.loops.flatMap((l) => l.map((x) => seen(VIEW, x)))),
  );
  const together = boxOf(corners);
  const span = Math.max(together.maxX - together.minX, together.maxY - together.minY);
  const off = Math.min(Math.max(step.travel, NEAREST), FARTHEST * span);
  const back = (x: Vec): Vec => along(x, -off, step.direction);
  const apart = here.map((s) => (moving.has(s.id) ? movedSolid(s, back([0, 0, 0])) : s));
  const drawn = drawPiece(VIEW, apart, clip, false);
  const at = placed(drawn.box, room);
  drawSolids(pen, drawn, at, moving);
  const paper = (x: Vec): Point => at(seen(VIEW, x));
  for (const { at: home } of step.places) {
    const [from, to] = [paper(back(home)), paper(home)];
    pen.line(from, to, { width: 0.3, dash: [2, 1] });
    arrowHead(pen, from, to);
  }
  const marked: Point[] = [];
  for (const { tap } of step.places) {
    const place = back(tap);
    const p = paper(place);
    if (marked.some((m) => Math.hypot(m.x - p.x, m.y - p.y) < 2.4)) continue;
    marked.push(p);
    const flat = seen(VIEW, place);
    const near = dot(place, VIEW.eye);
    const hidden = drawn.faces.some(
      ({ face }) => depthAt(face.depth, flat) > near + BEHIND && windsRound(face.loops, flat),
    );
    pen.circle(p, 1.25, hidden ? { fill: 1, stroke: 0, width: 0.45 } : { fill: 0, stroke: 1, width: 0.3 });
  }
  // Of many that move as one, those are named that something is met at.
  const met = new Set(step.places.map((p) => p.part));
  const movers = step.moving.length > MOST_NAMED ? step.moving.filter((id) => met.has(id)) : step.moving;
  const named = new Set([...movers, ...step.partners]);
  drawNames(pen, drawn, at, room, named);
}
