import { type Point, snap, type Vertex } from '@haunch/geometry';
import { arcOfCubic, arcsOfCubic, circleOf, roundness, type Stretch } from '../curves/arcs-of-cubic.js';
import type { Cubic } from '../curves/cubic.js';
import type { Entity, EntityPlace } from '../drawing.js';
import type { CurveRun } from './curve-run.js';
import { arcAt, type EllipticalArc, halfAxes } from './elliptical-arc.js';
import { LARGEST } from './numbers.js';

/** Arcs and lines follow a curve this closely, mm. */
export const FOLLOW = 0.01;
/** Half-axes that differ by no more than this make a circle, mm: a tenth of the tolerance. */
const ROUND = 0.001;
/** Sweep beyond which a true arc is written as two, so that its bulge stays moderate. */
const MOST_SWEEP = 1.9 * Math.PI;

/** A subpath as an entity. */
export type RunEntity =
  | { readonly kind: 'entity'; readonly entity: Entity; readonly rounded: number }
  | { readonly kind: 'no size' }
  | { readonly kind: 'not finite' };

/**
 * The entity that a subpath is, in mm on the grid: a circle, line or arc where it is just that, else a polyline.
 * `rounded` is how far, in mm, a Bézier curve was left for the arc that it stands for (`arcOfCubic`); all other
 * curves are followed within `FOLLOW`.
 */
export function entityOfRun(run: CurveRun, place: EntityPlace): RunEntity {
  let rounded = 0;
  const vertices: Vertex[] = [];
  let at = run.start;
  const add = (stretches: readonly Stretch[]) => {
    for (const s of stretches) {
      vertices.push({ x: at.x, y: at.y, bulge: s.bulge });
      at = s.to;
    }
  };
  for (const c of run.curves) {
    if (c.kind === 'line') add([{ bulge: 0, to: c.to }]);
    else if (c.kind === 'arc') add(stretchesOfArc(c.arc, c.to));
    else {
      const cubic: Cubic = [at, c.c1, c.c2, c.to];
      if (!cubic.every((p) => Math.abs(p.x) <= LARGEST && Math.abs(p.y) <= LARGEST))
        return { kind: 'not finite' };
      const round = arcOfCubic(cubic);
      if (round !== null) {
        const { radius } = circleOf(at, round.to, round.bulge);
        rounded = Math.max(rounded, roundness(4 * Math.atan(Math.abs(round.bulge))) * radius);
      }
      add(round === null ? arcsOfCubic(cubic, FOLLOW) : [round]);
    }
  }
  vertices.push({ x: at.x, y: at.y, bulge: 0 });
  if (
    !vertices.every((v) => Math.abs(v.x) <= LARGEST && Math.abs(v.y) <= LARGEST && Number.isFinite(v.bulge))
  )
    return { kind: 'not finite' };
  const entity = entityOfVertices(vertices, run.closed, place);
  return entity === null ? { kind: 'no size' } : { kind: 'entity', entity, rounded };
}

function stretchesOfArc(arc: EllipticalArc, to: Point): Stretch[] {
  const [a, b] = halfAxes(arc);
  if (!Number.isFinite(a) || a > LARGEST) return [{ bulge: Number.NaN, to }];
  const turn = Math.abs(arc.sweep);
  if (a - b <= ROUND) {
    const sense = arc.u.x * arc.v.y - arc.u.y * arc.v.x < 0 ? -1 : 1;
    const pieces = turn > MOST_SWEEP ? 2 : 1;
    const bulge = sense * Math.tan(arc.sweep / pieces / 4);
    return pieces === 1
      ? [{ bulge, to }]
      : [
          { bulge, to: arcAt(arc, arc.sweep / 2) },
          { bulge, to },
        ];
  }
  // The ellipse as cubic curves that leave it by no more than a tenth of the tolerance, then as arcs.
  let pieces = Math.max(1, Math.ceil(turn / (Math.PI / 2)));
  while (a * roundness(turn / pieces) > FOLLOW / 10) pieces *= 2;
  const step = arc.sweep / pieces;
  const k = (4 / 3) * Math.tan(step / 4);
  const out: Stretch[] = [];
  let from = arcAt(arc, 0);
  for (let i = 0; i < pieces; i++) {
    const [s0, s1] = [i * step, (i + 1) * step];
    const end = i === pieces - 1 ? to : arcAt(arc, s1);
    const [d0, d1] = [slopeAt(arc, s0), slopeAt(arc, s1)];
    out.push(
      ...arcsOfCubic(
        [
          from,
          { x: from.x + k * d0.x, y: from.y + k * d0.y },
          { x: end.x - k * d1.x, y: end.y - k * d1.y },
          end,
        ],
        FOLLOW * 0.9,
      ),
    );
    from = end;
  }
  return out;
}

