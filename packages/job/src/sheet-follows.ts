import type { Segment } from '@haunch/geometry';
import { ringSegments } from '@haunch/geometry';
import { type Joinery, partsOfMaster, refitMaster } from '@haunch/joinery';
import type { Master, Part } from '@haunch/model';

/** A sheet differs from its one figure by so much from place to place, mm; common practice, no source. */
const SPREAD = 0.03;
/** By this much thicknesses are changed to see what follows them, mm. */
const STEP = 0.1;
/** Less movement than this is the grid's, mm. */
const STILL = 0.002;

const segmentsOf = (p: Part): Segment[] =>
  [p.outline, ...p.through, ...p.pockets].flatMap((c) => ringSegments(c.bare));

/** How far an edge moves square to itself. */
function moved(a: Segment, b: Segment): number {
  if (a.kind === 'arc' && b.kind === 'arc')
    return Math.hypot(a.centre.x - b.centre.x, a.centre.y - b.centre.y) + Math.abs(a.radius - b.radius);
  const [dx, dy] = [a.to.x - a.from.x, a.to.y - a.from.y];
  const l = Math.hypot(dx, dy) || 1;
  return Math.max(
    ...(['from', 'to'] as const).map((e) => Math.abs((dx * (b[e].y - a[e].y) - dy * (b[e].x - a[e].x)) / l)),
  );
}

/** By how much each edge of a master moves for a thickness of one, summed over all plates; edges that stay are left out. */
function followsOf(master: Master): Map<string, number> {
  const drawn = partsOfMaster(master).map(segmentsOf);
  const out = new Map<string, number>();
  for (const plate of master.parts) {
    const thicknesses = Object.fromEntries(
      master.parts.map((p) => [p.id, p.thickness + (p.id === plate.id ? STEP : 0)]),
    );
    const other = refitMaster(master, { thicknesses });
    if (!other.ok) continue;
    partsOfMaster(other.value).forEach((p, i) => {
      segmentsOf(p).forEach((s, k) => {
        const before = drawn[i]![k];
        if (before?.tag === undefined) return;
        const by = moved(before, s);
        if (by > STILL) out.set(before.tag, (out.get(before.tag) ?? 0) + by / STEP);
      });
    });
  }
  return out;
}

/**
 * How far single edges of parts may be off when a program is judged against a master and one figure of the sheet, by edge id, mm:
 * those that follow thickness by the sheet's spread, walls of fits by what the fit's window leaves open (the joint is
 * judged by its clearance), and reliefs by what their edges may.
 */
export function edgeTolerances(
  master: Master,
  { joints }: Pick<Joinery, 'joints'>,
  parts: readonly Part[],
): Record<string, number> {
  const out = new Map<string, number>();
  for (const [tag, follows] of followsOf(master)) out.set(tag, follows * SPREAD);
  for (const { fits } of joints)
    for (const { walls, wanted, window } of fits) {
      const open = Math.max(wanted - window[0], window[1] - wanted);
      for (const tag of walls) out.set(tag, Math.max(out.get(tag) ?? 0, open));
    }
  for (const p of parts)
    for (const c of [p.outline, ...p.through, ...p.pockets])
      c.reliefs.forEach((r, k) => {
        const most = Math.max(...r.edges.map((e) => out.get(e) ?? 0));
        // A relief's centre moves with both its edges at once.
        if (most > 0) out.set(`${c.id}/r${k}`, most * Math.SQRT2);
      });
  return Object.fromEntries([...out].sort((a, b) => (a[0] < b[0] ? -1 : 1)));
}
