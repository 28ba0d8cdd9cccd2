import { type Motion, type Ring, ringBounds, ringSegments, sweepAround } from '@haunch/geometry';
import { type MasterLoop, MasterSchema, type Part, partOnTable, placePart } from '@haunch/model';
import master from '../../../docs/examples/sideboard/sideboard-18.master.json' with { type: 'json' };
import type { PlacedPart } from '../src/index.js';
import { relieved } from './relieved.js';
import { contourOf } from './workshop.js';

const ringOf = (loop: MasterLoop): Ring => {
  let at = { x: loop.start[0], y: loop.start[1] };
  return {
    vertices: loop.segments.map((s) => {
      const to = { x: s.to[0], y: s.to[1] };
      const bulge =
        s.centre === undefined
          ? 0
          : Math.tan(sweepAround({ x: s.centre[0], y: s.centre[1] }, at, to, s.dir!) / 4);
      const v = { ...at, bulge };
      at = to;
      return v;
    }),
  };
};

/** The sideboard's parts at design thickness and zero clearance, every corner relieved for the cutter. */
export function sideboardParts(radius: number): Part[] {
  return MasterSchema.parse(master).parts.map(
    (p): Part => ({
      kind: 'part',
      id: p.id,
      name: p.name,
      thickness: p.thickness,
      grain: p.grain === 'none' ? null : p.grain,
      cutFace: p.cutFace,
      showFace: p.showFace,
      stock: p.stock,
      outline: relieved(contourOf(p.id, ringOf(p.outline)), 'outside', radius),
      through: p.through.map((t) => relieved(contourOf(t.id, ringOf(t.loop)), 'inside', radius)),
      pockets: p.pockets.map((t) => ({
        ...relieved(contourOf(t.id, ringOf(t.loop)), 'inside', radius),
        face: t.face,
        depth: t.depth,
      })),
      holes: p.holes.map((h) => ({
        id: h.id,
        centre: { x: h.centre[0], y: h.centre[1] },
        diameter: h.diameter,
        face: h.face,
        depth: h.depth,
      })),
      from: [p.id],
    }),
  );
}

/**
 * Edges taken to mate: all of every opening and pocket but the grip hole, and straight outline edges off the
 * part's box (shoulders, notches, tenon cheeks).
 */
export function matingEdges(parts: readonly Part[]): Set<string> {
  const tags = parts.flatMap((p) => {
    const box = ringBounds(p.outline.bare);
    const off = ringSegments(p.outline.bare).filter((s) => {
      const onX = [box.minX, box.maxX].some((x) => s.from.x === x && s.to.x === x);
      const onY = [box.minY, box.maxY].some((y) => s.from.y === y && s.to.y === y);
      return s.kind === 'line' && !onX && !onY;
    });
    const inside = [...p.through, ...p.pockets].filter((c) => c.id !== 'BR.c1');
    return [...off, ...inside.flatMap((c) => ringSegments(c.bare))].map((s) => s.tag!);
  });
  return new Set(tags);
}

/** Parts laid in rows on a sheet of this width, `gap` apart; they may need more than one sheet's height. */
export function laidInRows(parts: readonly Part[], width: number, gap: number): PlacedPart[] {
  let [x, y, row] = [gap, gap, 0];
  return parts.map((part) => {
    const box = ringBounds(partOnTable(part).outline.bare);
    const w = box.maxX - box.minX;
    if (x + w + gap > width) [x, y, row] = [gap, y + row + gap, 0];
    const motion: Motion = { mirror: false, turn: 0, dx: x - box.minX, dy: y - box.minY };
    x += w + gap;
    row = Math.max(row, box.maxY - box.minY);
    return { item: part.id, part: placePart(part, { item: part.id, board: 'sheet-1', motion }) };
  });
}
