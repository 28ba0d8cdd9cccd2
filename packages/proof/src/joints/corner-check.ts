import { distance } from '@haunch/geometry';
import type { TrackIndex } from '../sweep/track-index.js';
import type { WantedContour } from '../wanted/wanted-contour.js';
import { intoAir } from '../wanted/wanted-contour.js';
import { bareEdges, wallCut } from './wall.js';

/** How near to its sharp corner a wall is asked for material left there, and how often, mm. */
const NEAREST = 0.3;
const STEP = 0.25;

/**
 * How far material stands out of a wall in the corners that the entering plate's arrises must reach: those with
 * another wall of the same joint. 0 when they are clear. mm
 */
export function standsInCorner(
  contour: WantedContour,
  tag: string,
  mates: ReadonlySet<string>,
  removed: TrackIndex,
  reach: number,
): number {
  const edges = bareEdges(contour);
  let most = 0;
  edges.forEach((edge, i) => {
    if (edge.tag !== tag || edge.kind !== 'line') return;
    const length = distance(edge.from, edge.to);
    const ask = (s: number): void => {
      const t = s / length;
      const p = {
        x: edge.from.x + (edge.to.x - edge.from.x) * t,
        y: edge.from.y + (edge.to.y - edge.from.y) * t,
      };
      most = Math.max(most, -wallCut(removed, p, intoAir(contour, edge, p)).off);
    };
    const before = edges[(i + edges.length - 1) % edges.length]!.tag;
    const after = edges[(i + 1) % edges.length]!.tag;
    for (let s = NEAREST; s <= Math.min(reach, length / 2); s += STEP) {
      if (before !== undefined && mates.has(before)) ask(s);
      if (after !== undefined && mates.has(after)) ask(length - s);
    }
  });
  return most;
}
