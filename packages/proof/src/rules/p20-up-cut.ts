import { indexSegments, type Point, pointSegmentDistance } from '@haunch/geometry';
import type { Finding } from '@haunch/model';
import { placeAt, shareBelow, stretchLength } from '../sweep/stretch.js';
import { atStretch, mm, type Rule } from './rule.js';

/** Places asked along a path, mm apart. */
const APART = 1;
/** A path this much farther from a wall than the cutter's radius does not touch it, mm. */
const CLEAR = 0.01;
/** A program's step of height, mm: a ten-thousandth of an inch. */
const HEIGHT_STEP = 0.00254;

/**
 * P20: a compression cutter touches no wanted wall before its tip is deeper than its up-cut length, since the up-cut
 * edges alone lift the top face's fibres.
 */
export const upCut: Rule = {
  id: 'P20',
  title: 'No wall touched by up-cut edges alone',
  unit: 'mm',
  judge(j) {
    const lengths = new Map(
      j.input.cutters.flatMap((c) => (c.upCutLength === null ? [] : [[c.number, c.upCutLength] as const])),
    );
    if (lengths.size === 0) return { findings: [], margin: null };
    const walls = j.items.flatMap(({ judged }) =>
      judged.contours.flatMap((c) => c.segments.map((s) => ({ s, id: c.id }))),
    );
    const index = indexSegments(walls.map((w) => w.s));
    const findings: Finding[] = [];
    let margin = Infinity;
    for (const s of j.stretches) {
      const length = s.tool === null ? (j.assumed?.upCutLength ?? undefined) : lengths.get(s.tool);
      if (length === undefined || s.drill || s.kind === 'rapid') continue;
      // What goes no deeper than edges may be off only grazes the face.
      const below = shareBelow(s, j.top - Math.max(HEIGHT_STEP, j.tolerance));
      if (below === null) continue;
      const steps = Math.max(1, Math.ceil(stretchLength(s) / APART));
      let worst: { readonly at: Point; readonly depth: number; readonly id: string } | null = null;
      for (let k = 0; k <= steps; k++) {
        const t = below[0] + ((below[1] - below[0]) * k) / steps;
        const p = placeAt(s, t);
        const depth = j.top - p.z;
        const touching = depth < length - HEIGHT_STEP;
        if (!touching && depth - length >= margin) continue;
        const reach = s.radius + CLEAR;
        let touched = -1;
        index.search({ minX: p.x - reach, minY: p.y - reach, maxX: p.x + reach, maxY: p.y + reach }, (w) => {
          if (pointSegmentDistance(walls[w]!.s, p) > reach) return false;
          touched = touched < 0 ? w : Math.min(touched, w);
          return false;
        });
        const wall = walls[touched];
        if (wall === undefined) continue;
        margin = Math.min(margin, depth - length);
        if (touching && (worst === null || depth < worst.depth)) worst = { at: p, depth, id: wall.id };
      }
      if (worst !== null)
        findings.push(
          atStretch(
            j,
            s,
            `The cutter touches ${worst.id} with its tip ${mm(worst.depth)} mm below the top; its up-cut edges reach ${mm(length)} mm.`,
            worst.at,
            length - worst.depth,
          ),
        );
    }
    return { findings, margin: margin === Infinity ? null : margin };
  },
};
