import type { Point, Polygon } from '@haunch/geometry';

/** A number of a picture: tenths, and no negative nought. */
export const tenth = (x: number): string => String(Math.round(x * 10) / 10 + 0);

const tenths = (p: Point): readonly [number, number] => [Math.round(p.x * 10), Math.round(p.y * 10)];
type Tenths = readonly [number, number];

/** Enclosed areas below this vanish in rounding: half of a square a tenth wide, doubled, in square tenths. */
const NOTHING = 1;

function distinct(points: readonly Point[]): Tenths[] {
  const out: Tenths[] = [];
  for (const p of points) {
    const t = tenths(p);
    const last = out[out.length - 1];
    if (!last || last[0] !== t[0] || last[1] !== t[1]) out.push(t);
  }
  return out;
}

function steps(points: readonly Tenths[]): string {
  let [x, y] = points[0]!;
  let data = `M${x / 10} ${y / 10}`;
  for (const [px, py] of points.slice(1)) {
    const [dx, dy] = [px - x, py - y];
    if (dx === 0) data += `v${dy / 10}`;
    else if (dy === 0) data += `h${dx / 10}`;
    else data += `l${dx / 10}${dy < 0 ? '' : ' '}${dy / 10}`;
    [x, y] = [px, py];
  }
  return data;
}

/** The path of polygons in the picture's units, rounded to tenths; what rounds to nothing is left out. */
export function areasPath(polygons: readonly Polygon[]): string {
  let data = '';
  for (const polygon of polygons) {
    const points = distinct(polygon);
    const [first, last] = [points[0]!, points[points.length - 1]!];
    if (points.length > 1 && first[0] === last[0] && first[1] === last[1]) points.pop();
    const area = points.reduce((s, a, i) => {
      const b = points[(i + 1) % points.length]!;
      return s + a[0] * b[1] - b[0] * a[1];
    }, 0);
    if (points.length > 2 && Math.abs(area) > NOTHING) data += `${steps(points)}z`;
  }
  return data;
}

/** The path of lines, each drawn once whichever way it was given; lines that follow each other are joined. */
export function linesPath(lines: readonly { readonly from: Point; readonly to: Point }[]): string {
  const drawn = new Set<string>();
  const runs: Tenths[][] = [];
  for (const l of lines) {
    const [a, b] = [tenths(l.from), tenths(l.to)];
    if (a[0] === b[0] && a[1] === b[1]) continue;
    const forth = a[0] < b[0] || (a[0] === b[0] && a[1] < b[1]);
    const key = (forth ? [...a, ...b] : [...b, ...a]).join();
    if (drawn.has(key)) continue;
    drawn.add(key);
    const run = runs[runs.length - 1];
    const end = run?.[run.length - 1];
    if (run && end && end[0] === a[0] && end[1] === a[1]) run.push(b);
    else runs.push([a, b]);
  }
  return runs.map(steps).join('');
}
