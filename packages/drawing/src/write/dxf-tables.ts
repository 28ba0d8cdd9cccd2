import type { DrawnLayer } from '../drawn-sheet.js';
import { MODEL_SPACE } from './dxf-entities.js';
import type { DxfLines } from './dxf-lines.js';

const PAPER_SPACE = '1B';
type Groups = readonly (readonly [number, string | number])[];

/** The tables of R12: line types, layers, one text style. */
export function putR12Tables(out: DxfLines, layers: readonly DrawnLayer[]): void {
  out.put([0, 'SECTION'], [2, 'TABLES']);
  out.put([0, 'TABLE'], [2, 'LTYPE'], [70, 1]);
  out.put([0, 'LTYPE'], [2, 'CONTINUOUS'], [70, 64], [3, 'Solid line'], [72, 65], [73, 0]).length(40, 0);
  out.put([0, 'ENDTAB'], [0, 'TABLE'], [2, 'LAYER'], [70, layers.length]);
  for (const l of layers) out.put([0, 'LAYER'], [2, l.name], [70, 0], [62, l.colour], [6, 'CONTINUOUS']);
  out.put([0, 'ENDTAB'], [0, 'TABLE'], [2, 'STYLE'], [70, 1]);
  out.put([0, 'STYLE'], [2, 'STANDARD'], [70, 0]).length(40, 0).length(41, 1).length(50, 0);
  out.put([71, 0]).length(42, 2.5).put([3, 'txt'], [4, '']);
  out.put([0, 'ENDTAB'], [0, 'ENDSEC']);
}

/**
 * The nine tables that AC1015 asks for, each with its handle, its entries with owner and subclass markers (DXF
 * reference, "TABLES section"). Names such as the application id are words of the format.
 */
export function putAc1015Tables(out: DxfLines, layers: readonly DrawnLayer[]): void {
  const table = (name: string, handle: string, count: number, extra: Groups = []) =>
    out.put([0, 'TABLE'], [2, name], [5, handle], [330, 0], [100, 'AcDbSymbolTable'], [70, count], ...extra);
  const entry = (type: string, owner: string, subclass: string, handle = out.handle(), code = 5) =>
    out.put([0, type], [code, handle], [330, owner], [100, 'AcDbSymbolTableRecord'], [100, subclass]);
  const close = () => out.put([0, 'ENDTAB']);

  out.put([0, 'SECTION'], [2, 'TABLES']);
  table('VPORT', '8', 0);
  close();
  table('LTYPE', '5', 3);
  for (const [name, handle, text] of [
    ['ByBlock', '14', ''],
    ['ByLayer', '15', ''],
    ['Continuous', '16', 'Solid line'],
  ] as const) {
    entry('LTYPE', '5', 'AcDbLinetypeTableRecord', handle);
    out.put([2, name], [70, 0], [3, text], [72, 65], [73, 0]).length(40, 0);
  }
  close();
  table('LAYER', '2', layers.length);
  for (const l of layers) {
    if (l.name === '0') entry('LAYER', '2', 'AcDbLayerTableRecord', '10');
    else entry('LAYER', '2', 'AcDbLayerTableRecord');
    out.put([2, l.name], [70, 0], [62, l.colour], [6, 'Continuous']);
  }
  close();
  table('STYLE', '3', 1);
  entry('STYLE', '3', 'AcDbTextStyleTableRecord', '11').put([2, 'Standard'], [70, 0]);
  out.length(40, 0).length(41, 1).length(50, 0).put([71, 0]).length(42, 2.5).put([3, 'txt'], [4, '']);
  close();
  table('VIEW', '6', 0);
  close();
  table('UCS', '7', 0);
  close();
  table('APPID', '9', 1);
  entry('APPID', '9', 'AcDbRegAppTableRecord', '12').put([2, 'ACAD'], [70, 0]);
  close();
  table('DIMSTYLE', 'A', 1, [[100, 'AcDbDimStyleTable']]);
  entry('DIMSTYLE', 'A', 'AcDbDimStyleTableRecord', '27', 105).put([2, 'Standard'], [70, 0]);
  close();
  table('BLOCK_RECORD', '1', 2);
  for (const [name, handle] of SPACES)
    entry('BLOCK_RECORD', '1', 'AcDbBlockTableRecord', handle).put([2, name]);
  close();
  out.put([0, 'ENDSEC']);
}

const SPACES = [
  ['*Model_Space', MODEL_SPACE],
  ['*Paper_Space', PAPER_SPACE],
] as const;

/** The blocks of model space and paper space, which hold nothing themselves. */
export function putAc1015Blocks(out: DxfLines): void {
  out.put([0, 'SECTION'], [2, 'BLOCKS']);
  for (const [name, owner] of SPACES) {
    const paper: Groups = owner === PAPER_SPACE ? [[67, 1]] : [];
    out.put([0, 'BLOCK'], [5, out.handle()], [330, owner], [100, 'AcDbEntity'], ...paper, [8, '0']);
    out.put([100, 'AcDbBlockBegin'], [2, name], [70, 0]).point(0, 0, 0).put([3, name], [1, '']);
    out.put([0, 'ENDBLK'], [5, out.handle()], [330, owner], [100, 'AcDbEntity'], ...paper, [8, '0']);
    out.put([100, 'AcDbBlockEnd']);
  }
  out.put([0, 'ENDSEC']);
}

/** The root dictionary with its one entry that must be there. */
export function putAc1015Objects(out: DxfLines): void {
  out.put([0, 'SECTION'], [2, 'OBJECTS']);
  out.put(
    [0, 'DICTIONARY'],
    [5, 'C'],
    [330, 0],
    [100, 'AcDbDictionary'],
    [281, 1],
    [3, 'ACAD_GROUP'],
    [350, 'D'],
  );
  out.put([0, 'DICTIONARY'], [5, 'D'], [330, 'C'], [100, 'AcDbDictionary'], [281, 1]);
  out.put([0, 'ENDSEC']);
}
