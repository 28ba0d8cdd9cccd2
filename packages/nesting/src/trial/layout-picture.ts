import { moveRing, type Ring, ringBounds, ringSegments } from '@haunch/geometry';
import type { Layout } from '@haunch/model';
import { escaped } from './escaped.js';
import type { LayoutProblem } from './problem.js';

const fixed = (v: number): string => `${Math.round(v * 1e4) / 1e4}`;

/** The outline as path data, y upward turned to y downward. */
function pathOf(r: Ring): string {
  const segments = ringSegments(r);
  let d = '';
  segments.forEach((s, i) => {
    if (i === 0) d += `M${fixed(s.from.x)} ${fixed(-s.from.y)}`;
    if (s.kind === 'line') d += `L${fixed(s.to.x)} ${fixed(-s.to.y)}`;
    else {
      const large = Math.abs(s.sweep) > Math.PI ? 1 : 0;
      d += `A${fixed(s.radius)} ${fixed(s.radius)} 0 ${large} ${s.sweep > 0 ? 0 : 1} ${fixed(s.to.x)} ${fixed(-s.to.y)}`;
    }
  });
  return `${d}Z`;
}

/**
 * A layout as an SVG text, deterministic: the strip cut off at the length taken, or every board that bears items, one
 * above the other; items named by a title that shows when pointed at.
 */
export function drawLayout(problem: LayoutProblem, layout: Layout, title: string): string {
  const items = new Map(problem.instance.items.map((i) => [i.id, i]));
  const used = problem.instance.boards.filter((b) => layout.placements.some((p) => p.board === b.id));
  const body: string[] = [];
  let [top, width] = [0, 0];
  for (const board of used) {
    const rings = layout.placements
      .filter((p) => p.board === board.id)
      .map((p) => ({ id: p.item, ring: moveRing(p.motion, items.get(p.item)!.outline) }));
    const box = ringBounds(board.outline);
    const right =
      problem.stripWidth === undefined ? box.maxX : Math.max(...rings.map((r) => ringBounds(r.ring).maxX));
    const stroke = fixed(Math.max(right - box.minX, box.maxY - box.minY) / 600);
    body.push(
      `<g transform="translate(${fixed(-box.minX)} ${fixed(top + box.maxY)})" stroke-width="${stroke}" stroke-linejoin="round">`,
      `<rect x="${fixed(box.minX)}" y="${fixed(-box.maxY)}" width="${fixed(right - box.minX)}" height="${fixed(box.maxY - box.minY)}" fill="#fbfaf6" stroke="#333"/>`,
      ...rings.map(
        (r) =>
          `<path d="${pathOf(r.ring)}" fill="#d9c7a3" stroke="#4a3a1c"><title>${escaped(r.id)}</title></path>`,
      ),
      '</g>',
    );
    width = Math.max(width, right - box.minX);
    top += (box.maxY - box.minY) * 1.04;
  }
  const edge = Math.max(width, top) / 200;
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="${fixed(-edge)} ${fixed(-edge)} ${fixed(width + 2 * edge)} ${fixed(Math.max(top, edge) + 2 * edge)}" role="img" aria-label="${escaped(title)}"><title>${escaped(title)}</title>\n${body.join('\n')}\n</svg>\n`;
}
