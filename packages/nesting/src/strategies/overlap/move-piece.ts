import { costAt, type Field, sureDepthOf, touch, touching } from './field.js';
import { gather } from './gather.js';
import { isOpen, type Search } from './search.js';
import type { Piece } from './variant.js';

/** Places tried near where a piece lies, and all over the rooms. */
const NEAR = 18;
const ANYWHERE = 36;
/** Places tried where the piece touches another one corner in corner: exact fits of puzzles are among them. */
const TOUCHING = 12;
/** How many of them are refined. */
const KEPT = 3;
/** Refinement begins with steps of this share of the piece's size, and ends at the others. */
const FIRST_STEP = 0.06;
const ROUGH_STEP = 0.004;
/** A descent does not go further than this share of the size. */
const WINDOW = 0.4;
const LONGER = 1.15;
const SHORTER = 0.55;

/** A place for the piece in hand. */
interface Place {
  x: number;
  y: number;
  variant: number;
  room: number;
  cost: number;
}

const places: Place[] = Array.from({ length: KEPT }, () => ({
  x: 0,
  y: 0,
  variant: 0,
  room: 0,
  cost: Infinity,
}));

/** Keeps a place if it is among the best. */
function keep(x: number, y: number, variant: number, room: number, cost: number): void {
  const last = places[KEPT - 1]!;
  if (cost >= last.cost) return;
  last.x = x;
  last.y = y;
  last.variant = variant;
  last.room = room;
  last.cost = cost;
  for (let k = KEPT - 1; k > 0 && places[k]!.cost < places[k - 1]!.cost; k--)
    [places[k - 1], places[k]] = [places[k]!, places[k - 1]!];
}

const clamp = (v: number, lo: number, hi: number): number => Math.max(lo, Math.min(v, hi));

/** Descent along x, y and both diagonals, with steps that grow on success and shrink on failure. */
function refine(f: Field, p: Place, random: () => number, first: number, last: number): void {
  let stepX = first;
  let stepY = first;
  while (p.cost > 0 && (stepX >= last || stepY >= last)) {
    const way = (random() * 4) | 0;
    const dx = way === 1 ? 0 : stepX;
    const dy = way === 0 ? 0 : way === 3 ? -stepY : stepY;
    let better = false;
    for (let side = -1; side <= 1; side += 2) {
      const x = clamp(Math.round(p.x + side * dx), f.roomX0, f.roomX1);
      const y = clamp(Math.round(p.y + side * dy), f.roomY0, f.roomY1);
      if (x === p.x && y === p.y) continue;
      const cost = costAt(f, x, y, p.cost);
      if (cost < p.cost) {
        p.x = x;
        p.y = y;
        p.cost = cost;
        better = true;
        break;
      }
    }
    const by = better ? LONGER : SHORTER;
    if (way !== 1) stepX *= by;
    if (way !== 0) stepY *= by;
  }
}

/** Tries the lattice points round a place. */
function toLattice(f: Field, p: Place, lattice: number): void {
  const bx = Math.floor(p.x / lattice) * lattice;
  const by = Math.floor(p.y / lattice) * lattice;
  for (let k = 0; k < 4; k++) {
    const x = clamp(bx + (k & 1) * lattice, f.roomX0, f.roomX1);
    const y = clamp(by + (k >> 1) * lattice, f.roomY0, f.roomY1);
    const cost = costAt(f, x, y, p.cost + 1e-9);
    if (cost <= p.cost) {
      p.x = x;
      p.y = y;
      p.cost = cost;
    }
  }
}

/** How many rooms a move looks at, beside the one that the piece is in. */
const OTHER_ROOMS = 3;

/** The room of piece `i`, and some others that it may be in, at random where there are many. */
function roomsToVisit({ rooms, pieces, now, random }: Search, i: number): number[] {
  const own = now.room[i]!;
  if (rooms.length === 1) return [own];
  const others: number[] = [];
  for (const bed of pieces[i]!.beds) if (bed !== own && isOpen(rooms[bed]!)) others.push(bed);
  const many = Math.min(OTHER_ROOMS, others.length);
  for (let k = 0; k < many; k++) {
    const m = k + Math.floor(random() * (others.length - k));
    [others[k], others[m]] = [others[m]!, others[k]!];
  }
  return [own, ...others.slice(0, many)];
}

/** Of more turns than this a move tries its own, its neighbours and some at random. */
const MOST_TURNS = 8;

/** The variants that a move of a piece tries, its own first. */
function turnsToTry({ random }: Search, { variants }: Piece, own: number): number[] {
  const n = variants.length;
  const first = variants.indexOf(own);
  if (n <= MOST_TURNS) return variants.map((_, t) => variants[(first + t) % n]!);
  const out = new Set([own, variants[(first + 1) % n]!, variants[(first + n - 1) % n]!]);
  while (out.size < MOST_TURNS) out.add(variants[Math.floor(random() * n)]!);
  return [...out];
}

/**
 * Moves piece `i` where its weighted overlaps count less, if such a place is found: samples near it and all over,
 * in all its variants, then refines the best. Answers whether it moved.
 */
