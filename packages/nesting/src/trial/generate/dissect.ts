import {
  doubleArea,
  isInside,
  segmentsMeet,
  side,
  type Whole,
  type WholePolygon,
  withoutStraight,
} from './whole-polygon.js';

/** How a rectangle is cut into a puzzle. */
export interface DissectOptions {
  readonly width: number;
  readonly height: number;
  readonly pieces: number;
  /** The most corners that a cut may have within a piece; 0 makes straight cuts. */
  readonly bends: number;
  /** The least share of a piece that a cut may leave on either side, below a half. */
  readonly least: number;
}

const divisor = (a: number, b: number): number => (b === 0 ? Math.abs(a) : divisor(b, a % b));

/** A point of an edge that has whole coordinates: its first corner, or one on the way to the next. */
function wholePointOn(a: Whole, b: Whole, random: () => number): Whole {
  const g = divisor(b[0] - a[0], b[1] - a[1]);
  const k = Math.floor(random() * g);
  return [a[0] + ((b[0] - a[0]) / g) * k, a[1] + ((b[1] - a[1]) / g) * k];
}

const same = (a: Whole, b: Whole): boolean => a[0] === b[0] && a[1] === b[1];

/** A crooked line from one point of the boundary to another, or undefined where chance gave one that will not do. */
function crookedLine(
  p: WholePolygon,
  from: Whole,
  to: Whole,
  bends: number,
  random: () => number,
): Whole[] | undefined {
  const line: Whole[] = [from];
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  for (let k = 1; k <= bends; k++) {
    const t = k / (bends + 1);
    const off = (random() - 0.5) * 0.8;
    line.push([Math.round(from[0] + dx * t - dy * off), Math.round(from[1] + dy * t + dx * off)]);
  }
  line.push(to);
  if (!line.slice(1, -1).every((c) => isInside(p, c))) return undefined;
  for (let i = 0; i + 1 < line.length; i++) {
    const [a, b] = [line[i]!, line[i + 1]!];
    if (same(a, b)) return undefined;
    for (let j = i + 2; j + 1 < line.length; j++)
      if (segmentsMeet(a, b, line[j]!, line[j + 1]!)) return undefined;
    for (let e = 0; e < p.length; e++) {
      const [c, d] = [p[e]!, p[(e + 1) % p.length]!];
      // An edge that bears an end of the line may be touched there alone: the line must leave the edge's course.
      const bearsFrom = i === 0 && on(c, d, from);
      const bearsTo = i + 2 === line.length && on(c, d, to);
      if (!bearsFrom && !bearsTo && segmentsMeet(a, b, c, d)) return undefined;
      if ((bearsFrom && side(c, d, b) === 0) || (bearsTo && side(c, d, a) === 0)) return undefined;
    }
  }
  return line;
}

const on = (a: Whole, b: Whole, p: Whole): boolean => segmentsMeet(a, b, p, p);

/** The pieces on the two sides of a line whose ends lie on the edges `i` and `j`, `i` before `j`. */
function parted(p: WholePolygon, line: readonly Whole[], i: number, j: number): [WholePolygon, WholePolygon] {
  const between = p.slice(i + 1, j + 1);
  const rest = [...p.slice(j + 1), ...p.slice(0, i + 1)];
  const [from, to] = [line[0]!, line.at(-1)!];
  const first = [...between.filter((c) => !same(c, from) && !same(c, to)), ...[...line].reverse()];
  const second = [...rest.filter((c) => !same(c, from) && !same(c, to)), ...line];
  return [withoutStraight(first), withoutStraight(second)];
}

/** One cut through a piece, or undefined where none was found in so many tries. */
function cut(
  p: WholePolygon,
  options: DissectOptions,
  random: () => number,
): [WholePolygon, WholePolygon] | undefined {
  const whole = doubleArea(p);
  for (let attempt = 0; attempt < 400; attempt++) {
    const [a, b] = [Math.floor(random() * p.length), Math.floor(random() * p.length)];
    const bends = Math.floor(random() * (options.bends + 1));
    if (a === b) continue;
    const [i, j] = [Math.min(a, b), Math.max(a, b)];
    const from = wholePointOn(p[i]!, p[i + 1]!, random);
    const to = wholePointOn(p[j]!, p[(j + 1) % p.length]!, random);
    if (same(from, to)) continue;
    const line = crookedLine(p, from, to, bends, random);
    if (!line) continue;
    const [x, y] = parted(p, line, i, j);
    const areas = [doubleArea(x), doubleArea(y)];
    if (x.length < 3 || y.length < 3 || areas[0]! + areas[1]! !== whole) continue;
    if (Math.min(...areas) >= options.least * whole) return [x, y];
  }
  return undefined;
}

/**
 * Cuts a rectangle into a puzzle with whole coordinates: again and again one of the largest pieces is parted by a
 * crooked line between two points of its boundary. The pieces cover the rectangle exactly; every area is exact. The
 * same options and `random` give the same pieces; fewer come back where nothing can be cut any more.
 * @throws RangeError for sizes that are not whole numbers from 1 to 2²⁴, or a least share outside 0 … 0.5.
 */
export function dissect(options: DissectOptions, random: () => number): WholePolygon[] {
  const { width, height, pieces, least } = options;
  if (![width, height].every((v) => Number.isInteger(v) && v >= 1 && v <= 2 ** 24))
    throw new RangeError('dissect: sizes are whole numbers from 1 to 2²⁴');
  if (!(least >= 0 && least < 0.5))
    throw new RangeError('dissect: the least share lies between 0 and a half');
  const out: WholePolygon[] = [
    [
      [0, 0],
      [width, 0],
      [width, height],
      [0, height],
    ],
  ];
  while (out.length < pieces) {
    const order = out.map((p, i) => [doubleArea(p), i] as const).sort((a, b) => b[0] - a[0] || a[1] - b[1]);
    const most = order[0]![0];
    const large = order.filter(([area]) => area > most / 2).map(([, i]) => i);
    let done = false;
    for (let k = 0; k < 8 && !done; k++) {
      const i = large[Math.floor(random() * large.length)]!;
      const parts = cut(out[i]!, options, random);
      if (!parts) continue;
      out.splice(i, 1, ...parts);
      done = true;
    }
    if (!done) return out;
  }
  return out;
}
