import type { Frame, Vec } from '../frame.js';
import type { FoundPiece } from '../mates/find-mates.js';

/** Places that differ by less are one, mm: clearance moves plates by less. */
const SAME = 2;

/** Frames by where they face, then by how they are turned, then by where they are; 0 where they are one. */
export function compareFrames(a: Frame, b: Frame): number {
  const turned = (v: Vec, w: Vec): number => {
    const k = [0, 1, 2].find((i) => Math.abs(v[i]! - w[i]!) > 0.01);
    return k === undefined ? 0 : w[k]! - v[k]!;
  };
  const by = turned(a.n, b.n) || turned(a.u, b.u);
  if (by !== 0) return by;
  const k = [0, 1, 2].find((i) => Math.abs(a.origin[i]! - b.origin[i]!) > SAME);
  return k === undefined ? 0 : a.origin[k]! - b.origin[k]!;
}

function compare(a: FoundPiece, b: FoundPiece): number {
  const there = new Map(b.frames.map((f) => [f.part, f.frame]));
  for (const { part, frame } of a.frames) {
    const other = there.get(part);
    if (!other) return 1;
    const by = compareFrames(frame, other);
    if (by !== 0) return by;
  }
  return 0;
}

/** The ways of a question in an order that the ways alone decide, not how well each was found. */
export const orderedWays = (ways: readonly FoundPiece[]): FoundPiece[] =>
  ways
    .map((way, i) => ({ way, i }))
    .sort((a, b) => compare(a.way, b.way) || a.i - b.i)
    .map(({ way }) => way);
