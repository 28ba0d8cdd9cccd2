import { type Direction, isWithinTurn, nameOf, sameDirection, turnTo } from './direction.js';
import { gapsBetween, outsideSector, type Sector, sectorOf } from './sectors.js';
import { type Tile, tilesOverlap } from './tile.js';

/** Tiles that are exchangeable: how many there are, and what they look like in each of their turns. */
export interface TileKind {
  readonly count: number;
  readonly tiles: readonly Tile[];
  readonly area: number;
}

/** Frames of one size that all tiles together fill without waste. */
export interface Puzzle {
  readonly kinds: readonly TileKind[];
  readonly frames: number;
  readonly width: number;
  readonly height: number;
}

/** Where a tile went. */
export interface Put {
  readonly kind: number;
  /** Which of the kind's tiles: its turn. */
  readonly turn: number;
  readonly frame: number;
  readonly x: number;
  readonly y: number;
}

/** A way to put a tile: with a corner into a corner. */
interface Fit {
  readonly kind: number;
  readonly turn: number;
  readonly corner: number;
}

/** Nodes of the first attempt; each later one may look at more. */
const FIRST_NODES = 400;
const MORE_NODES = 1.3;

/** How much better it is to fill a corner wholly, and how much chance has to say. */
const WHOLE = 1;
const CHANCE = 0.8;

class Assembly {
  readonly left: number[];
  readonly puts: Put[] = [];
  readonly lying: Put[][];
  /** Corners of what lies in a frame, and its own. */
  readonly points: { readonly x: number; readonly y: number }[][];
  readonly byOut = new Map<string, Fit[]>();
  readonly byBack = new Map<string, Fit[]>();
  readonly largest: number;
  nodes = 0;

  constructor(
    readonly puzzle: Puzzle,
    readonly random: () => number,
  ) {
    const { kinds, frames, width, height } = puzzle;
    this.left = kinds.map((k) => k.count);
    this.lying = Array.from({ length: frames }, () => []);
    this.points = Array.from({ length: frames }, () => [
      { x: 0, y: 0 },
      { x: 0, y: height },
      { x: width, y: 0 },
      { x: width, y: height },
    ]);
    this.largest = Math.max(...kinds.map((k) => k.area));
    const note = (map: Map<string, Fit[]>, d: Direction, fit: Fit): void => {
      const name = nameOf(d);
      const list = map.get(name) ?? [];
      map.set(name, list);
      list.push(fit);
    };
    kinds.forEach(({ tiles }, kind) => {
      tiles.forEach((tile, turn) => {
        tile.corners.forEach((c, corner) => {
          if (!c.convex) return;
          note(this.byOut, c.out, { kind, turn, corner });
          note(this.byBack, c.back, { kind, turn, corner });
        });
      });
    });
  }

  gapsAt(frame: number, x: number, y: number): Sector[] {
    const sectors: Sector[] = [];
    const outside = outsideSector(x, y, this.puzzle.width, this.puzzle.height);
    if (outside) sectors.push(outside);
    for (const p of this.lying[frame]!) {
      const s = sectorOf(this.puzzle.kinds[p.kind]!.tiles[p.turn]!, x - p.x, y - p.y);
      if (s) sectors.push(s);
    }
    return gapsBetween(sectors);
  }

  /** The ways to fill the one end of a gap, or the other, whichever are fewer. */
  fits(gap: Sector): Fit[] {
    const { kinds } = this.puzzle;
    const corner = (f: Fit) => kinds[f.kind]!.tiles[f.turn]!.corners[f.corner]!;
    const there = (f: Fit): boolean => this.left[f.kind]! > 0;
    const first = (this.byOut.get(nameOf(gap.from)) ?? []).filter(
      (f) => there(f) && isWithinTurn(corner(f).back, gap.from, gap.to),
    );
    if (first.length === 0) return first;
    const last = (this.byBack.get(nameOf(gap.to)) ?? []).filter(
      (f) =>
        there(f) && (sameDirection(corner(f).out, gap.from) || isWithinTurn(corner(f).out, gap.from, gap.to)),
    );
    return last.length < first.length ? last : first;
  }

  /** The first free corner: least x, then least y; undefined where the frame is full. */
  nextCorner(frame: number): { readonly x: number; readonly y: number; readonly gap: Sector } | undefined {
    let best: { x: number; y: number; gap: Sector } | undefined;
    for (const { x, y } of this.points[frame]!) {
      if (best && (x > best.x || (x === best.x && y >= best.y))) continue;
      const [gap] = this.gapsAt(frame, x, y);
      if (gap) best = { x, y, gap };
    }
    return best;
  }

