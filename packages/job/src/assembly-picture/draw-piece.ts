import type { Box, Clip, Polygon } from '@haunch/geometry';
import { type WeightedLine, weighedLines } from './contour-lines.js';
import { extentAlong, type Solid } from './plate-solid.js';
import { along, dot, type Vec } from './vec.js';
import { seen, type View } from './view.js';
import { boxOf, facesTowards, facing, type VisibleFace, visibleFaces } from './visible-faces.js';
import { visibleLines } from './visible-lines.js';

/** What is seen of a piece: x right and y up, mm. */
export interface DrawnPiece {
  readonly faces: readonly VisibleFace[];
  readonly lines: readonly WeightedLine[];
  /** All that the piece covers. */
  readonly silhouette: readonly Polygon[];
  /** What it shades of the floor that it stands on; nothing where it hangs in the air or the floor is seen from below. */
  readonly shadow: readonly Polygon[];
  readonly box: Box;
}

/** The way of the light, which is nearly overhead: a shadow tells where the feet stand and hides nothing. */
const LIGHT: Vec = [-0.14, 0.2, -1];

/** Draws solids as they are seen; a piece that `stands` throws a shadow on its floor. */
export function drawPiece(view: View, solids: readonly Solid[], clip: Clip, stands: boolean): DrawnPiece {
  const towards = facesTowards(view, solids);
  const silhouette = clip.union(towards.flatMap((f) => f.loops));
  const shadow = stands && view.eye[2] > 0 ? floorShadow(view, solids, clip) : [];
  return {
    faces: visibleFaces(towards, clip),
    lines: weighedLines(visibleLines(view, solids, towards), towards),
    silhouette,
    shadow,
    box: boxOf([...silhouette, ...shadow].flat()),
  };
}

function floorShadow(view: View, solids: readonly Solid[], clip: Clip): Polygon[] {
  const floor = Math.min(...solids.map((s) => extentAlong(s, [0, 0, 1])[0]));
  const fall = (x: Vec): Vec => along(x, x[2] - floor, LIGHT);
  const loops = solids.flatMap((s) =>
    s.faces.flatMap((f) =>
      dot(f.normal, LIGHT) < 0 ? facing(f.loops.map((l) => l.map((x) => seen(view, fall(x))))) : [],
    ),
  );
  return clip.union(loops);
}
