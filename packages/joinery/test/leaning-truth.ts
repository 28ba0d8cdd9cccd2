import type { Master, MasterPart } from '@haunch/model';
import { frameOf, inPlate, toWorld, type Vec } from '../src/frame.js';
import type { MasterQuestion } from '../src/index.js';

/** The corners of a part's body and of its through cuts in the world. */
const cornersOf = (p: MasterPart): Vec[] => {
  const f = frameOf(p);
  return [p.outline, ...p.through.map((c) => c.loop)].flatMap((l) =>
    l.segments.flatMap(({ to: [x, y] }) => [0, p.thickness].map((w) => toWorld(f, { x, y }, w))),
  );
};

/** The corners of some parts as another one sees them. */
function seenFrom(base: MasterPart, parts: readonly MasterPart[]): Vec[] {
  const f = frameOf(base);
  return parts.flatMap(cornersOf).map((c) => {
    const { x, y, w } = inPlate(f, c);
    return [x, y, w];
  });
}

const distance = (a: Vec, b: Vec): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

/** How far the farthest corner of one heap is from the nearest of the other, mm. */
function between(a: readonly Vec[], b: readonly Vec[]): number {
  if (a.length !== b.length) return Infinity;
  const most = (from: readonly Vec[], to: readonly Vec[]): number =>
    Math.max(...from.map((c) => Math.min(...to.map((d) => distance(c, d)))));
  return Math.max(most(a, b), most(b, a));
}

const pick = (parts: readonly MasterPart[], ids: readonly string[]): MasterPart[] =>
  ids.flatMap((id) => parts.find((p) => p.id === id) ?? []);

/** How far corners of two masters' parts, as one of the parts sees them, are apart; like parts may have changed places. mm */
export function corner(
  a: readonly MasterPart[],
  b: readonly MasterPart[],
  base: string,
  ids: readonly string[],
): number {
  const [f, g] = [a.find((p) => p.id === base)!, b.find((p) => p.id === base)!];
  return between(seenFrom(f, pick(a, ids)), seenFrom(g, pick(b, ids)));
}

/** The choices of a question in which a part stands where some part like it stands in truth, seen from another; numbers from 1. */
export function trueChoices(q: MasterQuestion, truth: Master, base: string): number[] {
  const [id] = q.parts;
  const like = (p: MasterPart): number => p.outline.segments.length;
  const own = truth.parts.find((p) => p.id === id)!;
  const twins = truth.parts.filter((p) => like(p) === like(own));
  return (q.standing ?? []).flatMap((parts, n) => {
    const [f, g] = [parts.find((p) => p.id === base), truth.parts.find((p) => p.id === base)!];
    const there = parts.find((p) => p.id === id);
    if (!f || !there) return [];
    const seen = seenFrom(f, [there]);
    return twins.some((t) => between(seen, seenFrom(g, [t])) < 0.05) ? [n + 1] : [];
  });
}
