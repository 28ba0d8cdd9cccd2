import { type Point, type Ring, snap } from '@haunch/geometry';
import type { Pocket } from '@haunch/model';

/** A text to be engraved in an item, where it was found room. Board coordinates, mm. */
export interface Ticket {
  readonly item: string;
  readonly text: string;
  /** The cutter's id. */
  readonly cutter: string;
  /** How deep below the sheet's top. */
  readonly depth: number;
  /** The way of the cutter's middle, stroke by stroke. */
  readonly strokes: readonly (readonly Point[])[];
}

/** What is engraved in every part. mm */
export interface Engraving {
  readonly cutter: string;
  readonly depth: number;
  /** Of the letters; ten times the cutter's width when left out. */
  readonly height?: number;
  /** The text of single items; the item's own name for all others. An empty text leaves an item without. */
  readonly texts?: Readonly<Record<string, string>>;
}

/** Where a stretch of a cutter of radius `r` goes from `a` to `b`: two lines and two half circles, counter-clockwise. */
function grooveRing(a: Point, b: Point, r: number, id: string): Ring {
  const l = Math.hypot(b.x - a.x, b.y - a.y);
  const n = { x: (-(b.y - a.y) / l) * r, y: ((b.x - a.x) / l) * r };
  const at = (p: Point, side: 1 | -1) => ({ x: snap(p.x + side * n.x), y: snap(p.y + side * n.y) });
  const corners = [at(a, -1), at(b, -1), at(b, 1), at(a, 1)];
  return { vertices: corners.map((p, i) => ({ ...p, bulge: i % 2, tag: `${id}/e${i}` })) };
}

/**
 * The grooves of a ticket as recesses of its part, one for each straight stretch: what a proof must find and nothing more. They overlap
 * where strokes meet. `diameter` is the cutter's, `face` the one that lies up.
 */
export const ticketPockets = (t: Ticket, diameter: number, face: Pocket['face']): Pocket[] =>
  t.strokes.flatMap((stroke, s) =>
    stroke.slice(1).map((b, k): Pocket => {
      const id = `${t.item}.ticket/${s + 1}.${k + 1}`;
      const ring = grooveRing(stroke[k]!, b, diameter / 2, id);
      return { id, ring, bare: ring, reliefs: [], face, depth: t.depth };
    }),
  );
