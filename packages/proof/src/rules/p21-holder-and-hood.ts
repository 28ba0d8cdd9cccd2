import { flattenRing, type Polygon } from '@haunch/geometry';
import type { Cutter, Finding } from '@haunch/model';
import type { Judgement } from '../judgement.js';
import { lowest, type Stretch } from '../sweep/stretch.js';
import { boxesMeet, boxOf } from '../sweep/sweeper.js';
import { trackBelow } from '../sweep/track.js';
import { trackPolygonDistance } from '../sweep/track-polygon.js';
import { atStretch, mm, type Rule } from './rule.js';

/** Less than this is no contact, mm. */
const TOUCH = 1e-6;
/** Farther off than this nothing is measured, mm. */
const FAR = 20;

/** The cutter that runs a stretch; undefined when nobody describes it. */
const cutterOf = (j: Judgement, s: Stretch): Cutter | undefined =>
  s.tool === null ? (j.assumed ?? undefined) : j.input.cutters.find((c) => c.number === s.tool);

/** How far a disc of a radius stays off an area while the tip is below a height; null when it never is. */
function room(s: Stretch, below: number, radius: number, area: Polygon): number | null {
  if (lowest(s) >= below) return null;
  // The height asked for is that of the tip itself, not of a drill's full diameter.
  const t = trackBelow({ ...s, point: 0, radius }, below);
  if (t === null) return null;
  const r = t.kind === 'arc' ? t.r : 0;
  const c = t.kind === 'arc' ? t.centre : t.a;
  const around = boxOf([[t.a, t.b, { x: c.x - r, y: c.y - r }, { x: c.x + r, y: c.y + r }]]);
  return boxesMeet(around, boxOf([area]), radius + FAR) ? trackPolygonDistance(t, area) - radius : FAR;
}

/** P21: neither the holder of a cutter nor the hood meets the sheet or what stands in a keep-out. */
export const holderAndHood: Rule = {
  id: 'P21',
  title: 'Holder and hood keep clear',
  unit: 'mm',
  judge(j) {
    const { board, machine, cutters } = j.input;
    const hood = machine.hoodRadius;
    if (hood === undefined && cutters.every((c) => c.stickOut === undefined))
      return { findings: [], margin: null, judged: false };
    const areas = board.keepOuts.map((r) => flattenRing(r, { tolerance: 0.005 }));
    const findings: Finding[] = [];
    let margin = Infinity;
    for (const s of j.stretches) {
      const cutter = cutterOf(j, s);
      const stickOut = cutter?.stickOut;
      if (cutter !== undefined && stickOut !== undefined) {
        const radius = Math.max(cutter.holderRadius ?? 0, cutter.diameter / 2);
        const deep = j.top - (lowest(s) + stickOut);
        if (-deep < margin && (room(s, j.safe, radius, j.boardPolygon) ?? 0) < 0) margin = -deep;
        const inSheet = room(s, j.top - stickOut - TOUCH, radius, j.boardPolygon);
        if (inSheet !== null && inSheet < -TOUCH)
          findings.push(
            atStretch(
              j,
              s,
              `The holder of ${cutter.id} is ${mm(deep)} mm below the sheet's top.`,
              s.to,
              deep,
            ),
          );
        for (const area of areas) {
          const gap = room(s, j.safe - stickOut - TOUCH, radius, area);
          if (gap === null) continue;
          margin = Math.min(margin, gap);
          if (gap < -TOUCH)
            findings.push(
              atStretch(
                j,
                s,
                `The holder of ${cutter.id} enters an area to keep out of by ${mm(-gap)} mm.`,
                s.to,
                -gap,
              ),
            );
        }
      }
      for (const area of hood === undefined ? [] : areas) {
        const gap = room(s, j.safe - TOUCH, hood!, area);
        if (gap === null) continue;
        margin = Math.min(margin, gap);
        if (gap < -TOUCH)
          findings.push(
            atStretch(j, s, `The hood meets an area to keep out of by ${mm(-gap)} mm.`, s.to, -gap),
          );
      }
    }
    return { findings, margin: margin === Infinity ? null : margin };
  },
};