  put(p: Put): boolean {
    const { kinds, width, height } = this.puzzle;
    const tile = kinds[p.kind]!.tiles[p.turn]!;
    if (p.x < 0 || p.y < 0 || p.x + tile.width > width || p.y + tile.height > height) return false;
    const lying = this.lying[p.frame]!;
    for (const q of lying)
      if (tilesOverlap(kinds[q.kind]!.tiles[q.turn]!, tile, p.x - q.x, p.y - q.y)) return false;
    lying.push(p);
    this.left[p.kind]!--;
    const points = this.points[p.frame]!;
    const before = points.length;
    for (const c of tile.corners) points.push({ x: c.x + p.x, y: c.y + p.y });
    this.puts.push(p);
    if (this.isHopeful(p, tile)) return true;
    this.take(before);
    return false;
  }

  /** Whether every corner that a tile has to do with can still be filled. */
  isHopeful(p: Put, tile: Tile): boolean {
    for (const { x, y } of this.points[p.frame]!) {
      if (!sectorOf(tile, x - p.x, y - p.y)) continue;
      for (const gap of this.gapsAt(p.frame, x, y))
        if (turnTo(gap.from, gap.to) > 0 && this.fits(gap).length === 0 && this.filled() < this.total())
          return false;
    }
    return true;
  }

  filled(): number {
    return this.puts.length;
  }

  total(): number {
    return this.puzzle.kinds.reduce((n, k) => n + k.count, 0);
  }

  /** Takes the last tile away; its frame then has `points` points. */
  take(points: number): void {
    const p = this.puts.pop()!;
    this.lying[p.frame]!.pop();
    this.left[p.kind]!++;
    this.points[p.frame]!.length = points;
  }
}

/** The ways to fill a gap, those that fill it wholly and the large ones rather first. */
function inOrder(a: Assembly, gap: Sector): Fit[] {
  const rank = (f: Fit): number => {
    const { tiles, area } = a.puzzle.kinds[f.kind]!;
    const c = tiles[f.turn]!.corners[f.corner]!;
    const whole = sameDirection(c.out, gap.from) && sameDirection(c.back, gap.to) ? WHOLE : 0;
    return whole + area / a.largest + CHANCE * a.random();
  };
  return a
    .fits(gap)
    .map((fit) => ({ fit, rank: rank(fit) }))
    .sort(
      (p, q) =>
        q.rank - p.rank || p.fit.kind - q.fit.kind || p.fit.turn - q.fit.turn || p.fit.corner - q.fit.corner,
    )
    .map(({ fit }) => fit);
}

/** Goes on with the first free corner; `true` solved, `false` no way on, undefined where nodes or budget are at an end. */
function goOn(a: Assembly, frame: number, most: number, tick: () => boolean): boolean | undefined {
  const at = a.nextCorner(frame);
  if (!at) return frame + 1 === a.puzzle.frames || goOn(a, frame + 1, most, tick);
  for (const { kind, turn, corner } of inOrder(a, at.gap)) {
    if (a.nodes++ >= most || !tick()) return undefined;
    const c = a.puzzle.kinds[kind]!.tiles[turn]!.corners[corner]!;
    const points = a.points[frame]!.length;
    if (!a.put({ kind, turn, frame, x: at.x - c.x, y: at.y - c.y })) continue;
    const solved = goOn(a, frame, most, tick);
    if (solved !== false) return solved;
    a.take(points);
  }
  return false;
}

/**
 * Puts a puzzle together exactly: at the first free corner lies some tile with a corner of its own and an edge along
 * one of the corner's sides, so only such are tried, and what leaves a corner that none can fill is taken back. Begins
 * anew, by chance in another order, after ever more trials. Undefined where there is no way or the budget ends; each
 * trial takes one tick. For tiles that all have corners on the grid; two of them that lie in a straight
 * line count as filled between.
 */
export function assemble(
  puzzle: Puzzle,
  run: { random(): number; tick(): boolean },
): readonly Put[] | undefined {
  for (let most = FIRST_NODES; ; most = Math.ceil(most * MORE_NODES)) {
    const a = new Assembly(puzzle, () => run.random());
    let goes = true;
    const tick = (): boolean => {
      goes &&= run.tick();
      return goes;
    };
    const solved = goOn(a, 0, most, tick);
    if (solved) return a.puts;
    if (solved === false || !goes) return undefined;
  }
}
