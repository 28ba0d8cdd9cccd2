import { type Diagnostic, type Outcome, settle } from '@haunch/model';
import { emptyDrawing, noSize } from './diagnostics.js';
import type { Drawing, Entity, UnitName } from './drawing.js';
import { unitOfDrawing } from './drawing-unit.js';
import { readRecords } from './dxf/read-records.js';
import { scaleEntity } from './scale-entity.js';

/** How a DXF is to be read. */
export interface ReadDxfOptions {
  /** The name by which diagnostics call the file. */
  readonly file?: string;
  /** The unit that the file is drawn in, whatever its header says. */
  readonly unit?: UnitName;
}

/**
 * Reads a DXF in text or binary form, release 9 to 2018 (DXF reference), from its text or its bytes. Coordinates
 * come out in mm on the 0.0001 grid, entities seen from behind (extrusion 0, 0, −1) turned over, blocks put in
 * place. Ellipses and splines stay what they are; `findParts` follows them with lines and arcs. What is not read
 * is never dropped in silence: one warning a type. Errors carry file and line, of a binary file the line that the
 * group would have in the text form. Never throws on any input; no number that comes out is NaN or infinite.
 */
export function readDxf(source: string | Uint8Array, options: ReadDxfOptions = {}): Outcome<Drawing> {
  const file = options.file ?? 'drawing.dxf';
  const contents = readRecords(source, file);
  const diagnostics: Diagnostic[] = [...contents.diagnostics];
  if (diagnostics.some((d) => d.level === 'error')) return { ok: false, diagnostics };

  const { unit, diagnostics: doubts } = unitOfDrawing(contents.entities, contents, options.unit, file);
  diagnostics.push(...doubts);
  const entities: Entity[] = [];
  const vanished: Entity[] = [];
  for (const e of contents.entities) {
    if (scaleEntity(e, unit.factor)) entities.push(e);
    else vanished.push(e);
  }
  if (vanished.length > 0)
    diagnostics.push(noSize(file, 'tiny', { count: vanished.length, first: vanished[0]! }));
  if (entities.length === 0) diagnostics.push(emptyDrawing(file));
  return settle(
    { kind: 'drawing', file, version: contents.version, unit, layers: contents.layers, entities },
    diagnostics,
  );
}