export function movePiece(s: Search, i: number): boolean {
  const { pieces, variants, now, random, field } = s;
  const piece = pieces[i]!;
  const { size } = piece;
  const own = now.variant[i]!;
  const ownRoom = now.room[i]!;
  for (const p of places) p.cost = Infinity;
  if (!gather(s, i, own, ownRoom)) throw new Error('movePiece: the piece lies in a room too small for it');
  const before = costAt(field, now.x[i]!, now.y[i]!, Infinity);
  if (before === 0) return false;
  keep(now.x[i]!, now.y[i]!, own, ownRoom, before);
  const centreX = now.x[i]! + variants[own]!.width / 2;
  const centreY = now.y[i]! + variants[own]!.height / 2;
  const visited = roomsToVisit(s, i);
  const tried = turnsToTry(s, piece, own);
  const spread = visited.length * tried.length;
  for (const room of visited) {
    for (const variant of tried) {
      const here = room === ownRoom;
      if (!gather(s, i, variant, room)) continue;
      const near = !here ? 0 : variant === own ? NEAR * 0.6 : (NEAR * 0.4) / Math.max(1, tried.length - 1);
      const w = field.roomX1 - field.roomX0;
      const h = field.roomY1 - field.roomY0;
      const v = variants[variant]!;
      for (let k = 0; k < near; k++) {
        const reach = size * (k % 2 === 0 ? 0.2 : 0.6);
        const x = clamp(
          Math.round(centreX - v.width / 2 + (2 * random() - 1) * reach),
          field.roomX0,
          field.roomX1,
        );
        const y = clamp(
          Math.round(centreY - v.height / 2 + (2 * random() - 1) * reach),
          field.roomY0,
          field.roomY1,
        );
        keep(x, y, variant, room, costAt(field, x, y, places[KEPT - 1]!.cost));
      }
      for (let n = 0; n < TOUCHING / spread && field.count > 0; n++) {
        const k = (random() * field.count) | 0;
        const share = random();
        // Where pieces have not yet met their table is not there, and not worth making for this.
        if (!field.tables[k] || !touch(field, k, share)) continue;
        const { x, y } = touching;
        if (x < field.roomX0 || x > field.roomX1 || y < field.roomY0 || y > field.roomY1) continue;
        keep(x, y, variant, room, costAt(field, x, y, places[KEPT - 1]!.cost));
      }
      for (let k = 0; k < ANYWHERE / spread; k++) {
        const x = Math.round(field.roomX0 + random() * w);
        const y = Math.round(field.roomY0 + random() * h);
        keep(x, y, variant, room, costAt(field, x, y, places[KEPT - 1]!.cost));
      }
    }
  }
  let best: Place | undefined;
  const reach = Math.ceil(WINDOW * size);
  for (const p of places) {
    if (p.cost === Infinity) continue;
    if (p.cost > 0) {
      gather(s, i, p.variant, p.room, { x: p.x, y: p.y, reach });
      refine(field, p, random, FIRST_STEP * size, ROUGH_STEP * size);
    }
    if (!best || p.cost < best.cost) best = p;
    if (best.cost === 0) break;
  }
  if (!best) return false;
  gather(s, i, best.variant, best.room, { x: best.x, y: best.y, reach });
  if (best.cost > 0) refine(field, best, random, ROUGH_STEP * size, s.fineStep * size);
  if (s.lattice > 1) toLattice(field, best, s.lattice);
  if (!(best.cost < before)) return false;
  now.x[i] = best.x;
  now.y[i] = best.y;
  now.variant[i] = best.variant;
  now.room[i] = best.room;
  noteOverlaps(s, i);
  return true;
}

/** Writes down how badly piece `i` overlaps each other piece where it lies. The field must be its own. */
function noteOverlaps(s: Search, i: number): void {
  const { field: f, overlaps, bedOverlaps, partners, now } = s;
  const n = s.pieces.length;
  const x = now.x[i]!;
  const y = now.y[i]!;
  for (let j = 0; j < n && partners[i]! > 0; j++) {
    if (overlaps[i * n + j] === 0) continue;
    overlaps[i * n + j] = 0;
    overlaps[j * n + i] = 0;
    partners[i]!--;
    partners[j]!--;
  }
  bedOverlaps[i] = 0;
  for (let k = 0; k < f.count; k++) {
    if (x <= f.x0[k]! || x >= f.x1[k]! || y <= f.y0[k]! || y >= f.y1[k]!) continue;
    const depth = sureDepthOf(f, k, x, y);
    if (depth === 0) continue;
    const j = f.who[k]!;
    if (j < 0) bedOverlaps[i]! += s.roots[i]! ** 2 * (depth + f.floor);
    else {
      const bad = s.roots[i]! * s.roots[j]! * (depth + f.floor);
      overlaps[i * n + j] = bad;
      overlaps[j * n + i] = bad;
      partners[i]!++;
      partners[j]!++;
    }
  }
}

/** Whether piece `i` overlaps anything. */
export const isOverlapping = ({ partners, bedOverlaps }: Search, i: number): boolean =>
  partners[i]! > 0 || bedOverlaps[i]! > 0;

/** Writes down all overlaps afresh. */
export function noteAllOverlaps(s: Search): void {
  for (let i = 0; i < s.pieces.length; i++) {
    if (!gather(s, i, s.now.variant[i]!, s.now.room[i]!))
      throw new Error('noteAllOverlaps: a piece lies in a room too small for it');
    noteOverlaps(s, i);
  }
}
