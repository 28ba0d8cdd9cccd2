import { type Box, circleRing, type Point, type Ring, ringBounds } from '@haunch/geometry';
import { plainEntities } from './curves/plain-entities.js';
import type { Drawing } from './drawing.js';
import type { DrawingImport } from './import-drawing.js';
import { labelPlace } from './label-place.js';
import { entityStroke } from './parts/entity-stroke.js';
import { REPAIR_KINDS, type Repair, type RepairKind, type Stroke } from './parts/repair.js';
import type { CurveStyle, Picture, PictureCurve, PictureGroup } from './picture.js';
import { curvesOfPart, pictureOfParts } from './picture-of-parts.js';

/** A mark's radius, and the height of a letter, as shares of the picture's greater side. */
const MARK = 1 / 280;
const LETTER = 1 / 90;
/** Repairs that change nothing that one would look for in a picture: no marks. */
const UNMARKED: ReadonlySet<RepairKind> = new Set<RepairKind>(['curve', 'straight', 'shared']);

const ringOf = (s: Stroke): Ring => ({ vertices: s.vertices });

function curvesOf(strokes: readonly Stroke[], style: CurveStyle, title: string): PictureCurve[] {
  return strokes
    .filter((s) => s.vertices.length > 1)
    .map((s) => ({ ring: ringOf(s), style, title, ...(s.closed ? {} : { open: true }) }));
}

/**
 * A drawing as it was drawn, every layer a group; curves as lines and arcs within 0.01 mm. Null where nothing is
 * drawn.
 */
export function pictureOfDrawing(drawing: Drawing): Picture | null {
  const layers = new Map<string, PictureCurve[]>();
  for (const e of plainEntities(drawing.entities).entities) {
    const stroke = entityStroke(e);
    if (stroke === null) continue;
    const own = layers.get(e.layer) ?? [];
    layers.set(e.layer, own);
    own.push(...curvesOf([stroke], 'drawn', `line ${e.line}, layer ${e.layer}`));
  }
  const groups = [...layers].map(
    ([layer, curves], k): PictureGroup => ({
      id: `layer-${k + 1}-${layer}`,
      class: 'layer',
      curves,
      labels: [],
    }),
  );
  const bounds = boundsOf(groups);
  return bounds === null ? null : { title: `${drawing.file}, as drawn`, bounds, groups };
}

/**
 * What a drawing was read as: its parts where they lie with their ids, what was left out, what was not understood,
 * and a mark with the repair's name at each place that was repaired. Parts that are drawn over each other on layers
 * of their own are set apart, without marks. Null where nothing was read.
 */
export function pictureOfImport(read: DrawingImport): Picture | null {
  // Parts that were drawn over each other are only to be seen beside each other.
  if (read.parts.length > 0 && read.diagnostics.some((d) => d.code === 'read/by-layer'))
    return pictureOfParts(read.parts, { title: `${read.file}, as read, set apart`, placed: true });
  const leftOut = read.leftOut.flatMap((l) => curvesOf(l.strokes, 'left-out', `${l.why}, layer ${l.layer}`));
  const unclear = read.unclear.flatMap((u) => curvesOf(u.strokes, 'unclear', u.code));
  const solid = read.parts.map(
    (p): PictureGroup => ({ id: p.id, class: 'part', curves: curvesOfPart(p), labels: [] }),
  );
  const gone = read.repairs.filter((r) => r.after.length === 0 && r.kind !== 'double');
  const dropped = gone.flatMap((r) => curvesOf(r.before, 'left-out', titleOf(r)));
  const plain: PictureGroup[] = [
    ...solid,
    { id: 'left-out', curves: [...leftOut, ...dropped], labels: [] },
    { id: 'unclear', curves: unclear, labels: [] },
  ];
  const bounds = boundsOf(plain);
  if (bounds === null) return null;
  const size = Math.max(bounds.maxX - bounds.minX, bounds.maxY - bounds.minY);
  const marks = read.repairs
    .filter((r) => !UNMARKED.has(r.kind))
    .map((r): PictureCurve => ({ ring: circleRing(r.at, size * MARK), style: 'repair', title: titleOf(r) }));
  const labels = read.parts.map((p) => {
    const { at, room } = labelPlace(p);
    return { at, text: p.id, height: Math.min(size * LETTER, Math.max(room, size * LETTER * 0.3)) };
  });
  return {
    title: `${read.file}, as read`,
    bounds,
    groups: [...plain, { id: 'repairs', curves: marks, labels }],
  };
}

const figure = (v: number): string => String(Number(v.toFixed(4)));

const titleOf = (r: Repair): string => `${r.id}: ${REPAIR_KINDS[r.kind]}, ${figure(r.deviation)} mm`;

/** The box round all curves, a little widened where it has no size. */
function boundsOf(groups: readonly PictureGroup[]): Box | null {
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  const see = (p: Point): void => {
    minX = Math.min(minX, p.x);
    minY = Math.min(minY, p.y);
    maxX = Math.max(maxX, p.x);
    maxY = Math.max(maxY, p.y);
  };
  for (const g of groups)
    for (const c of g.curves) {
      // Of an open curve the closing chord adds nothing to its box.
      const b = ringBounds(c.open === true ? openEnded(c.ring) : c.ring);
      if (!(b.minX <= b.maxX)) continue;
      see({ x: b.minX, y: b.minY });
      see({ x: b.maxX, y: b.maxY });
    }
  if (minX > maxX) return null;
  const least = Math.max(maxX - minX, maxY - minY, 1e-3) / 50;
  if (maxX - minX < least) [minX, maxX] = [minX - least, maxX + least];
  if (maxY - minY < least) [minY, maxY] = [minY - least, maxY + least];
  return { minX, minY, maxX, maxY };
}

const openEnded = (r: Ring): Ring => ({
  vertices: r.vertices.map((v, i) => (i === r.vertices.length - 1 ? { ...v, bulge: 0 } : v)),
});
