import { type Ring, ringBounds } from '@haunch/geometry';
import type { Made } from '@haunch/job';
import type { Contour, Part } from '@haunch/model';
import { circlePath, edgePath, ringPath } from '../ui/ring-path.js';
import type { ShownFlat, ShownJoints } from './shown-wire.js';

const contoursOf = (part: Part): readonly Contour[] => [part.outline, ...part.through, ...part.pockets];

type Box = [number, number, number, number];
const NOTHING: Box = [Infinity, Infinity, -Infinity, -Infinity];

/** Edges of parts as path data in the frame of their flat drawings, by part and edge. */
class Edges {
  readonly #at = new Map<string, { readonly ring: Ring; readonly index: number; readonly part: Part }>();

  constructor(parts: readonly Part[]) {
    for (const part of parts)
      for (const { ring } of contoursOf(part))
        ring.vertices.forEach((v, index) => {
          if (v.tag !== undefined) this.#at.set(`${part.id}\n${v.tag}`, { ring, index, part });
        });
  }

  /** Some edges of a part in one path, and the box round them. The floor of a pocket is no edge, and is left out. */
  path(part: string, edges: readonly string[]): { readonly d: string; readonly box: Box } {
    let d = '';
    const box: Box = [...NOTHING];
    for (const edge of new Set(edges)) {
      const found = this.#at.get(`${part}\n${edge}`);
      if (!found) continue;
      const { minX, maxY } = ringBounds(found.part.outline.ring);
      const { vertices } = found.ring;
      d += edgePath(vertices, found.index, minX, maxY);
      for (const v of [vertices[found.index]!, vertices[(found.index + 1) % vertices.length]!]) {
        box[0] = Math.min(box[0], v.x - minX);
        box[1] = Math.min(box[1], maxY - v.y);
        box[2] = Math.max(box[2], v.x - minX);
        box[3] = Math.max(box[3], maxY - v.y);
      }
    }
    return { d, box };
  }
}

function flat(part: Part, board: string): ShownFlat {
  const { minX, minY, maxX, maxY } = ringBounds(part.outline.ring);
  const path = (c: Contour): string => ringPath(c.ring.vertices, minX, maxY);
  return {
    id: part.id,
    name: part.name,
    board,
    width: maxX - minX,
    height: maxY - minY,
    outline: path(part.outline),
    cuts: [
      ...part.through.map(path),
      ...part.pockets.map(path),
      ...part.holes.map((h) => circlePath(h.centre.x, h.centre.y, h.diameter / 2, minX, maxY)),
    ].join(''),
  };
}

/** Where the joints of a made job are in their parts: edges that touch, and the walls of every fit. */
export function showJoints({ laid, boards }: Made): ShownJoints {
  const { parts, joinery } = laid.fitted;
  const edges = new Edges(parts);
  const boardOf = new Map(boards.flatMap((b) => b.items.map((i) => [i.item, b.board.id] as const)));
  return {
    parts: parts.map((p) => flat(p, boardOf.get(p.id) ?? '')),
    joints: joinery.joints.map(({ id, slotPart, enteringPart, fits }) => ({
      joint: id,
      marks: [slotPart, enteringPart].map((part) => ({
        part,
        ...edges.path(part, [
          ...joinery.contacts.filter((c) => c.joint === id && c.part === part).map((c) => c.edge),
          ...fits.flatMap((f) =>
            f.slotPart === part ? f.walls : f.enteringPart === part ? f.enteringEdges : [],
          ),
        ]),
      })),
      walls: fits.flatMap((f) =>
        [
          { part: f.slotPart, on: f.walls },
          { part: f.enteringPart, on: f.enteringEdges },
        ].flatMap(({ part, on }) => {
          const { d } = edges.path(part, on);
          return d === '' ? [] : [{ fit: f.id, part, d }];
        }),
      ),
    })),
  };
}
