import { distance, type Point } from '@haunch/geometry';
import type { Contour, Diagnostic } from '@haunch/model';
import type { RouterPath } from './choose-router.js';
import { contourPath, type Side } from './contour-path.js';
import * as say from './diagnostics.js';
import { line, type Path } from './path.js';
import { type PlanContext, where } from './plan-context.js';
import { roughContour } from './rough-contour.js';

/** How a contour is roughed before the walls of it that another plate touches are finished at full depth. */
export interface Finishing {
  /** What roughing leaves on those walls, mm. */
  readonly stock: number;
  readonly rough: RouterPath;
}

/** A router's path round a contour, which is the finishing path where there is one. */
export interface FinishedPath extends RouterPath {
  readonly finishing?: Finishing;
}

/**
 * A path with its roughing: none where nothing mates, where no stock is wanted, or where the contour is too narrow for stock on its
 * walls, of which the note tells. `mouths` are edges across slots that are cut already: the path goes there as along a mating wall.
 */
export function withFinishing(
  c: PlanContext,
  contour: Contour,
  r: RouterPath,
  side: Side,
  mouths: ReadonlySet<string> = new Set(),
): { readonly r: FinishedPath; readonly notes: readonly Diagnostic[] } {
  const stock = c.finishStock;
  const mates = r.bare.vertices.some((v) => c.mating.has(v.tag!));
  if (!(stock > 0) || !mates) return { r, notes: [] };
  const roughed = roughContour(contour, side, new Set([...c.mating, ...mouths]), stock);
  const path =
    roughed === undefined
      ? { why: 'its edges do not meet again when they are moved' }
      : contourPath(roughed, side, r.cutter.diameter / 2, c.direction);
  return 'why' in path
    ? { r, notes: [say.noFinishing(where(c, contour.id), stock, path.why)] }
    : {
        r: {
          ...r,
          finishing: {
            stock,
            rough: { ...path, path: byCorners(path.path, r.path, contour), cutter: r.cutter },
          },
        },
        notes: [],
      };
}

/** Into its reliefs a roughing path goes over the corners of the finishing path: slantwise it would touch the walls beside them. */
function byCorners(rough: Path, finishing: Path, { reliefs }: Contour): Path {
  const centres = new Set(reliefs.map((f) => f.centre));
  const corners = new Map(finishing.flatMap((s) => (centres.has(s.to) ? [[s.to, s.from] as const] : [])));
  return rough.flatMap((s): Path => {
    const [into, back] = [corners.get(s.to), corners.get(s.from)];
    const via = into ?? back;
    return via === undefined || onWay(s, via) ? [s] : [line(s.from, via), line(via, s.to)];
  });
}

/** Whether a place lies on the way from one end of a stretch to the other. */
const onWay = ({ from, to }: Path[number], p: Point): boolean =>
  distance(from, p) + distance(p, to) < distance(from, to) + 1e-6;

/** What a workingstep says of its finishing pass. */
export const finishOf = ({ finishing }: FinishedPath): { readonly finish?: { readonly stock: number } } =>
  finishing === undefined ? {} : { finish: { stock: finishing.stock } };
