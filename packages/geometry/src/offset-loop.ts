import type { Piece } from './chain-pieces.js';
import { OFF_COURSE } from './offset-tolerance.js';
import { distance } from './point.js';
import type { Ring, Segment, Vertex } from './ring.js';
import { GRID } from './snap.js';

/** A segment of the result while it is put together. */
interface Stretch {
  x: number;
  y: number;
  /** 0 for a line. */
  sweep: number;
  readonly radius: number;
  readonly isJoin: boolean;
  readonly tag: string | undefined;
}

/**
 * The ring of a loop of pieces. Pieces of one curve that follow each other become one segment again, and arcs
 * round a corner (the curves from `firstJoin` on) that are below the grid close up.
 */
export function ringOfLoop(loop: readonly Piece[], curves: readonly Segment[], firstJoin: number): Ring {
  const stretches = closeSpecks(stretchesOf(loop, curves, firstJoin));
  const vertices = stretches.map(
    ({ x, y, sweep, tag }): Vertex => ({
      x,
      y,
      bulge: Math.tan(sweep / 4),
      ...(tag === undefined ? {} : { tag }),
    }),
  );
  return { vertices };
}

function stretchesOf(loop: readonly Piece[], curves: readonly Segment[], firstJoin: number): Stretch[] {
  const n = loop.length;
  let first = 0;
  while (first < n && loop[(first + n - 1) % n]!.curve === loop[first]!.curve) first++;
  const whole = first === n;
  const stretches: Stretch[] = [];
  for (let k = 0; k < n; ) {
    const p = loop[(first + k) % n]!;
    let end = p.end;
    for (k++; k < n && !whole; k++) {
      const q = loop[(first + k) % n]!;
      if (q.curve !== p.curve || q.start !== end) break;
      end = q.end;
    }
    const c = curves[p.curve]!;
    const { x, y } = p.segment.from;
    const isJoin = p.curve >= firstJoin;
    if (c.kind === 'line') stretches.push({ x, y, sweep: 0, radius: 0, isJoin, tag: c.tag });
    else stretches.push({ x, y, sweep: c.sweep * (end - p.start), radius: c.radius, isJoin, tag: c.tag });
  }
  return stretches;
}

/**
 * Snapping a drawing bends its tangents a little, and an offset would get an arc round each, shorter than the
 * grid. Its neighbours are drawn together in the middle of it instead, where that keeps them on their course.
 */
function closeSpecks(stretches: Stretch[]): Stretch[] {
  const out = [...stretches];
  for (let i = 0; i < out.length && out.length > 3; i++) {
    const speck = out[i]!;
    if (!speck.isJoin || speck.radius * Math.abs(speck.sweep) > GRID / 2) continue;
    const before = out[(i + out.length - 1) % out.length]!;
    const after = out[(i + 1) % out.length]!;
    const end = out[(i + 2) % out.length]!;
    const gap = distance(speck, after);
    // Moving an end along the speck must be moving it along its own segment: sideways both leave their course
    // by half the gap times the sine of the angle between, and an arc by its sagitta over half the gap.
    const along = Math.atan2(after.y - speck.y, after.x - speck.x);
    const arriving = Math.atan2(speck.y - before.y, speck.x - before.x) + before.sweep / 2;
    const leaving = Math.atan2(end.y - after.y, end.x - after.x) - after.sweep / 2;
    if (sideways(arriving - along, gap) || sideways(leaving - along, gap)) continue;
    if (gap > distance(before, speck) || gap > distance(after, end)) continue;
    if ([before, after].some((s) => s.sweep !== 0 && gap * gap > 8 * s.radius * OFF_COURSE)) continue;
    for (const s of [before, after]) if (s.sweep !== 0) s.sweep += (Math.sign(s.sweep) * gap) / 2 / s.radius;
    after.x = (speck.x + after.x) / 2;
    after.y = (speck.y + after.y) / 2;
    out.splice(i, 1);
    i--;
  }
  return out;
}

const sideways = (angle: number, gap: number): boolean =>
  Math.cos(angle) < 0 || Math.abs(Math.sin(angle)) * gap > 2 * OFF_COURSE;
