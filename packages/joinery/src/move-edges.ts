import { distance, type Point } from '@haunch/geometry';
import type { Diagnostic, Locus } from '@haunch/model';
import { edgeFlips, edgeVanishes, neighboursPart } from './diagnostics.js';
import { type Edge, edgeSweep, segmentOfEdge } from './loop.js';
import { meetAgain } from './meet.js';
import { SAME_PLACE } from './tolerances.js';

const still = (by: Point): boolean => by.x === 0 && by.y === 0;

/** How an edge is called in a sentence. */
export const edgeName = (k: number): string => `edge e${k}`;

/**
 * The loop after each of its edges has moved by its own vector (mm; a straight edge only the part square to
 * itself matters): neighbours are met again, radii stay. An edge that would vanish or run backwards, and
 * neighbours that no longer meet, are reported at `locus` instead. Edges between two that stay are untouched.
 */
export function moveEdges(
  edges: readonly Edge[],
  by: readonly Point[],
  locus: Locus,
): { readonly edges: readonly Edge[]; readonly problems: readonly Diagnostic[] } {
  if (by.every(still)) return { edges, problems: [] };
  const n = edges.length;
  const problems: Diagnostic[] = [];
  const corners = edges.map((edge, i) => {
    const before = (i + n - 1) % n;
    if (still(by[i]!) && still(by[before]!)) return edge.from;
    const p = meetAgain(segmentOfEdge(edges[before]!), by[before]!, segmentOfEdge(edge), by[i]!, edge.from);
    if (!p) problems.push(neighboursPart(edgeName(before), edgeName(i), { ...locus, at: edge.from }));
    return p ?? edge.from;
  });
  if (problems.length > 0) return { edges, problems };
  const moved = edges.map((edge, i): Edge => {
    const centre = edge.centre && { x: edge.centre.x + by[i]!.x, y: edge.centre.y + by[i]!.y };
    return { ...edge, from: corners[i]!, to: corners[(i + 1) % n]!, ...(centre ? { centre } : {}) };
  });
  moved.forEach((edge, i) => {
    const old = edges[i]!;
    const at = { ...locus, at: old.from };
    if (distance(edge.from, edge.to) <= SAME_PLACE && distance(old.from, old.to) > SAME_PLACE)
      problems.push(edgeVanishes(edgeName(i), at));
    else if (flipped(old, edge)) problems.push(edgeFlips(edgeName(i), at));
  });
  return { edges: moved, problems };
}

/** Whether an edge has come to run the other way: an arc's sweep then jumps across a half turn or more. */
function flipped(old: Edge, now: Edge): boolean {
  if (old.centre) return Math.abs(edgeSweep(now) - edgeSweep(old)) > Math.PI;
  const was = { x: old.to.x - old.from.x, y: old.to.y - old.from.y };
  const is = { x: now.to.x - now.from.x, y: now.to.y - now.from.y };
  return was.x * is.x + was.y * is.y < 0;
}
