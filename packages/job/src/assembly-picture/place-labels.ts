import type { Point, Polygon } from '@haunch/geometry';

/** A part's name in the picture, in the picture's units, y down. */
export interface Label {
  readonly text: string;
  /** The middle of the word. */
  readonly at: Point;
  /** The place on the part from which a line leads to the word; absent where the word stands on the part. */
  readonly anchor?: Point;
}

/** What can be seen of a part's biggest side. */
export interface LabelledArea {
  readonly text: string;
  readonly polygons: readonly Polygon[];
}

/** Where labels may go. */
export interface LabelRoom {
  /** Letter height. */
  readonly letter: number;
  /** All that the piece covers: a word with a leader stands clear of it. */
  readonly silhouette: readonly Polygon[];
  readonly width: number;
  readonly height: number;
}

/** A word's half width and half height, air included. */
export const wordHalf = (text: string, letter: number): Point => ({
  x: letter * (0.36 * text.length + 0.35),
  y: letter * 0.7,
});

/** Lines across an area in which places are tried. */
const TRIES = 28;
/** More room round a word than this many half sizes makes it no better placed. */
const ROOM_ENOUGH = 2.6;
/** Lengths of leaders that are tried, in letter heights, and the directions. */
const LEADERS = [2.5, 3.5, 4.5, 6, 8, 10, 13, 16];
const DIRECTIONS = 36;

function inside(polygons: readonly Polygon[], p: Point): boolean {
  let odd = false;
  for (const polygon of polygons)
    for (let i = 0; i < polygon.length; i++) {
      const a = polygon[i]!;
      const b = polygon[(i + 1) % polygon.length]!;
      if (a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) / (b.y - a.y)) * (b.x - a.x)) odd = !odd;
    }
  return odd;
}

/** The distance to the nearest border, where x and y are measured in half sizes of the word. */
function roomAt(polygons: readonly Polygon[], p: Point, half: Point): number {
  let least = Infinity;
  for (const polygon of polygons)
    for (let i = 0; i < polygon.length; i++) {
      const a = polygon[i]!;
      const b = polygon[(i + 1) % polygon.length]!;
      const [ax, ay] = [(a.x - p.x) / half.x, (a.y - p.y) / half.y];
      const [dx, dy] = [(b.x - a.x) / half.x, (b.y - a.y) / half.y];
      const l = dx * dx + dy * dy;
      const t = l === 0 ? 0 : Math.max(0, Math.min(1, -(ax * dx + ay * dy) / l));
      least = Math.min(least, Math.hypot(ax + t * dx, ay + t * dy));
    }
  return least;
}

/** The place in an area with the most room for a word; of those with enough, the one nearest the middle. */
function bestPlace(polygons: readonly Polygon[], half: Point): { at: Point; room: number } | undefined {
  const all = polygons.flat();
  const [minX, maxX] = [Math.min(...all.map((p) => p.x)), Math.max(...all.map((p) => p.x))];
  const [minY, maxY] = [Math.min(...all.map((p) => p.y)), Math.max(...all.map((p) => p.y))];
  let best: { at: Point; room: number; worth: number } | undefined;
  for (let i = 1; i < TRIES; i++)
    for (let k = 1; k < TRIES; k++) {
      const [fx, fy] = [i / TRIES, k / TRIES];
      const at = { x: minX + fx * (maxX - minX), y: minY + fy * (maxY - minY) };
      if (!inside(polygons, at)) continue;
      const room = roomAt(polygons, at, half);
      const worth = Math.min(room, ROOM_ENOUGH) - 0.5 * Math.hypot(fx - 0.5, fy - 0.5);
      if (!best || worth > best.worth) best = { at, room, worth };
    }
  return best;
}

interface WordBox {
  readonly at: Point;
  readonly half: Point;
}
const apart = (a: WordBox, b: WordBox): boolean =>
  Math.abs(a.at.x - b.at.x) >= a.half.x + b.half.x || Math.abs(a.at.y - b.at.y) >= a.half.y + b.half.y;

/** Whether a straight leader runs through a word. */
const strikes = (from: Point, to: Point, w: WordBox): boolean =>
  Array.from({ length: 25 }, (_, i) => i / 24).some(
    (t) =>
      Math.abs(from.x + t * (to.x - from.x) - w.at.x) < w.half.x &&
      Math.abs(from.y + t * (to.y - from.y) - w.at.y) < w.half.y,
  );

function besides(anchor: Point, half: Point, words: readonly WordBox[], room: LabelRoom): Point | undefined {
  for (const reach of LEADERS) {
    let best: { at: Point; worth: number } | undefined;
    for (let k = 0; k < DIRECTIONS; k++) {
      const angle = (2 * Math.PI * k) / DIRECTIONS;
      const at = {
        x: anchor.x + reach * room.letter * Math.cos(angle),
        y: anchor.y + reach * room.letter * Math.sin(angle),
      };
      const box = { at, half };
      const inCard =
        at.x > 2 * half.x &&
        at.y > 2 * half.y &&
        at.x < room.width - 2 * half.x &&
        at.y < room.height - 2 * half.y;
      if (!inCard || inside(room.silhouette, at)) continue;
      const air = roomAt(room.silhouette, at, half);
      if (air < 1.45 || words.some((w) => !apart(w, box) || strikes(anchor, at, w))) continue;
      const worth = Math.min(air, 2.5);
      if (!best || worth > best.worth) best = { at, worth };
    }
    if (best) return best.at;
  }
  return undefined;
}

/**
 * Places the names of parts: on the part where there is room, or else beside the piece with a line that leads to
 * the part. A name for which neither is found is left out. The order of the areas decides who chooses first.
 */
export function placeLabels(areas: readonly LabelledArea[], room: LabelRoom): Label[] {
  const labels: Label[] = [];
  const words: WordBox[] = [];
  const waiting: { text: string; half: Point; anchor: Point }[] = [];
  for (const { text, polygons } of areas) {
    const half = wordHalf(text, room.letter);
    const best = polygons.length === 0 ? undefined : bestPlace(polygons, half);
    if (!best) continue;
    if (best.room >= Math.SQRT2 && words.every((w) => apart(w, { at: best.at, half }))) {
      labels.push({ text, at: best.at });
      words.push({ at: best.at, half });
    } else waiting.push({ text, half, anchor: best.at });
  }
  for (const { text, half, anchor } of waiting) {
    const at = besides(anchor, half, words, room);
    if (!at) continue;
    labels.push({ text, at, anchor });
    words.push({ at, half });
  }
  return labels;
}
