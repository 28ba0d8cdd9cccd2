import type { DrawnCircle, DrawnCurve, DrawnText } from '../drawn-sheet.js';
import type { DxfLines } from './dxf-lines.js';
import { asciiText } from './name-text.js';

/** Writes the entities of one version of the format. Layers are named as the file names them. */
export interface EntityWriter {
  curve(out: DxfLines, layer: string, c: DrawnCurve): void;
  circle(out: DxfLines, layer: string, c: DrawnCircle): void;
  text(out: DxfLines, layer: string, t: DrawnText): void;
}

/** The handle of the block record that owns model space. */
export const MODEL_SPACE = '1F';

const extent = (out: DxfLines, code: number, value: number | undefined): void => {
  if (value !== undefined && value !== 0) out.length(code, value);
};

/** R12: POLYLINE with VERTEX records, no handles. */
export const R12_ENTITIES: EntityWriter = {
  curve(out, layer, c) {
    out.put([0, 'POLYLINE'], [8, layer]);
    extent(out, 39, c.depth);
    out
      .put([66, 1])
      .point(0, 0, c.elevation ?? 0)
      .put([70, 1]);
    for (const v of c.ring.vertices) {
      out.put([0, 'VERTEX'], [8, layer]).point(v.x, v.y, c.elevation ?? 0);
      if (v.bulge !== 0) out.bulge(42, v.bulge);
    }
    out.put([0, 'SEQEND'], [8, layer]);
  },
  circle(out, layer, c) {
    out.put([0, 'CIRCLE'], [8, layer]);
    extent(out, 39, c.depth);
    out.point(c.centre.x, c.centre.y, c.elevation ?? 0).length(40, c.radius);
  },
  text(out, layer, t) {
    out
      .put([0, 'TEXT'], [8, layer])
      .point(t.at.x, t.at.y, 0)
      .length(40, t.height)
      .put([1, asciiText(t.text)]);
  },
};

const begin = (out: DxfLines, type: string, layer: string, subclass: string): void => {
  out.put([0, type], [5, out.handle()], [330, MODEL_SPACE], [100, 'AcDbEntity'], [8, layer], [100, subclass]);
};

/** 2000 (AC1015): LWPOLYLINE, with handles, owners and subclass markers. */
export const AC1015_ENTITIES: EntityWriter = {
  curve(out, layer, c) {
    begin(out, 'LWPOLYLINE', layer, 'AcDbPolyline');
    out.put([90, c.ring.vertices.length], [70, 1]);
    extent(out, 38, c.elevation);
    extent(out, 39, c.depth);
    for (const v of c.ring.vertices) {
      out.point(v.x, v.y);
      if (v.bulge !== 0) out.bulge(42, v.bulge);
    }
  },
  circle(out, layer, c) {
    begin(out, 'CIRCLE', layer, 'AcDbCircle');
    extent(out, 39, c.depth);
    out.point(c.centre.x, c.centre.y, c.elevation ?? 0).length(40, c.radius);
  },
  text(out, layer, t) {
    begin(out, 'TEXT', layer, 'AcDbText');
    out
      .point(t.at.x, t.at.y, 0)
      .length(40, t.height)
      .put([1, asciiText(t.text)], [100, 'AcDbText']);
  },
};
