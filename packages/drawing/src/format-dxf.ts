import { type Box, ringBounds } from '@haunch/geometry';
import type { DrawnLayer, DrawnSheet } from './drawn-sheet.js';
import { AC1015_ENTITIES, type EntityWriter, R12_ENTITIES } from './write/dxf-entities.js';
import { DxfLines } from './write/dxf-lines.js';
import { putAc1015Blocks, putAc1015Objects, putAc1015Tables, putR12Tables } from './write/dxf-tables.js';
import { asciiText, layerNames } from './write/name-text.js';

/** Handles below this one are those of tables and fixed entries. */
const FIRST_FREE_HANDLE = 0x100;

/** The comment by which a file of a version without $INSUNITS still states its unit; `readDxf` heeds it. */
const UNIT_COMMENT = 'Unit: mm';

/**
 * The text of a DXF file, ASCII with LF: `2000` is AC1015 with closed LWPOLYLINEs, handles and $INSUNITS 4,
 * `R12` is AC1009 with POLYLINE and VERTEX. Coordinates are written on the 0.0001 mm grid, bulges to 12
 * significant digits, so that they re-read to the same numbers. Same sheet, same bytes.
 * @throws RangeError for a number that is not finite, or a circle without a positive radius.
 */
export function formatDxf(sheet: DrawnSheet, options: { readonly version?: 'R12' | '2000' } = {}): string {
  const version = options.version ?? '2000';
  for (const c of sheet.circles)
    if (!(c.radius > 0)) throw new RangeError(`formatDxf: a circle of radius ${c.radius} cannot be drawn`);
  const { layers, nameOf } = layersOf(sheet);
  const body = new DxfLines(FIRST_FREE_HANDLE);
  if (version === 'R12') {
    putR12Tables(body, layers);
    putEntities(body, sheet, nameOf, R12_ENTITIES);
  } else {
    body.put([0, 'SECTION'], [2, 'CLASSES'], [0, 'ENDSEC']);
    putAc1015Tables(body, layers);
    putAc1015Blocks(body);
    putEntities(body, sheet, nameOf, AC1015_ENTITIES);
    putAc1015Objects(body);
  }
  const out = new DxfLines(FIRST_FREE_HANDLE);
  out.put([999, asciiText(sheet.title)], [999, UNIT_COMMENT]);
  putHeader(out, version, boundsOf(sheet), body.handle());
  return out.append(body).put([0, 'EOF']).text();
}

function layersOf(sheet: DrawnSheet): { layers: readonly DrawnLayer[]; nameOf: (layer: string) => string } {
  const colours = new Map<string, number>([['0', 7]]);
  for (const l of sheet.layers) colours.set(l.name, l.colour);
  for (const { layer } of [...sheet.curves, ...sheet.circles, ...sheet.texts])
    if (!colours.has(layer)) colours.set(layer, 7);
  const names = layerNames([...colours.keys()]);
  return {
    layers: [...colours].map(([name, colour]) => ({ name: names.get(name)!, colour })),
    nameOf: (layer) => names.get(layer)!,
  };
}

function putEntities(
  out: DxfLines,
  sheet: DrawnSheet,
  nameOf: (layer: string) => string,
  write: EntityWriter,
): void {
  out.put([0, 'SECTION'], [2, 'ENTITIES']);
  for (const c of sheet.curves) write.curve(out, nameOf(c.layer), c);
  for (const c of sheet.circles) write.circle(out, nameOf(c.layer), c);
  for (const t of sheet.texts) write.text(out, nameOf(t.layer), t);
  out.put([0, 'ENDSEC']);
}

function putHeader(out: DxfLines, version: 'R12' | '2000', b: Box, nextHandle: string): void {
  out.put([0, 'SECTION'], [2, 'HEADER'], [9, '$ACADVER'], [1, version === 'R12' ? 'AC1009' : 'AC1015']);
  if (version === '2000') {
    out.put([9, '$DWGCODEPAGE'], [3, 'ANSI_1252'], [9, '$HANDSEED'], [5, nextHandle]);
    out.put([9, '$INSUNITS'], [70, 4], [9, '$MEASUREMENT'], [70, 1]);
  }
  out.put([9, '$EXTMIN']).point(b.minX, b.minY, 0);
  out.put([9, '$EXTMAX']).point(b.maxX, b.maxY, 0);
  out.put([0, 'ENDSEC']);
}

function boundsOf(sheet: DrawnSheet): Box {
  const boxes: Box[] = [
    ...sheet.curves.map((c) => ringBounds(c.ring)),
    ...sheet.circles.map(({ centre: { x, y }, radius: r }) => ({
      minX: x - r,
      minY: y - r,
      maxX: x + r,
      maxY: y + r,
    })),
    ...sheet.texts.map(({ at: { x, y } }) => ({ minX: x, minY: y, maxX: x, maxY: y })),
  ];
  return boxes.reduce(
    (a, b) => ({
      minX: Math.min(a.minX, b.minX),
      minY: Math.min(a.minY, b.minY),
      maxX: Math.max(a.maxX, b.maxX),
      maxY: Math.max(a.maxY, b.maxY),
    }),
    boxes[0] ?? { minX: 0, minY: 0, maxX: 0, maxY: 0 },
  );
}
