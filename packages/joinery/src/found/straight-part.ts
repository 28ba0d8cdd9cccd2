import { distance, type Ring, ringSegments, STAY, snap } from '@haunch/geometry';
import { movePart, type Part } from '@haunch/model';

/** Edges whose directions differ by less are parallel, radians: a thousandth of a millimetre on 20 mm. */
const PARALLEL = 5e-5;
/** Coordinates of axis-parallel edges that differ by less are one, mm. */
const SAME = 0.002;
/** A coordinate of a turned drawing this near to a thousandth is meant to be it, mm. */
const NEAR_THOUSANDTH = 3.5e-4;

const QUARTER = Math.PI / 2;

/** An angle modulo a quarter turn, from −45° to 45°. */
const modQuarter = (a: number): number => a - QUARTER * Math.round(a / QUARTER);

/** The angle, modulo a quarter turn, along which most of an outline's straight length lies. */
function leaningOf(outline: Ring): number {
  const edges = ringSegments(outline)
    .filter((s) => s.kind === 'line')
    .map((s) => ({
      angle: modQuarter(Math.atan2(s.to.y - s.from.y, s.to.x - s.from.x)),
      length: distance(s.from, s.to),
    }));
  let best = { angle: 0, length: 0 };
  for (const e of [...edges].sort((a, b) => b.length - a.length)) {
    let [length, sum] = [0, 0];
    for (const o of edges) {
      const by = modQuarter(o.angle - e.angle);
      if (Math.abs(by) > PARALLEL + 1e-3 / Math.max(o.length, 1)) continue;
      length += o.length;
      sum += by * o.length;
    }
    if (length > best.length + 1e-6) best = { angle: modQuarter(e.angle + sum / length), length };
  }
  return best.angle;
}

/** Values that are meant to be one, each with what it is meant to be. */
function gathered(values: readonly number[], clean: (v: number) => number): (v: number) => number {
  const sorted = [...new Set(values)].sort((a, b) => a - b);
  const groups: number[][] = [];
  for (const v of sorted) {
    const last = groups.at(-1);
    if (last && v - last[0]! <= SAME) last.push(v);
    else groups.push([v]);
  }
  const to = new Map(
    groups.flatMap((g) => {
      const mean = clean(g.reduce((a, b) => a + b, 0) / g.length);
      return g.map((v) => [v, mean] as const);
    }),
  );
  return (v) => to.get(v) ?? snap(v);
}

/**
 * A part turned in its own plane so that most of its straight edges lie along u and v, its lower left corner at
 * (0, 0), and edges that are parallel to u or v but for the rounding of a turned drawing exactly so; mm, seen from the
 * same face. Nothing is moved by more than 0.002 mm against the rest.
 */
export function straightPart(part: Part): Part {
  const lean = leaningOf(part.outline.ring);
  const turned = Math.abs(lean) > 1e-9;
  const upright = turned ? movePart({ ...STAY, turn: -lean }, part) : part;
  const rings = (p: Part): Ring[] => [p.outline, ...p.through, ...p.pockets].flatMap((c) => [c.ring, c.bare]);
  const low = rings(upright)
    .flatMap((r) => r.vertices)
    .reduce((m, v) => ({ x: Math.min(m.x, v.x), y: Math.min(m.y, v.y) }), { x: Infinity, y: Infinity });
  const home = movePart({ ...STAY, dx: -low.x, dy: -low.y }, upright);
  const clean = (v: number): number => {
    const thousandth = Math.round(v * 1000) / 1000;
    return turned && Math.abs(v - thousandth) <= NEAR_THOUSANDTH ? thousandth : snap(v);
  };
  const xs: number[] = [];
  const ys: number[] = [];
  for (const r of rings(home))
    for (const s of ringSegments(r)) {
      if (s.kind !== 'line') continue;
      const [dx, dy] = [Math.abs(s.to.x - s.from.x), Math.abs(s.to.y - s.from.y)];
      if (dx <= SAME && dy > SAME) xs.push(s.from.x, s.to.x);
      if (dy <= SAME && dx > SAME) ys.push(s.from.y, s.to.y);
    }
  const [x, y] = [gathered(xs, clean), gathered(ys, clean)];
  const ring = (r: Ring): Ring => ({ vertices: r.vertices.map((v) => ({ ...v, x: x(v.x), y: y(v.y) })) });
  const contour = <C extends Part['outline']>(c: C): C => ({ ...c, ring: ring(c.ring), bare: ring(c.bare) });
  return {
    ...home,
    outline: contour(home.outline),
    through: home.through.map(contour),
    pockets: home.pockets.map(contour),
    holes: home.holes.map((h) => ({ ...h, centre: { x: clean(h.centre.x), y: clean(h.centre.y) } })),
  };
}
