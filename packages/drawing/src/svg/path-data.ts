import { type Ring, ringSegments, segmentOfBulge } from '@haunch/geometry';

/** A number as SVG takes it: at most four decimals, never −0. */
export const svgNumber = (v: number): string => String(Math.round(v * 10_000) / 10_000 + 0);

/**
 * A ring as SVG path data with y turned down. An arc is an `A` command; what runs counter-clockwise with y up
 * has sweep flag 0 (SVG 2, 9.3.8). Arcs beyond a half turn carry the large flag. An open curve ends at its last
 * vertex.
 */
export function pathData(r: Ring, open = false): string {
  const { vertices } = r;
  const segments = open
    ? vertices.slice(1).map((v, i) => segmentOfBulge(vertices[i]!, v, vertices[i]!.bulge))
    : ringSegments(r);
  if (segments.length === 0) return '';
  const at = (p: { x: number; y: number }): string => `${svgNumber(p.x)} ${svgNumber(-p.y)}`;
  const words = [`M${at(segments[0]!.from)}`];
  for (const s of segments) {
    if (s.kind === 'line') words.push(`L${at(s.to)}`);
    else {
      const radius = svgNumber(s.radius);
      words.push(
        `A${radius} ${radius} 0 ${Math.abs(s.sweep) > Math.PI ? 1 : 0} ${s.sweep > 0 ? 0 : 1} ${at(s.to)}`,
      );
    }
  }
  return open ? words.join('') : `${words.join('')}Z`;
}
