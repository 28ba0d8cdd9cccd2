import { pointInRing, ringBounds, STAY, snap } from '@haunch/geometry';
import { movePart, type Part, partOnTable } from '@haunch/model';
import { boxesInRows, rowWidth } from './boxes-in-rows.js';
import type { DrawnCircle, DrawnCurve, DrawnLayer, DrawnSheet, DrawnText } from './drawn-sheet.js';
import { labelPlace } from './label-place.js';

/** How parts are to be drawn on a sheet. */
export interface SheetOfPartsOptions {
  readonly title?: string;
  /** True where the parts already lie as on the table (`partOnTable`, `placePart`); else they are turned over. */
  readonly placed?: boolean;
  /** `as they lie` keeps every part's own coordinates; `rows` sets them beside each other. */
  readonly arrange?: 'as they lie' | 'rows';
  /** Distance between parts in rows, mm. */
  readonly gap?: number;
}

/** Greatest height of a name, mm, and what share of the room round it that it may take. */
const NAME_HEIGHT = 12;
const NAME_SHARE = 0.5;
const GAP = 20;
/** Colour numbers by what is on the layer; a part's own layer is black or white. */
const COLOURS = { part: 7, pocket: 5, hole: 3, under: 6, name: 8 } as const;

/**
 * Parts as a drawing, each seen from its cut face: outline, through cuts and through holes on a layer named by
 * the part's id, the outline carrying the thickness (group 39); recesses on `<part>.pocket` and blind holes on
 * `<part>.hole` at elevation −depth (38) with their depth (39), those of the other face on `<part>.under`; the
 * name as text in the material on `<part>.name`. `findParts` of it gives the same parts again.
 */
export function sheetOfParts(parts: readonly Part[], options: SheetOfPartsOptions = {}): DrawnSheet {
  const lying = options.placed === true ? parts : parts.map(partOnTable);
  const gap = options.gap ?? GAP;
  const boxes = lying.map((p) => ringBounds(p.outline.ring));
  const rows = options.arrange === 'rows' ? boxesInRows(boxes, { gap, width: rowWidth(boxes, gap) }) : null;
  const layers: DrawnLayer[] = [];
  const curves: DrawnCurve[] = [];
  const circles: DrawnCircle[] = [];
  const texts: DrawnText[] = [];
  const layer = (name: string, colour: number): string => {
    if (!layers.some((l) => l.name === name)) layers.push({ name, colour });
    return name;
  };
  lying.forEach((lie, i) => {
    const move = rows?.moves[i];
    const p = move === undefined ? lie : movePart({ ...STAY, dx: move.x, dy: move.y }, lie);
    const own = layer(p.id, COLOURS.part);
    curves.push({
      layer: own,
      ring: p.outline.ring,
      ...(p.thickness === null ? {} : { depth: p.thickness }),
    });
    for (const c of p.through) curves.push({ layer: own, ring: c.ring });
    for (const c of p.pockets) {
      const on =
        c.face === p.cutFace
          ? layer(`${p.id}.pocket`, COLOURS.pocket)
          : layer(`${p.id}.under`, COLOURS.under);
      curves.push({ layer: on, ring: c.ring, elevation: -c.depth, depth: c.depth });
    }
    for (const h of p.holes) {
      const round = { centre: h.centre, radius: h.diameter / 2 };
      if (h.depth === 'through') circles.push({ layer: own, ...round });
      else {
        const on =
          h.face === p.cutFace ? layer(`${p.id}.hole`, COLOURS.hole) : layer(`${p.id}.under`, COLOURS.under);
        circles.push({ layer: on, ...round, elevation: -h.depth, depth: h.depth });
      }
    }
    if (p.name.trim() !== '') texts.push({ layer: layer(`${p.id}.name`, COLOURS.name), ...nameText(p) });
  });
  return { title: options.title ?? 'Parts', layers, curves, circles, texts };
}

function nameText(p: Part): { at: { x: number; y: number }; height: number; text: string } {
  const { at, room } = labelPlace(p);
  const height = Math.max(1, snap(Math.min(NAME_HEIGHT, room * NAME_SHARE)));
  // Letters are about two thirds as wide as high; the text is set about the place where that stays inside.
  const start = { x: snap(at.x - (p.name.length * height) / 3), y: snap(at.y - height / 2) };
  const inside = pointInRing(p.outline.ring, start) === 'inside';
  return { at: inside ? start : { x: snap(at.x), y: snap(at.y) }, height, text: p.name };
}
