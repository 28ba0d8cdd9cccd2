import { labelPlace } from '@haunch/drawing';
import { ringBounds } from '@haunch/geometry';
import { ladderOutlines, type Made, offCutsLeft } from '@haunch/job';
import { type Contour, type Part, partOnTable } from '@haunch/model';
import { circlePath, ringPath } from '../ui/ring-path.js';
import type { ShownBoard, ShownItem } from './shown-wire.js';

/** What of an item does not depend on where it lies. */
type DrawnItem = Omit<ShownItem, 'placement' | 'turns' | 'boards'>;

/** A part as it is drawn on a board, about its own origin. */
function drawItem(part: Part, thickness: number): DrawnItem {
  const table = partOnTable(part);
  const path = (c: Contour): string => ringPath(c.ring.vertices);
  const { at, room } = labelPlace(table);
  const { minX, minY, maxX, maxY } = ringBounds(table.outline.ring);
  return {
    item: part.id,
    name: part.name,
    outline: path(table.outline),
    cuts: [
      ...table.through.map((c) => ({ kind: 'through' as const, d: path(c) })),
      ...table.pockets.map((c) => ({ kind: 'pocket' as const, d: path(c) })),
      ...table.holes.map((h) => ({
        kind: 'hole' as const,
        d: circlePath(h.centre.x, h.centre.y, h.diameter / 2),
      })),
    ],
    label: { x: at.x, y: at.y, room },
    box: [minX, minY, maxX, maxY],
    grain: part.grain === null ? null : part.grain === 'u' ? 'x' : 'y',
    showUp: part.showFace === null ? null : part.showFace === part.cutFace,
    size: [maxX - minX, maxY - minY, thickness],
  };
}

/** The boards of a made job with the parts as they lie, ready to be drawn and moved; boards from which nothing is cut too. */
export function showLayout(made: Made): ShownBoard[] {
  const { laid, job } = made;
  const parts = new Map(laid.fitted.parts.map((p) => [p.id, p]));
  const may = new Map(laid.instance.items.map((i) => [i.id, i]));
  return job.boards.map((board) => {
    const cut = made.boards.find((b) => b.board.id === board.id);
    const box = ringBounds(board.outline);
    return {
      id: board.id,
      width: box.maxX,
      height: box.maxY,
      outline: ringPath(board.outline.vertices),
      thickness: board.thickness,
      grain: board.grain,
      use: cut?.use ?? 0,
      offCut: job.settings.boards.some(
        (b) => b.offCutOf && (b.id === board.id || board.id.startsWith(`${b.id}-`)),
      ),
      keepOuts: board.keepOuts.map((k) => ringPath(k.vertices)),
      ...(board.defects
        ? { defects: board.defects.map((d) => ({ d: ringPath(d.outline.vertices), face: d.face })) }
        : {}),
      left: cut
        ? offCutsLeft(job, laid, cut).map((o) => ({
            id: o.id,
            box: [o.x, o.y, o.width, o.height] as const,
            ...(o.outline
              ? { d: ringPath(o.outline.map((p) => ({ x: o.x + p.x, y: o.y + p.y, bulge: 0 }))) }
              : {}),
          }))
        : [],
      ladder: job.ladders.some((l) => l.kind === 'felt' && l.board === board.id)
        ? ladderOutlines(job, laid, board).map((r) => ringPath(r.vertices))
        : [],
      items: laid.layout.placements
        .filter((p) => p.board === board.id)
        .map(({ item }) => ({
          ...drawItem(parts.get(item)!, laid.thicknesses[item] ?? board.thickness),
          placement: laid.written[item]!,
          turns: may.get(item)!.turns.map((t) => Math.round((t * 180) / Math.PI)),
          boards: may.get(item)!.boards,
        })),
      tabs: (cut?.plan.workplan.steps ?? []).flatMap((s) => s.tabs.map((t) => ({ ...t.at, width: t.width }))),
    };
  });
}
