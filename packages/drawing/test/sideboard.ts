/// <reference types="node" />
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { counterClockwise, type Point, type Ring, snap, sweepAround, type Vertex } from '@haunch/geometry';
import { type Contour, type MasterLoop, MasterSchema, type Part } from '@haunch/model';

/** The root of the checkout. */
export const ROOT = resolve(import.meta.dirname, '../../..');

const point = ([x, y]: readonly [number, number]): Point => ({ x, y });

function ringOfLoop(loop: MasterLoop): Ring {
  const vertices: Vertex[] = [];
  let from = point(loop.start);
  for (const s of loop.segments) {
    const to = point(s.to);
    const bulge = s.centre === undefined ? 0 : Math.tan(sweepAround(point(s.centre), from, to, s.dir!) / 4);
    vertices.push({ x: snap(from.x), y: snap(from.y), bulge });
    from = to;
  }
  return counterClockwise({ vertices });
}

function contour(id: string, loop: MasterLoop): Contour {
  const ring = ringOfLoop(loop);
  const tagged = { vertices: ring.vertices.map((v, k) => ({ ...v, tag: `${id}/e${k}` })) };
  return { id, ring: tagged, bare: tagged, reliefs: [] };
}

/** The sideboard's parts as its master draws them, without any refit. */
export function sideboardParts(): Part[] {
  const text = readFileSync(resolve(ROOT, 'docs/examples/sideboard/sideboard-18.master.json'), 'utf8');
  return MasterSchema.parse(JSON.parse(text)).parts.map((p) => ({
    kind: 'part',
    id: p.id,
    name: p.name,
    thickness: p.thickness,
    grain: p.grain === 'none' ? null : p.grain,
    cutFace: p.cutFace,
    showFace: p.showFace,
    stock: p.stock,
    outline: contour(p.id, p.outline),
    through: p.through.map((t) => contour(t.id, t.loop)),
    pockets: p.pockets.map((t) => ({ ...contour(t.id, t.loop), face: t.face, depth: t.depth })),
    holes: p.holes.map((h) => ({
      id: h.id,
      centre: point(h.centre),
      diameter: h.diameter,
      face: h.face,
      depth: h.depth,
    })),
    from: [p.id],
  }));
}
