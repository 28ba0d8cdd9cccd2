import { type Box, circleRing, ringBounds, STAY } from '@haunch/geometry';
import { type Contour, movePart, type Part, partOnTable } from '@haunch/model';
import { boxesInRows, rowWidth } from './boxes-in-rows.js';
import type { Picture, PictureCurve, PictureGroup, PictureLabel } from './picture.js';

/** How a picture of parts is to be made. */
export interface PictureOfPartsOptions {
  readonly title?: string;
  /** True where the parts already lie as on the table (`partOnTable`, `placePart`); else they are turned over. */
  readonly placed?: boolean;
}

/** A letter's height as a share of the picture's width, and how wide a letter is at most by its height. */
const LETTER = 1 / 68;
const LETTER_WIDTH = 0.58;

const figure = (v: number): string => String(Number(v.toFixed(2)));

/** The name and size of a part as people read them. mm. */
export function partSize(p: Part): string {
  const b = ringBounds(p.outline.ring);
  const sides = [b.maxX - b.minX, b.maxY - b.minY, ...(p.thickness === null ? [] : [p.thickness])];
  return `${sides.map(figure).join(' × ')} mm`;
}

/**
 * Parts laid in rows for looking at, each seen from its cut face with its id, name and size under it. The
 * picture's coordinates are its own; nothing is to scale with a board.
 * @throws RangeError when there are no parts.
 */
export function pictureOfParts(parts: readonly Part[], options: PictureOfPartsOptions = {}): Picture {
  if (parts.length === 0) throw new RangeError('pictureOfParts: there are no parts');
  const lying = options.placed === true ? parts : parts.map(partOnTable);
  const bare = lying.map((p) => ringBounds(p.outline.ring));
  const letter = rowWidth(bare, 0) * LETTER;
  const lines = lying.map((p) => [p.name === p.id ? p.id : `${p.id} · ${p.name}`, partSize(p)]);
  const cells: Box[] = bare.map((b, i) => ({
    ...b,
    minY: b.minY - 3.6 * letter,
    maxX: Math.max(b.maxX, b.minX + Math.max(...lines[i]!.map((l) => l.length)) * letter * LETTER_WIDTH),
  }));
  const gap = 2.2 * letter;
  const { moves, bounds } = boxesInRows(cells, { gap, width: rowWidth(cells, gap) });
  const groups = lying.map((p, i): PictureGroup => {
    const moved = movePart({ ...STAY, dx: moves[i]!.x, dy: moves[i]!.y }, p);
    const b = ringBounds(moved.outline.ring);
    const labels = lines[i]!.map(
      (text, k): PictureLabel => ({
        at: { x: b.minX, y: b.minY - (1.2 + 1.35 * k) * letter },
        text,
        height: k === 0 ? letter : 0.8 * letter,
        align: 'start',
      }),
    );
    return { id: p.id, class: 'part', curves: curvesOfPart(moved), labels };
  });
  return { title: options.title ?? 'Parts', bounds, groups };
}

/** The curves of a part as a picture shows them: material first, then what is cut out of it. mm. */
export function curvesOfPart(p: Part): PictureCurve[] {
  const reliefs = (c: Contour): PictureCurve[] =>
    c.reliefs.map((r) => ({
      ring: circleRing(r.centre, r.radius),
      style: 'relief',
      title: `${c.id}: corner relief`,
    }));
  const face = (f: string): string => (f === p.cutFace ? '' : ', on the other face');
  return [
    { ring: p.outline.ring, style: 'outline', title: `${p.id} ${p.name}, ${partSize(p)}` },
    ...reliefs(p.outline),
    ...p.pockets.flatMap((c): PictureCurve[] => [
      { ring: c.ring, style: 'pocket', title: `${c.id}: recess ${figure(c.depth)} mm deep${face(c.face)}` },
      ...reliefs(c),
    ]),
    ...p.through.flatMap((c): PictureCurve[] => [
      { ring: c.ring, style: 'cut', title: `${c.id}: cut through` },
      ...reliefs(c),
    ]),
    ...p.holes.map(
      (h): PictureCurve => ({
        ring: circleRing(h.centre, h.diameter / 2),
        style: h.depth === 'through' ? 'cut' : 'hole',
        title: `${h.id}: hole Ø${figure(h.diameter)} mm, ${h.depth === 'through' ? 'through' : `${figure(h.depth)} mm deep`}${face(h.face)}`,
      }),
    ),
  ];
}