const slopeAt = ({ u, v }: EllipticalArc, s: number): Point => ({
  x: -u.x * Math.sin(s) + v.x * Math.cos(s),
  y: -u.y * Math.sin(s) + v.y * Math.cos(s),
});

const same = (a: Point, b: Point): boolean => a.x === b.x && a.y === b.y;

function entityOfVertices(raw: readonly Vertex[], closedInFile: boolean, place: EntityPlace): Entity | null {
  const snapped = raw.map((v) => ({ x: snap(v.x), y: snap(v.y), bulge: v.bulge }));
  const vertices = snapped.filter((v, i) => i === snapped.length - 1 || !same(v, snapped[i + 1]!));
  const meets = same(vertices[0]!, vertices[vertices.length - 1]!);
  if (vertices.length < 2) return null;
  if (meets) vertices.pop();
  const closed = closedInFile || meets;
  const bent = vertices.some((v) => v.bulge !== 0);
  if (closed) {
    const circle = circleOfVertices(vertices);
    if (circle !== null) return { kind: 'circle', ...place, ...circle };
  }
  const [first, second] = vertices as [Vertex, Vertex];
  if (vertices.length === 2 && !bent)
    return { kind: 'line', ...place, from: plain(first), to: plain(second) };
  if (vertices.length === 2 && !closed) {
    const [from, to] = first.bulge > 0 ? [first, second] : [second, first];
    const bulge = Math.abs(first.bulge);
    const { centre, radius } = circleOf(from, to, bulge);
    if (Math.abs(centre.x) <= LARGEST && Math.abs(centre.y) <= LARGEST && radius <= LARGEST)
      return {
        kind: 'arc',
        ...place,
        from: plain(from),
        to: plain(to),
        bulge,
        centre: { x: snap(centre.x), y: snap(centre.y) },
        radius: snap(radius),
      };
  }
  return { kind: 'polyline', ...place, vertices, closed };
}

const plain = ({ x, y }: Point): Point => ({ x, y });

/** A gap that drawing programs leave in a circle, as an arc with equal ends would be nothing, mm. */
const GAP = 0.05;

/** The circle that a closed run of arcs makes when all have one centre and go round once; null otherwise. */
function circleOfVertices(
  vertices: readonly Vertex[],
): { readonly centre: Point; readonly radius: number } | null {
  const n = vertices.length;
  const all = vertices.map((v, i) => ({ from: v, to: vertices[(i + 1) % n]!, bulge: v.bulge }));
  const bent = all.filter((s) => s.bulge !== 0);
  const gaps = all.filter((s) => s.bulge === 0);
  if (bent.length === 0 || gaps.length > 1) return null;
  if (gaps.some(({ from, to }) => Math.hypot(to.x - from.x, to.y - from.y) > GAP)) return null;
  const arcs = bent.map((s) => circleOf(s.from, s.to, s.bulge));
  const mean = (f: (a: (typeof arcs)[number]) => number): number =>
    arcs.reduce((sum, a) => sum + f(a), 0) / arcs.length;
  const centre = { x: mean((a) => a.centre.x), y: mean((a) => a.centre.y) };
  const radius = mean((a) => a.radius);
  const turn = Math.abs(bent.reduce((sum, s) => sum + 4 * Math.atan(s.bulge), 0));
  if (Math.abs(turn - 2 * Math.PI) * radius > 2 * GAP || turn < Math.PI) return null;
  const off = FOLLOW / 2 + 1e-5 * radius;
  const one = arcs.every(
    (a) =>
      Math.hypot(a.centre.x - centre.x, a.centre.y - centre.y) <= off && Math.abs(a.radius - radius) <= off,
  );
  if (!one || !(radius <= LARGEST) || snap(radius) === 0) return null;
  return { centre: { x: snap(centre.x), y: snap(centre.y) }, radius: snap(radius) };
}
