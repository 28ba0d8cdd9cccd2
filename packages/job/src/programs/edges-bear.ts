import { ringSegments } from '@haunch/geometry';
import type { Part } from '@haunch/model';
import type { BoardSequence } from './prove-programs.js';

/**
 * How far an edge may come out beside its place because another cutter makes it than was planned for, mm: beyond this the drawing is not
 * what is cut. Ours: half of the usual spread of one label's cutters, 0.1 mm in diameter. Joints are judged by their own windows.
 */
export const ANOTHER_CUTTER = 0.05;
/** What an edge may be off anyway, mm: the proof's own tolerance. */
const ANYWAY = 0.01;

/** What the proof is told where edges come out `beside` mm beside their places; nothing where they do not. */
export function edgesBear(
  items: readonly { readonly part: Part }[],
  beside: number,
): Pick<BoardSequence, 'edgeTolerances'> {
  if (!(beside > 0)) return {};
  const bears = ANYWAY + Math.min(beside, ANOTHER_CUTTER);
  const rings = items.flatMap(({ part: p }) => [p.outline, ...p.through, ...p.pockets].map((c) => c.ring));
  const tags = rings.flatMap((r) => ringSegments(r).flatMap((s) => s.tag ?? []));
  return { edgeTolerances: Object.fromEntries(tags.map((t) => [t, bears])) };
}
