import { type Diagnostic, fail, type Outcome, settle } from '@haunch/model';
import {
  badViewBox,
  emptySvg,
  malformedXml,
  notSvg,
  svgBackground,
  svgEncoding,
  svgLimit,
  truncatedSvg,
} from './diagnostics.js';
import type { Drawing, UnitName } from './drawing.js';
import { cluesOf } from './drawing-unit.js';
import { IDENTITY } from './svg-read/affine.js';
import { decodeSvg } from './svg-read/decode-svg.js';
import { rootLength } from './svg-read/element-content.js';
import { DEEPEST, readElementTree, type SvgElement, type XmlFault } from './svg-read/element-tree.js';
import { entitiesOfShapes, layersOfShapes, tableMap } from './svg-read/entities-of-shapes.js';
import { inUserUnits } from './svg-read/length.js';
import { refOf } from './svg-read/shape-runs.js';
import { type RootSize, userUnitOf } from './svg-read/user-unit.js';
import { readViewBox, type ViewBox } from './svg-read/view-box.js';
import { walkElements } from './svg-read/walk-elements.js';
import { isBackground, previewOf } from './svg-read/whole-picture.js';

/** How an SVG is to be read. */
export interface ReadSvgOptions {
  /** The name by which diagnostics call the file. */
  readonly file?: string;
  /** The unit that the file's user units are, whatever size it states. */
  readonly unit?: UnitName;
  /** Millimetres in a user unit (a unit of the root's viewBox), whatever size the file states. */
  readonly userUnit?: number;
}

/**
 * Reads an SVG picture (SVG 1.1 and 2) from its text or its bytes as `readDxf` reads a DXF: what it draws as
 * entities in mm on the 0.0001 grid, y turned up about the user origin, one layer a named group, dashed lines on
 * layers that are off. Curves become arcs and lines within 0.01 mm; those that stand for circles become true
 * arcs. What is not read is named once a type, never dropped in silence. Errors carry file and line; no number
 * that comes out is NaN or infinite, and no input makes it throw.
 * @throws RangeError when `userUnit` is not positive and finite, or stands beside `unit`.
 */
export function readSvg(source: string | Uint8Array, options: ReadSvgOptions = {}): Outcome<Drawing> {
  const { unit: givenUnit, userUnit } = options;
  if (userUnit !== undefined && !(userUnit > 0 && userUnit < Infinity))
    throw new RangeError(`readSvg: userUnit ${userUnit} must be positive`);
  if (userUnit !== undefined && givenUnit !== undefined)
    throw new RangeError('readSvg: give unit or userUnit, not both');
  const file = options.file ?? 'drawing.svg';
  const decoded = decodeSvg(source);
  if (decoded.kind === 'compressed') return fail(notSvg(file, 1, 'compressed'));
  const tree = readElementTree(decoded.text);
  if (!('root' in tree)) return fail(faultOf(file, tree, decoded.text));
  const { root } = tree;
  const diagnostics: Diagnostic[] = decoded.notUtf8 ? [svgEncoding(file)] : [];

  const boxText = root.attributes.get('viewBox');
  const box = boxText === undefined ? null : readViewBox(boxText);
  if (boxText !== undefined && box === null) return fail(badViewBox(file, refOf(root), boxText));
  const size = sizeOf(root, box);
  const page = box ?? pageOf(size);
  const contents = walkElements(root, file, {
    map: IDENTITY,
    width: page?.width ?? NO_PAGE,
    height: page?.height ?? NO_PAGE,
  });
  diagnostics.push(...contents.diagnostics);
  if (diagnostics.some((d) => d.level === 'error')) return { ok: false, diagnostics };

  const shapes = [...contents.shapes];
  if (page !== null && shapes.length > 1 && isBackground(shapes[0]!, page)) {
    diagnostics.push(svgBackground(file, refOf(shapes[0]!.element)));
    shapes.shift();
  }
  const given = { unit: givenUnit, userUnit };
  const { unit, stretch, diagnostics: doubts } = userUnitOf(size, cluesOf(previewOf(shapes)), given, file);
  diagnostics.push(...doubts);
  const toTable = tableMap(unit.factor, stretch);
  const { entities, diagnostics: found } = entitiesOfShapes(shapes, contents.words, toTable, file);
  diagnostics.push(...found);
  if (entities.length === 0) diagnostics.push(emptySvg(file));
  const version = root.attributes.get('version')?.trim() ?? '';
  return settle(
    {
      kind: 'drawing',
      file,
      version: version === '' ? 'unknown' : `SVG ${version.slice(0, 10)}`,
      unit,
      layers: layersOfShapes(shapes, entities),
      entities,
    },
    diagnostics,
  );
}

/** What per cent are of where the file states no page. */
const NO_PAGE = 100;

function sizeOf(root: SvgElement, box: ViewBox | null): RootSize {
  const preserve = root.attributes.get('preserveAspectRatio') ?? '';
  return {
    width: rootLength(root, 'width'),
    height: rootLength(root, 'height'),
    box,
    stretched: /^\s*(?:defer\s+)?none\b/.test(preserve),
    slice: /\bslice\b/.test(preserve),
  };
}

/** The page of a file without a viewBox, whose user units are then pixels. */
function pageOf({ width, height }: RootSize): ViewBox | null {
  const w = width && inUserUnits(width, 0, 0);
  const h = height && inUserUnits(height, 0, 0);
  return w && h ? { x: 0, y: 0, width: w, height: h } : null;
}

function faultOf(file: string, fault: XmlFault, text: string): Diagnostic {
  const head = text.slice(0, 200).trimStart();
  if (fault.kind === 'empty') return notSvg(file, 1, 'nothing');
  if (!head.startsWith('<'))
    return notSvg(
      file,
      1,
      head.startsWith('%PDF') ? 'pdf' : /^(?:0|999)\r?\n/.test(head) ? 'dxf' : 'other text',
    );
  switch (fault.kind) {
    case 'other root':
      return notSvg(file, fault.line, 'other xml');
    case 'malformed':
      return malformedXml(file, fault.line, fault.column, fault.says);
    case 'truncated':
      return truncatedSvg(file, fault.line, fault.open);
    case 'too deep':
      return svgLimit(
        file,
        { line: fault.line, handle: null },
        `elements lie more than ${DEEPEST} deep in each other`,
      );
  }
}
