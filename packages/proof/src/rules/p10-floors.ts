import { pointInRing } from '@haunch/geometry';
import type { Finding } from '@haunch/model';
import { HEIGHT_ROUNDING } from '../height-rounding.js';
import { measureFloor } from '../joints/measure-floor.js';
import { lowest } from '../sweep/stretch.js';
import { nearestStretch } from '../tracks-nearest.js';
import { atStretch, flat, mm, type Rule } from './rule.js';

/** P10: recesses and blind holes are as deep as wanted, from the sheet's top. */
export const floors: Rule = {
  id: 'P10',
  title: 'Recesses and blind holes have their depth',
  unit: 'mm',
  judge(j) {
    const findings: Finding[] = [];
    let worst = 0;
    let any = false;
    const borne = Math.max(j.tolerance, HEIGHT_ROUNDING);
    for (const { judged } of j.items)
      for (const contour of judged.contours) {
        if (contour.floor === null) continue;
        const through = j.stretches.find(
          (s) => s.point > 0 && lowest(s) < j.bottom && pointInRing(contour.ring, s.to) !== 'outside',
        );
        if (through !== undefined)
          findings.push(
            atStretch(j, through, `The drill's point comes out of the other face in ${contour.id}.`),
          );
        const depth = measureFloor(j.asCut, contour, judged.contours[0]!.ring);
        if (depth === null) continue;
        any = true;
        const wanted = j.top - contour.floor;
        const off = depth.most - wanted > wanted - depth.least ? depth.most - wanted : depth.least - wanted;
        worst = Math.max(worst, Math.abs(off));
        if (Math.abs(off) <= borne + 1e-6) continue;
        const at = middleOf(contour.ring.vertices);
        const message =
          depth.least <= 0 && off < 0
            ? `${contour.id} of ${judged.item.item} is not cut to its floor anywhere or in part; ${mm(wanted)} mm are wanted.`
            : `${contour.id} of ${judged.item.item} is ${mm(off > 0 ? depth.most : depth.least)} mm deep; ${mm(wanted)} mm are wanted.`;
        const s = nearestStretch(j.stretches, at, j.top);
        const known = j.place.at(at, { item: judged.item.item, contour: contour.id });
        findings.push({
          ...(s
            ? atStretch(j, s, message, at, Math.abs(off))
            : { message, at: flat(at), amount: Math.abs(off) }),
          ...known,
        });
      }
    return { findings, margin: any ? borne - worst : null };
  },
};

const middleOf = (points: readonly { readonly x: number; readonly y: number }[]) => ({
  x: points.reduce((sum, p) => sum + p.x, 0) / points.length,
  y: points.reduce((sum, p) => sum + p.y, 0) / points.length,
});
