import { type Outcome, type Part, settle } from '@haunch/model';
import type { Drawing } from './drawing.js';
import { type FindPartsOptions, importDrawing } from './import-drawing.js';

/**
 * Finds the flat parts in a drawing, as `importDrawing` does; refused where anything that could be a part was not
 * understood.
 * @throws RangeError when an option is not positive and finite.
 */
export function findParts(drawing: Drawing, options: FindPartsOptions = {}): Outcome<Part[]> {
  const { parts, diagnostics } = importDrawing(drawing, options);
  return settle([...parts], diagnostics);
}
