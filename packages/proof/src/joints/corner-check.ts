import { distance } from '@haunch/geometry';
import { intoAir } from '../wanted/wanted-contour.js';
import { removedBeside, type Side } from './measure-wall.js';
import { remember } from './remember.js';
import { bareEdges, wallCut } from './wall.js';

/** How near to its sharp corner a wall is asked for material left there, and how often, mm. */
const NEAREST = 0.3;
const STEP = 0.25;

/**
 * How far material stands out of a wall in the corners that the entering plate's arrises must reach: those with
 * another wall of the same joint (`mates`). 0 when they are clear. mm
 */
export function standsInCorner(side: Side, tag: string, mates: ReadonlySet<string>): number {
  const known = cornersOf(side);
  const name = JSON.stringify([tag, ...[...mates].sort()]);
  let most = known.get(name);
  if (most === undefined) {
    most = mostInCorner(side, tag, mates);
    known.set(name, most);
  }
  return most;
}

const cornersOf = remember((_side: Side) => new Map<string, number>());

function mostInCorner(side: Side, tag: string, mates: ReadonlySet<string>): number {
  const { contour } = side;
  const edges = bareEdges(contour);
  let most = 0;
  edges.forEach((edge, i) => {
    if (edge.tag !== tag || edge.kind !== 'line') return;
    const before = edges[(i + edges.length - 1) % edges.length]!.tag;
    const after = edges[(i + 1) % edges.length]!.tag;
    const [first, last] = [before, after].map((t) => t !== undefined && mates.has(t));
    if (!first && !last) return;
    const length = distance(edge.from, edge.to);
    for (const removed of removedBeside(side, [edge])) {
      const ask = (s: number): void => {
        const t = s / length;
        const p = {
          x: edge.from.x + (edge.to.x - edge.from.x) * t,
          y: edge.from.y + (edge.to.y - edge.from.y) * t,
        };
        most = Math.max(most, -wallCut(removed, p, intoAir(contour, edge, p)).off);
      };
      for (let s = NEAREST; s <= Math.min(side.radius, length / 2); s += STEP) {
        if (first) ask(s);
        if (last) ask(length - s);
      }
    }
  });
  return most;
}
